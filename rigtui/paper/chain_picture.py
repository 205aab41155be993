"""The chain as a picture: devices as boxes from the guitar to the amp, loops round their pedals."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, field

from rigtui.chain import graph_of
from rigtui.chain.graph import TUNER_OUT
from rigtui.chain.line import LineStop, LoopStop, signal_line
from rigtui.model import Rig, Section
from rigtui.model.base import Side
from rigtui.model.cells import cells, clip, wrap
from rigtui.model.lookup import lookup
from rigtui.model.text import visible
from rigtui.paper.content import Picture
from rigtui.paper.drawing import Drawing, Frame, Label, Stroke

WIDTH = 538.0
"""Of the drawing: what fits between the margins of A4 and of Letter."""
SIDES: dict[Side, str] = {"front": "Before the amp", "fx": "In the amp's effects loop"}
USES = {"always": "left on", "between": "between songs", "treadle": "by its treadle"}
LETTERS_IN_LINE, INDENT = 76, "  "
"""Of the picture in text."""
BOX, TALL, GAP = 60.0, 34.0, 17.0
"""Width and height of a device, and room for a lead and its number."""
PAD = 4.0
TYPE, SMALL = 7.0, 6.0
LETTERS = 13
"""Of a name in one line of a box."""
NAME_LINES = 3
ROW = TALL + 26


def chain_picture(rig: Rig, section: Section | None = None) -> Picture:
    """Describe a rig's chain, or the way of the sound of a section through it.

    Leads carry the numbers of the wiring sheet's list.
    """
    view = _ChainView(rig, section)
    return Picture(_drawing(view), tuple(_in_text(view)))


class _ChainView:
    """What stands on each side, and what of it is on."""

    def __init__(self, rig: Rig, section: Section | None) -> None:
        self.tables = lookup(rig)
        self.graph = graph_of(rig)
        self.line = signal_line(self.graph)
        self.on: Collection[str] | None = None if section is None else self.tables.sound(section)
        """Pedals heard on; None where no sound is asked for."""

    def name(self, stop: LineStop) -> str:
        """What a box is called; guitar and amp with their jack."""
        pedal = self.tables.pedals.get(stop.box)
        return f"{stop.box} {stop.jack}" if pedal is None else visible(pedal.label)

    def use(self, stop: LineStop) -> str:
        """How an outside pedal is used, where that is not by its own footswitch."""
        pedal = self.tables.pedals.get(stop.box)
        return USES.get(pedal.used, "outside") if pedal else ""

    def engaged(self, stop: LineStop) -> bool | None:
        """Whether a pedal is on; None where no sound is asked for, and of guitar and amp."""
        if self.on is None or stop.box not in self.tables.pedals:
            return None
        return stop.box in self.on

    def switched_in(self, loop: LoopStop) -> bool | None:
        """Whether a loop is on; None where no sound is asked for."""
        if self.on is None:
            return None
        return any(stop.box in self.on for stop in loop.pedals)

    def tuner(self) -> tuple[str, int] | None:
        """The tuner on the switcher's own jack, and the number of its lead."""
        for lead in self.graph.leads:
            if lead.start == TUNER_OUT:
                return visible(self.tables.label(lead.end.box)), lead.number
        return None


# In text


def _in_text(view: _ChainView) -> Iterator[str]:
    for side, stops in view.line.items():
        yield SIDES[side]
        line = ""
        for words in (_stop_in_text(view, stop) for stop in stops):
            if line and cells(line) + 1 + cells(words) > LETTERS_IN_LINE:
                yield from wrap(line, LETTERS_IN_LINE, INDENT, INDENT * 2)
                line = ""
            line = f"{line} {words}".strip()
        yield from wrap(line, LETTERS_IN_LINE, INDENT, INDENT * 2)
    tuner = view.tuner()
    if tuner is not None:
        yield f"On the switcher's tuner jack: -{tuner[1]}-> {tuner[0]}"
    key = "[n: ...] is loop n of the switcher, -n-> is lead n"
    yield key + ("" if view.on is None else "; (+) is on, (-) is off")


def _stop_in_text(view: _ChainView, stop: LineStop | LoopStop) -> str:
    lead = f"-{stop.lead}-> " if stop.lead else ""
    if isinstance(stop, LineStop):
        return lead + _marked(view.name(stop), view.engaged(stop))
    inside = [f"-{pedal.lead}-> {_marked(view.name(pedal), None)}" for pedal in stop.pedals]
    inside += [f"-{stop.back}->"] if stop.back else ["empty"]
    head = _marked(str(stop.number), view.switched_in(stop))
    return f"{lead}[{head}: {' '.join(inside)}]"


def _marked(text: str, on: bool | None) -> str:
    return text if on is None else f"{'(+)' if on else '(-)'} {text}"


# As a drawing


@dataclass
class _Pen:
    """Draws from left to right, and goes on in a row below where there is no room."""

    x: float = 0.0
    y: float = 0.0
    frames: list[Frame] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    cuts: list[float] = field(default_factory=list)
    """Where rows begin, with the title of a side where it has one."""

    @property
    def middle(self) -> float:
        return self.y + 14 + TALL / 2

    def make_room(self, width: float) -> None:
        """Begin a new row where the rest of this one is too narrow."""
        if self.x and self.x + width > WIDTH:
            self.new_row()

    def new_row(self) -> None:
        """Go on in the row below."""
        self.x, self.y = 0.0, self.y + ROW
        self.cuts.append(self.y)

    def lead(self, number: int) -> None:
        """A lead, with its number where it has one."""
        if number:
            text = Label(self.x + GAP / 2, self.middle - 2.5, str(number), SMALL, GAP)
            self.labels.append(text)
        self.wire(GAP)

    def wire(self, length: float) -> None:
        """A piece of the line that the signal takes."""
        self.strokes.append(Stroke(self.x, self.middle, self.x + length, self.middle))
        self.x += length

    def device(self, name: str, on: bool | None, under: str) -> None:
        """A box with a name in it; what is on has a thick edge, what is off a dashed one."""
        pen, dashed = (1.6, False) if on else (0.6, on is False)
        self.frames.append(Frame(self.x, self.y + 14, BOX, TALL, pen, dashed))
        lines = wrap(name, LETTERS) or [""]
        if len(lines) > NAME_LINES:
            lines[NAME_LINES - 1 :] = [clip(" ".join(lines[NAME_LINES - 1 :]), LETTERS)]
        top = self.middle - TYPE * 1.1 * len(lines) / 2 + TYPE * 0.8
        for nth, line in enumerate(lines):
            base = top + TYPE * 1.1 * nth
            self.labels.append(Label(self.x + BOX / 2, base, line, TYPE, BOX - 4, bool(on)))
        if under:
            base = self.y + 14 + TALL + SMALL
            self.labels.append(Label(self.x + BOX / 2, base, under, SMALL, BOX + GAP))
        self.x += BOX

    def title(self, text: str) -> None:
        """What a side is called, in a line of its own."""
        self.cuts.append(self.y)
        self.labels.append(Label(0, self.y + 8, text, TYPE + 1, WIDTH, bold=True, middle=False))
        self.x, self.y = 0.0, self.y + 10


def _drawing(view: _ChainView) -> Drawing:
    pen = _Pen()
    for side, stops in view.line.items():
        pen.title(SIDES[side])
        for stop in stops:
            if isinstance(stop, LineStop):
                _draw_stop(pen, view, stop)
            else:
                _draw_loop(pen, view, stop)
        pen.x, pen.y = 0.0, pen.y + ROW + PAD
    tuner = view.tuner()
    if tuner is not None:
        pen.title("On the switcher's tuner jack")
        pen.lead(tuner[1])
        pen.device(tuner[0], None, "")
        pen.y += ROW
    return Drawing(
        WIDTH, pen.y, tuple(pen.frames), tuple(pen.strokes), tuple(pen.labels), tuple(pen.cuts[1:])
    )


def _draw_stop(pen: _Pen, view: _ChainView, stop: LineStop) -> None:
    on = view.engaged(stop)
    pen.make_room(GAP * bool(stop.lead) + BOX)
    if stop.lead:
        pen.lead(stop.lead)
    use = view.use(stop)
    pen.device(view.name(stop), on, use if on is None else f"{use}: {'on' if on else 'off'}")


def _draw_loop(pen: _Pen, view: _ChainView, loop: LoopStop) -> None:
    """A frame round the pedals of a loop; a loop of many goes on in the next row."""
    on = view.switched_in(loop)
    wide = PAD * 2 + (GAP * (len(loop.pedals) + 1) + BOX * len(loop.pedals) or GAP * 2)
    pen.make_room(GAP * bool(loop.lead) + wide)
    if loop.lead:
        pen.lead(loop.lead)
    left, row = pen.x, pen.y
    text = f"loop {loop.number}" + ("" if on is None else ": on" if on else ": off")
    pen.labels.append(Label(left + PAD, pen.y + 10, text, TYPE, BOX, bold=True, middle=False))
    pen.wire(PAD)
    for pedal in loop.pedals:
        if pen.x + GAP + BOX + GAP > WIDTH:
            _close(pen, left, row, on)
            pen.new_row()
            left, row = pen.x, pen.y
            pen.wire(PAD)
        pen.lead(pedal.lead)
        pen.device(view.name(pedal), on, "")
    pen.lead(loop.back)
    if not loop.pedals:
        pen.wire(GAP)
    pen.wire(PAD)
    _close(pen, left, row, on)


def _close(pen: _Pen, left: float, row: float, on: bool | None) -> None:
    pen.frames.append(Frame(left, row + 2, pen.x - left, TALL + 22, 1.0 if on else 0.4))
