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
        after: What stands between it and its comma; hardly ever anything.
        comment: The comment that follows its comma, with the space before it.
    """

    above: str = ""
    after: str = ""
    comment: str = ""


@dataclass(frozen=True, slots=True)
class _Slot:
    """How a place in the array looks: what comes before its item in the line, and its line end."""

    indent: str
    line_end: str


@dataclass(frozen=True, slots=True)
class _Layout:
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
    text = "[" + layout.opening
    for number, (value, was, slot) in enumerate(
        zip(values, matches, _slots(layout.slots, len(values), eol), strict=True)
    ):
        cell = _Cell() if was is None else layout.cells[was]
        if "#" in cell.above and not text.endswith("\n"):
            text += eol
        comma = "," if number < len(values) - 1 or layout.last_comma else ""
        line_end = slot.line_end or (eol if cell.comment else "")
        text += cell.above + slot.indent + value + cell.after + comma + cell.comment + line_end
    return text + layout.closing + "]"


def _slots(old: list[_Slot], count: int, eol: str) -> list[_Slot]:
    """Places for `count` items: the first and the last look as before, more ones like their kin."""
    if not old:
        old = [_Slot("  ", eol)]
    if count <= 1:
        return [_Slot(old[0].indent, old[-1].line_end)][:count]
    inner = old[:-1] or [_Slot(old[0].indent, old[0].line_end or eol)]
    inner += inner[-1:] * (count - 1 - len(inner))
    return [*inner[: count - 1], old[-1]]


def _layout(gaps: Sequence[str]) -> _Layout:
    opening, rest = _line_rest(gaps[0])
    cells: list[_Cell] = []
    slots: list[_Slot] = []
    last_comma = False
    for gap in gaps[1:]:
        above, indent = _above(rest)
        after, last_comma, rest = _at_comma(gap)
        line, rest = _line_rest(rest)
        comment = line.rstrip("\r\n")
        cells.append(_Cell(above, after, comment if "#" in comment else ""))
        slots.append(_Slot(indent, line[len(comment) :]))
    return _Layout(opening, cells, slots, rest, last_comma)


def _line_rest(gap: str) -> tuple[str, str]:
    """Part a gap after its first line; nothing goes first if the line does not end in the gap."""
    line = _LINE_REST.match(gap)
    end = line.end() if line else 0
    return gap[:end], gap[end:]


def _above(rest: str) -> tuple[str, str]:
    """Part the whole lines above an item from its indentation."""
    start = rest.rfind("\n") + 1
    return rest[:start], rest[start:]


def _at_comma(gap: str) -> tuple[str, bool, str]:
    """Part what stands between two items at the comma, which may come after a comment."""
    at = 0
    while at < len(gap):
        if gap[at] == ",":
            return gap[:at], True, gap[at + 1 :]
        at = gap.index("\n", at) if gap[at] == "#" else at + 1
    return "", False, gap
