"""The board from above in characters, to scale: a cell is twice as high as it is wide.

The board's back is up. Jacks are small letters: i and o are in and out, s and r the switcher's
sends and returns; a hole is @, where devices overlap stands #, a lead is a line of stars.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor
from typing import Literal, NamedTuple

from rigtui.bench.layout import Device, Layout, Outline, Point
from rigtui.bench.leads import Lead
from rigtui.chain.graph import SWITCHER
from rigtui.model.cells import cells
from rigtui.model.text import visible

Look = Literal["", "board", "device", "here", "clash", "jack", "lead"]
MARGIN_MM = 10.0
_THIN, _THICK = "┌─┐│└┘", "╔═╗║╚╝"


class Cell(NamedTuple):
    """One character of the plan. A wide character is followed by an empty one."""

    char: str
    look: Look


_BLANK = Cell(" ", "")


@dataclass(frozen=True, slots=True)
class Scale:
    """How millimetres become cells."""

    left: float
    back: float
    column_mm: float
    columns: int
    lines: int

    @property
    def line_mm(self) -> float:
        """Millimetres in the height of a cell."""
        return 2 * self.column_mm

    def column(self, x: float) -> int:
        """The column that begins nearest to a place."""
        return round((x - self.left) / self.column_mm)

    def line(self, y: float) -> int:
        """The line that begins nearest to a place, counted from the top."""
        return round((self.back - y) / self.line_mm)

    def point(self, column: float, line: float) -> Point:
        """The place in the middle of a cell."""
        return Point(
            self.left + (column + 0.5) * self.column_mm, self.back - (line + 0.5) * self.line_mm
        )

    def box(self, outline: Outline) -> tuple[int, int, int, int]:
        """First and last column, first and last line of a rectangle; two by two at the least."""
        left, top = self.column(outline.left), self.line(outline.back)
        right, bottom = self.column(outline.right) - 1, self.line(outline.front) - 1
        return left, max(left + 1, right), top, max(top + 1, bottom)


def scale_for(layout: Layout, columns: int, lines: int) -> Scale:
    """Return the largest scale at which the board and everything on it fit."""
    outlines = [device.outline for device in layout.placed]
    if layout.board is not None:
        outlines.append(layout.board)
    if not outlines:
        outlines = [Outline(0, 0, 1, 1)]
    left = min(box.left for box in outlines) - MARGIN_MM
    right = max(box.right for box in outlines) + MARGIN_MM
    front = min(box.front for box in outlines) - MARGIN_MM
    back = max(box.back for box in outlines) + MARGIN_MM
    column_mm = max((right - left) / max(8, columns), (back - front) / (2 * max(4, lines)))
    return Scale(
        left, back, column_mm,
        ceil((right - left) / column_mm - 1e-9), ceil((back - front) / (2 * column_mm) - 1e-9),
    )  # fmt: skip


class BoardDrawing:
    """The plan at a scale."""

    def __init__(
        self,
        layout: Layout,
        names: dict[str, str],
        scale: Scale,
        here: str = "",
        lead: Lead | None = None,
    ) -> None:
        """Draw it.

        Args:
            layout: The board.
            names: What each device is called.
            scale: As `scale_for` gives it.
            here: The device that is marked with a double line.
            lead: The patch lead whose way is drawn.
        """
        self.scale = scale
        self._cells = [[_BLANK] * scale.columns for _ in range(scale.lines)]
        if layout.board is not None:
            self._frame(layout.board, _THIN, "board")
        for device in sorted(layout.placed, key=lambda device: device.name == here):
            self._device(device, names.get(device.name, device.name), device.name == here)
        if lead is not None and lead.way is not None:
            for start, end in zip(lead.way.points, lead.way.points[1:]):
                self._dots(start, end)
        for hole in layout.holes:
            self._put(floor((hole.x - scale.left) / scale.column_mm),
                      floor((scale.back - hole.y) / scale.line_mm), "@", "jack")  # fmt: skip
        for first, second in layout.overlaps():
            self._clash(first.outline, second.outline)

    @property
    def lines(self) -> list[list[Cell]]:
        """The plan, line by line from the back."""
        return self._cells

    def text(self) -> Iterator[str]:
        """The plan as plain text."""
        for line in self._cells:
            yield "".join(cell.char for cell in line).rstrip()

    def _put(self, column: int, line: int, char: str, look: Look) -> None:
        if 0 <= line < self.scale.lines and 0 <= column < self.scale.columns:
            self._cells[line][column] = Cell(char, look)

    def _frame(self, outline: Outline, pen: str, look: Look) -> None:
        left, right, top, bottom = self.scale.box(outline)
        for column in range(left + 1, right):
            self._put(column, top, pen[1], look)
            self._put(column, bottom, pen[1], look)
        for line in range(top + 1, bottom):
            self._put(left, line, pen[3], look)
            self._put(right, line, pen[3], look)
        for column, line, char in (
            (left, top, pen[0]), (right, top, pen[2]), (left, bottom, pen[4]),
            (right, bottom, pen[5]),
        ):  # fmt: skip
            self._put(column, line, char, look)

    def _device(self, device: Device, name: str, here: bool) -> None:
        look: Look = "here" if here else "device"
        left, right, top, bottom = self.scale.box(device.outline)
        for line in range(top + 1, bottom):
            for column in range(left + 1, right):
                self._put(column, line, " ", look)
        self._frame(device.outline, _THICK if here else _THIN, look)
        self._jacks(device, (left, right, top, bottom))
        room = right - left - 1
        for at, piece in enumerate(_pieces(visible(name), room, max(0, bottom - top - 1))):
            column = left + 1
            for char in piece:
                self._put(column, top + 1 + at, char, look)
                for extra in range(1, cells(char)):
                    self._put(column + extra, top + 1 + at, "", look)
                column += max(1, cells(char))

    def _jacks(self, device: Device, box: tuple[int, int, int, int]) -> None:
        left, right, top, bottom = box
        for name, jack in device.jacks.items():
            column = floor((jack.at.x - self.scale.left) / self.scale.column_mm)
            line = floor((self.scale.back - jack.at.y) / self.scale.line_mm)
            column, line = min(max(column, left), right), min(max(line, top), bottom)
            if jack.faces.x:
                column = right if jack.faces.x > 0 else left
            elif jack.faces.y:
                line = top if jack.faces.y > 0 else bottom
            letter = name[:1]
            if device.name == SWITCHER and name.endswith(("input", "output")):
                letter = name.split()[-1][:1]
            self._put(column, line, letter, "jack")

    def _dots(self, start: Point, end: Point) -> None:
        scale = self.scale
        first = ((start.x - scale.left) / scale.column_mm, (scale.back - start.y) / scale.line_mm)
        last = ((end.x - scale.left) / scale.column_mm, (scale.back - end.y) / scale.line_mm)
        steps = ceil(max(abs(last[0] - first[0]), 2 * abs(last[1] - first[1]), 1))
        for step in range(steps + 1):
            part = step / steps
            self._put(
                floor(first[0] + part * (last[0] - first[0])),
                floor(first[1] + part * (last[1] - first[1])), "*", "lead",
            )  # fmt: skip

    def _clash(self, first: Outline, second: Outline) -> None:
        both = Outline(
            max(first.left, second.left), max(first.front, second.front),
            min(first.right, second.right), min(first.back, second.back),
        )  # fmt: skip
        scale = self.scale
        for line in range(floor((scale.back - both.back) / scale.line_mm),
                          ceil((scale.back - both.front) / scale.line_mm)):  # fmt: skip
            for column in range(floor((both.left - scale.left) / scale.column_mm),
                                ceil((both.right - scale.left) / scale.column_mm)):  # fmt: skip
                self._put(column, line, "#", "clash")


def _pieces(name: str, room: int, lines: int) -> list[str]:
    """A name in a few short lines; where they are too few, the beginning of each word."""
    if room < 1 or lines < 1:
        return []
    whole = _broken(name.split(), room)
    if len(whole) > lines and len(name.split()) > 1:
        whole = _broken([word[: _fitting(word, room)] for word in name.split()], room)
    return [piece for piece in whole[:lines] if cells(piece) <= room]


def _broken(words: list[str], room: int) -> list[str]:
    """Words in lines, those that are too long broken anywhere."""
    pieces: list[str] = []
    for word in words:
        if pieces and cells(pieces[-1]) + 1 + cells(word) <= room:
            pieces[-1] += f" {word}"
            continue
        while cells(word) > room:
            cut = _fitting(word, room)
            pieces.append(word[:cut])
            word = word[cut:]
        if word:
            pieces.append(word)
    return pieces


def _fitting(word: str, room: int) -> int:
    """How many of a word's letters have room; one at the least."""
    width = 0
    for at, char in enumerate(word):
        width += cells(char)
        if width > room:
            return max(1, at)
    return len(word)


def device_at(layout: Layout, point: Point, last: str = "") -> str | None:
    """The device at a place of the board; of two that overlap the one drawn on top."""
    there = [device.name for device in layout.placed
             if device.outline.left <= point.x <= device.outline.right
             and device.outline.front <= point.y <= device.outline.back]  # fmt: skip
    return last if last in there else there[-1] if there else None
