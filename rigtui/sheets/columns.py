"""How wide the columns of a table are: narrow ones get what they need, wide ones share the rest."""

from __future__ import annotations

from collections.abc import Sequence


def share_out(room: float, wanted: Sequence[float], needed: Sequence[float]) -> list[float]:
    """Give each column its width.

    Args:
        room: Width for all columns together.
        wanted: Width at which nothing in a column is broken over lines.
        needed: Width at which no word in it is broken, at most `wanted`.

    Returns:
        A width each: `wanted` if all fit; else at least `needed` if that fits; else less for the
        widest. Their sum is at most `room`.
    """
    if sum(wanted) <= room:
        return list(wanted)
    least = [min(pair) for pair in zip(wanted, needed)]
    if sum(least) > room:
        return _filled(room, least)
    more = _filled(room - sum(least), [want - need for want, need in zip(wanted, least)])
    return [need + extra for need, extra in zip(least, more)]


def _filled(room: float, wishes: Sequence[float]) -> list[float]:
    """Meet small wishes whole; of the rest, large ones get more, if not as much more as they want.

    Shares go by the square root: in proportion, one long note would starve all other columns; in
    equal parts, it would run on for lines beside columns that have room to spare.
    """
    given = [0.0] * len(wishes)
    weights = [wish**0.5 for wish in wishes]
    left = sum(weights)
    for at in sorted(range(len(wishes)), key=lambda at: wishes[at]):
        given[at] = min(wishes[at], room * weights[at] / left) if left > 0 else 0.0
        room -= given[at]
        left -= weights[at]
    return given
