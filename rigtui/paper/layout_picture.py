"""The board from above as a picture, to scale: devices, jacks, and the ways of the patch leads."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from rigtui.bench.layout import Device, Layout, Outline, Point, layout_of
from rigtui.bench.leads import Lead, leads_of
from rigtui.bench.plan_view import BoardDrawing, scale_for
from rigtui.model import Rig
from rigtui.model.cells import clip, wrap
from rigtui.model.lookup import lookup
from rigtui.model.text import count, number_text, visible
from rigtui.paper.content import Picture
from rigtui.paper.drawing import Drawing, Frame, Label, Stroke

WIDTH, MOST_HEIGHT = 538.0, 560.0
"""What fits between the margins of A4 and of Letter."""
COLUMNS, LINES = 78, 30
"""Of the picture in text."""
PT_PER_MM = 72 / 25.4
TYPE, SMALL = 7.0, 5.5
MARGIN = 9.0
"""Round everything, for plugs and numbers."""
JACK = 3.0
NAME_AT = 0.68
"""How far down a device its name is: below the numbers of its jacks."""


def layout_picture(rig: Rig) -> Picture | None:
    """Describe the board of a rig as it lies; None where nothing has a place.

    Numbers at the jacks are those of the leads.
    """
    layout = layout_of(rig)
    if not layout.placed:
        return None
    names = {name: visible(lookup(rig).label(name)) for name in layout.devices}
    plan = BoardDrawing(layout, names, scale_for(layout, COLUMNS, LINES))
    pen = _LayoutPen(layout, names)
    drawing = pen.draw(leads_of(rig))
    return Picture(drawing, (*plan.text(), *_said(layout, pen.paper_mm)))


def _said(layout: Layout, paper_mm: float) -> Iterator[str]:
    board = layout.board
    size = (
        f"The board is {number_text(board.right)} x {number_text(board.back)} mm. "
        if board is not None
        else ""
    )
    typical = sum(device.typical for device in layout.placed)
    guess = f" Sizes of {count(typical, 'device')} are typical, not measured." if typical else ""
    text = f"{size}Its back is at the top.{guess}"
    yield from wrap(f"{text} i and o are in and out, s and r are sends and returns.", COLUMNS)


@dataclass
class _LayoutPen:
    """Draws millimetres of the board as points of the paper."""

    layout: Layout
    names: dict[str, str]
    frames: list[Frame] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def __post_init__(self) -> None:
        outlines = [device.outline for device in self.layout.placed]
        outlines += [self.layout.board] if self.layout.board is not None else []
        self._left = min(box.left for box in outlines)
        self._back = max(box.back for box in outlines)
        wide = max(box.right for box in outlines) - self._left
        deep = self._back - min(box.front for box in outlines)
        self._scale = min((WIDTH - 2 * MARGIN) / wide, (MOST_HEIGHT - 2 * MARGIN) / deep, PT_PER_MM)
        self._height = deep * self._scale + 2 * MARGIN
        self.paper_mm = PT_PER_MM / self._scale
        """Millimetres of the board in one of the paper."""

    def draw(self, leads: tuple[Lead, ...]) -> Drawing:
        """Draw all of it."""
        if self.layout.board is not None:
            self._frame(self.layout.board, 1.2)
        for lead in leads:
            self._way(lead)
        for device in self.layout.placed:
            self._device(device)
        for hole in self.layout.holes:
            x, y = self._at(hole)
            self.frames.append(Frame(x - JACK, y - JACK, 2 * JACK, 2 * JACK, 0.5, dashed=True))
        for lead in leads:
            self._numbers(lead)
        below = f"Scale 1 : {self.paper_mm:.1f} if the page is printed at full size; mm"
        if any(device.typical for device in self.layout.placed):
            below += "; ~ is a typical size, not measured"
        self.labels.append(Label(0, self._height + 6, below, 6, WIDTH, middle=False))
        return Drawing(
            WIDTH, self._height + 9, tuple(self.frames), tuple(self.strokes), tuple(self.labels)
        )

    def _at(self, point: Point) -> tuple[float, float]:
        return (
            MARGIN + (point.x - self._left) * self._scale,
            MARGIN + (self._back - point.y) * self._scale,
        )

    def _frame(self, outline: Outline, width: float) -> tuple[float, float, float, float]:
        x, y = self._at(Point(outline.left, outline.back))
        wide = (outline.right - outline.left) * self._scale
        high = (outline.back - outline.front) * self._scale
        self.frames.append(Frame(x, y, wide, high, width))
        return x, y, wide, high

    def _device(self, device: Device) -> None:
        x, y, wide, high = self._frame(device.outline, 0.8)
        letters = max(1, int(wide / (TYPE * 0.62)))
        lines = wrap(self.names[device.name], letters)
        most = max(1, int((high - 4) / (TYPE * 1.1)) - 1)
        lines = [*lines[: most - 1], clip(" ".join(lines[most - 1 :]), letters)]
        size = f"{number_text(device.width)} x {number_text(device.depth)}"
        top = y + high * NAME_AT - TYPE * 1.1 * len(lines) / 2 + TYPE * 0.6
        for at, line in enumerate(lines):
            base = top + TYPE * 1.1 * at
            self.labels.append(Label(x + wide / 2, base, line, TYPE, wide - 12, bold=True))
        base = top + TYPE * 1.1 * len(lines)
        mark = "~" if device.typical else ""
        self.labels.append(Label(x + wide / 2, base, mark + size, SMALL, wide - 6))
        for jack in device.jacks.values():
            to_x, to_y = self._at(jack.at)
            self.frames.append(Frame(to_x - JACK / 2, to_y - JACK / 2, JACK, JACK, 0.5))

    def _way(self, lead: Lead) -> None:
        """The way of a lead, corners taken sharply, thin."""
        if lead.way is None:
            return
        points = list(lead.way.points)
        for jack, place in ((lead.start, 0), (lead.end, len(points))):
            device = self.layout.devices[jack.box]
            points.insert(place, device.jacks[jack.name].at)
        for start, end in pairwise(points):
            self.strokes.append(Stroke(*self._at(start), *self._at(end), 0.3))

    def _numbers(self, lead: Lead) -> None:
        """The number of a lead at both of its jacks, inside the device, where no lead runs."""
        for jack in (lead.start, lead.end):
            device = self.layout.devices.get(jack.box)
            if device is None or device.place is None or jack.name not in device.jacks:
                continue
            place = device.jacks[jack.name]
            x, y = self._at(place.at)
            x -= place.faces.x * (JACK + SMALL * 0.6)
            y += SMALL * 0.35 + place.faces.y * (JACK + 2)
            if place.faces == (0, 0):
                y += JACK + 2
            self.labels.append(Label(x, y, str(lead.number), SMALL, 2 * SMALL))
