"""An array that takes several lines: put its items in a new order and keep what stands round them.

An item takes its own comments along: the comment lines above it and the comment at the end of its
line. Indentation and line breaks belong to the place, not to the item.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from rigtui.store.toml_scan import COMMENT

_LINE_REST = re.compile(rf"[ \t]*(?:{COMMENT})?\r?\n")


@dataclass(frozen=True, slots=True)
class _Cell:
    """What goes along with an item.

    Attributes:
        above: Blank and comment lines above it.
        comment: The comment at the end of its line, with the space before it.
    """

    above: str = ""
    comment: str = ""


@dataclass(frozen=True, slots=True)
class _Slot:
    """How a place in the array looks.

    Attributes:
        indent: Space before the item in its line.
        starts: Whether the item begins a line.
        line_end: The line's end, where the item ends a line.
    """

    indent: str
    starts: bool
    line_end: str


@dataclass(frozen=True, slots=True)
class _ArrayLayout:
    opening: str
    cells: list[_Cell]
    slots: list[_Slot]
    closing: str
    last_comma: bool


def rearrange(
    gaps: Sequence[str], values: Sequence[str], matches: Sequence[int | None], eol: str
) -> str:
    """Write the array again with other items.

    Args:
        gaps: What stands before, between and after the old items, brackets apart.
        values: Texts of the new items.
        matches: For each new item the old one whose comments it takes along.
        eol: The file's line end.
    """
    layout = _layout(gaps)
    if not values and "#" not in layout.opening + layout.closing:
        return "[]"
    indent = next((slot.indent for slot in reversed(layout.slots) if slot.starts), "  ")
    text = "[" + layout.opening
    for number, (value, was, slot) in enumerate(
        zip(values, matches, _slots(layout.slots, len(values), eol), strict=True)
    ):
        cell = _Cell() if was is None else layout.cells[was]
        if "#" in cell.above and not text.endswith("\n"):
            text += eol
        text += cell.above
        starts = text.endswith("\n")
        text += slot.indent if starts == slot.starts else indent if starts else " "
        text += value + ("," if number < len(values) - 1 or layout.last_comma else "")
        text += cell.comment + (slot.line_end or (eol if cell.comment else ""))
    return text + layout.closing + "]"


def _slots(old: list[_Slot], count: int, eol: str) -> list[_Slot]:
    """Places for `count` items: the first and the last look as before, more ones like their kin."""
    if not old:
        return [_Slot("  ", True, eol)] * count
    first, last = old[0], old[-1]
    if count <= 1:
        return [_Slot(first.indent, first.starts, last.line_end)][:count]
    inner = old[:-1] or [_Slot(first.indent, first.starts, first.line_end or eol)]
    inner += inner[-1:] * (count - 1 - len(inner))
    return [*inner[: count - 1], last]


def _layout(gaps: Sequence[str]) -> _ArrayLayout:
    opening, rest = _line_rest(gaps[0])
    cells: list[_Cell] = []
    slots: list[_Slot] = []
    last_comma = False
    for gap in gaps[1:]:
        above, indent = _above(rest)
        starts = bool(above or (slots[-1].line_end if slots else opening))
        rest, last_comma = _without_comma(gap)
        line, rest = _line_rest(rest)
        comment = line.rstrip("\r\n")
        cells.append(_Cell(above, comment if "#" in comment else ""))
        slots.append(_Slot(indent, starts, line[len(comment) :]))
    return _ArrayLayout(opening, cells, slots, rest, last_comma)


def _line_rest(gap: str) -> tuple[str, str]:
    """Part a gap after its first line; nothing goes first if the line does not end in the gap."""
    line = _LINE_REST.match(gap)
    end = line.end() if line else 0
    return gap[:end], gap[end:]


def _above(rest: str) -> tuple[str, str]:
    """Part the whole lines above an item from its indentation."""
    start = rest.rfind("\n") + 1
    return rest[:start], rest[start:]


def _without_comma(gap: str) -> tuple[str, bool]:
    """Take the comma out of what stands between two items; it may come after a comment."""
    at = 0
    while at < len(gap):
        if gap[at] == ",":
            before, after = gap[:at], gap[at + 1 :]
            return before + (after.lstrip(" \t") if "\n" in before else after), True
        at = gap.index("\n", at) if gap[at] == "#" else at + 1
    return gap, False
