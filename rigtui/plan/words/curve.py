"""What a curve comes to, in sentences."""

from __future__ import annotations

from collections.abc import Sequence

from rigtui.model.text import count
from rigtui.plan.insight.points import Curve, Point

_WORDS = {
    "loops": ("{}", "loop", "loops"),
    "memories": ("{}", "memory", "memories"),
    "bank_size": ("banks of {}", "switch", "switches"),
}
_MOST_STEPS = 6


def because(kind: str, point: Point) -> str:
    """Say why a switcher needs more moves than a smaller one; "" where it does not."""
    small, large = point.better, point.switcher
    if small is None:
        return ""
    if kind == "memories":
        return f"{count(large.banks, 'bank')} instead of {small.banks} make the way round longer"
    rest = large.memories % large.bank_size
    if rest:
        return f"the last of its {count(large.banks, 'bank')} has room for {rest} only"
    return f"its {count(large.banks, 'bank')} part the presets otherwise"


def sentence(curve: Curve) -> str:
    """Say what a curve comes to: first what the switcher at hand can do, then what others could."""
    kind, before, points = curve.kind, curve.moves_before, curve.points
    own = next((point for point in points if point.now and point.moves is not None), None)
    said = _steps(kind, before, points) if own is None else _beside(kind, before, own, points)
    worse = next((point for point in points if point.better is not None), None)
    if worse is not None:
        said.append(
            f"more is not always better: with {_size(kind, worse.value)}, {because(kind, worse)}"
        )
    return "; ".join(said)


def _size(kind: str, value: int) -> str:
    form, single, many = _WORDS[kind]
    return form.format(count(value, single, many))


def _beside(kind: str, before: int, own: Point, points: Sequence[Point]) -> list[str]:
    """What other sizes would do, beside the one that the player has."""
    assert own.moves is not None
    has = _size(kind, own.value)
    saved = before - own.moves
    if saved > 0:
        said = [f"with the {has} that you have, a plan saves {count(saved, 'move')}"]
    else:
        said = [f"with the {has} that you have, no plan was found that saves anything"]
    enough = next(point for point in points if point.moves is not None and point.moves <= own.moves)
    if enough.value < own.value:
        said.append(f"{_size(kind, enough.value)} would do as well")
    more, least = [], own.moves
    for point in points:
        if point.value > own.value and point.moves is not None and point.moves < least:
            more.append((point.value, own.moves - point.moves))
            least = point.moves
    if not more:
        said.append("more would save nothing")
    for value, gain in more[:_MOST_STEPS]:
        said.append(f"{_size(kind, value)} would save {gain} more")
    return said


def _steps(kind: str, before: int, points: Sequence[Point]) -> list[str]:
    """The sizes that save something more than all smaller ones."""
    said, least = [], before
    for point in points:
        if point.moves is not None and point.moves < least:
            saved = count(before - point.moves, "move")
            said.append(f"{_size(kind, point.value)} would save {saved}")
            least = point.moves
    return said[-_MOST_STEPS:] or ["none of these saves anything over the rig as it is written"]
