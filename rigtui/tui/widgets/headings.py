"""Headings of columns: whole names where there is room, on as few lines as that takes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

from rigtui.model.cells import cells, clip
from rigtui.model.text import visible
from rigtui.tui.text import fit

_LEGIBLE = 4
"""Cells up to which words cut on several lines tell less than one short name."""


class ColumnHeading(NamedTuple):
    """The lines of a heading, all of one number, and the cells of its column."""

    lines: tuple[str, ...]
    width: int


@lru_cache(maxsize=32)
def headings(
    names: tuple[str, ...],
    room: int,
    least: int,
    short: Callable[[Sequence[str], int], Sequence[str]],
    most_lines: int = 3,
) -> tuple[ColumnHeading, ...]:
    """Lay out names above columns side by side.

    Args:
        names: What the columns are called.
        room: Cells for all of them.
        least: Cells that a column needs whatever it is called.
        short: Shortens names to some cells, where not even their words fit.
        most_lines: Lines that a heading may take.
    """
    if not names:
        return ()
    words = [tuple(visible(name).split()) or ("",) for name in names]
    for lines in range(1, most_lines + 1):
        laid_out = [_wrapped(row, lines, least) for row in words]
        if sum(row.width for row in laid_out) <= room:
            return tuple(_even(laid_out))
    cut = _cut_to_fit(words, room, least, most_lines)
    if cut is not None:
        return tuple(cut)
    each = max(least, room // len(names))
    return tuple(ColumnHeading((name,), each) for name in short(names, each - 1))


@lru_cache(maxsize=1024)
def _wrapped(words: tuple[str, ...], lines: int, least: int) -> ColumnHeading:
    """Words on at most some lines, as narrow as that can be."""
    for width in range(max(least - 1, max(map(cells, words))), cells(" ".join(words)) + 1):
        rows = [""]
        for word in words:
            longer = f"{rows[-1]} {word}".strip()
            if cells(longer) <= width:
                rows[-1] = longer
            else:
                rows.append(word)
        if len(rows) <= lines:
            return ColumnHeading(tuple(rows), width + 1)
    return ColumnHeading((" ".join(words),), max(least, cells(" ".join(words)) + 1))


def _cut_to_fit(
    words: Sequence[tuple[str, ...]], room: int, least: int, lines: int
) -> list[ColumnHeading] | None:
    """The widest columns made narrower until all fit; None where two would read the same."""
    whole = [_wrapped(row, lines, least) for row in words]
    widest = max(row.width for row in whole)
    for cap in range(min(widest, room - _LEGIBLE * (len(words) - 1)), _LEGIBLE, -1):
        laid_out = [
            row if row.width <= cap else _squeezed(said, cap, lines)
            for row, said in zip(whole, words)
        ]
        if sum(row.width for row in laid_out) <= room:
            told = {row.lines for row in laid_out}
            return _even(laid_out) if len(told) == len(laid_out) else None
    return None


def _squeezed(words: Sequence[str], cap: int, lines: int) -> ColumnHeading:
    """Words in so many cells: long ones are cut, and so is what takes too many lines."""
    rows = [""]
    for word in (clip(word, cap - 1, "") for word in words):
        longer = f"{rows[-1]} {word}".strip()
        if cells(longer) < cap:
            rows[-1] = longer
        else:
            rows.append(word)
    kept = tuple(rows[:lines])
    return ColumnHeading(kept, max(map(cells, kept)) + 1)


def _even(laid_out: list[ColumnHeading]) -> list[ColumnHeading]:
    """All with as many lines; names stand at the bottom."""
    most = max(len(row.lines) for row in laid_out)
    return [
        ColumnHeading(("",) * (most - len(row.lines)) + row.lines, row.width) for row in laid_out
    ]


def begun_before(head: str, width: int, name: str, own: int) -> tuple[str, str]:
    """Headings of two columns side by side, the second longer than its column is wide.

    It ends where its column does, and begins over the one before it.

    Args:
        head: The first column's heading.
        width: Its cells.
        name: The second column's heading.
        own: Its cells.
    """
    over = max(0, cells(name) - own)
    if not over:
        return head, name
    return f"{fit(head, max(0, width - over - 1))} {name[:over]}", name[over:]
