"""The patch leads of a rig: the length of each and where it comes from, and the plugs at its
ends.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal

from rigtui.bench.bends import laid_length
from rigtui.bench.layout import JackPlace, Layout, Outline, Point, layout_of
from rigtui.bench.plugs import PlugEnd, choose_plugs, directions, leaving, plug_sizes
from rigtui.bench.typical import JACK_HEIGHT_MM, PlugSize
from rigtui.bench.way import Ground, Way
from rigtui.chain import graph_of
from rigtui.chain.graph import Edge, Jack
from rigtui.model import Rig
from rigtui.model.layout import Bench, PatchLead, PlugShape
from rigtui.model.lookup import lookup
from rigtui.model.remembered import Remembered

How = Literal["hand", "tape", "layout", ""]
"""How a length is known: set by hand, measured with a tape, from the layout, or not yet."""


@dataclass(frozen=True, slots=True)
class Lead:
    """One patch lead."""

    number: int
    """Its number in the chain; on its labels too."""
    start: Jack
    end: Jack
    how: How
    length_mm: float | None
    """The length to cut; None where it is not known."""
    way: Way | None
    """How it lies, where both devices have a place."""
    plugs: tuple[PlugEnd, PlugEnd]
    record: PatchLead | None
    """What the file says of it."""
    over_the_edge: bool = False
    """Whether it finds its way only beyond the edge of the board."""


def jack_words(rig: Rig, jack: Jack) -> str:
    """A jack as people call it: "Rocker wah out"."""
    return f"{lookup(rig).label(jack.box)} {jack.name}"


def lead_words(rig: Rig, lead: Edge | Lead) -> str:
    """A patch lead by its ends: "Rocker wah out to Switcher send 1"."""
    return f"{jack_words(rig, lead.start)} to {jack_words(rig, lead.end)}"


def jack_key(jack: Jack) -> str:
    """A jack as the file names it in `[[patch_leads]]`."""
    return f"{jack.box} {jack.name}"


def lead_key(lead: Edge | Lead) -> tuple[str, str]:
    """The jacks of a patch lead as the file names them: out of one, into the other."""
    return jack_key(lead.start), jack_key(lead.end)


def patch_edges(rig: Rig) -> tuple[Edge, ...]:
    """The leads that stay on the board, in signal order."""
    return tuple(edge for edge in graph_of(rig).leads if not edge.long)


def leads_of(rig: Rig) -> tuple[Lead, ...]:
    """Return the patch leads in signal order, remembered while the rig's tables stand."""
    return _remembered.get((*_parts(rig), rig.patch_leads), lambda: _leads(rig))


def plug_ends(rig: Rig) -> dict[Jack, PlugEnd]:
    """Return the plug for each jack that a patch lead goes into; quick, for it lays no lead."""
    jacks = (jack for edge in patch_edges(rig) for jack in (edge.start, edge.end))
    return _remembered_plugs.get(_parts(rig), lambda: choose_plugs(rig, layout_of(rig), jacks))


_remembered: Remembered[tuple[Lead, ...]] = Remembered()
_remembered_plugs: Remembered[dict[Jack, PlugEnd]] = Remembered()


def _parts(rig: Rig) -> tuple[object, ...]:
    return (rig.switcher, rig.pedals, rig.loops, rig.chain, rig.bench, rig.places, rig.holes,
            rig.plugs)  # fmt: skip


def unused_records(rig: Rig) -> tuple[int, ...]:
    """Places of the records in the file, from 0, that are of no patch lead of the chain."""
    wanted = {lead_key(edge) for edge in patch_edges(rig)}
    return tuple(at for at, row in enumerate(rig.patch_leads) if (row.out, row.into) not in wanted)


def _leads(rig: Rig) -> tuple[Lead, ...]:
    edges = patch_edges(rig)
    records = {(row.out, row.into): row for row in reversed(rig.patch_leads)}
    maker = _Maker(rig.bench, layout_of(rig), plug_ends(rig), plug_sizes(rig))
    return tuple(maker.lead(edge, records.get(lead_key(edge))) for edge in edges)


class _Maker:
    """Makes the leads of one rig."""

    def __init__(
        self,
        bench: Bench,
        layout: Layout,
        plugs: dict[Jack, PlugEnd],
        sizes: dict[PlugShape, PlugSize],
    ) -> None:
        self.bench, self.layout, self.plugs, self.sizes = bench, layout, plugs, sizes
        self.margin = bench.clearance_mm + bench.cable_mm / 2
        self.boxes = {device.name: device.outline.grown(self.margin) for device in layout.placed}
        self._grounds: dict[frozenset[str], Ground] = {}

    def lead(self, edge: Edge, record: PatchLead | None) -> Lead:
        plugs = (self.plugs[edge.start], self.plugs[edge.end])
        way, over, laid = self._laid(edge, plugs)
        how: How = ""
        length: float | None = None
        if record is not None and record.length_mm is not None:
            how, length = "hand", record.length_mm
        elif record is not None and record.route_mm is not None:
            how, length = "tape", self._cut(record.route_mm)
        elif laid is not None:
            how, length = "layout", self._cut(laid)
        return Lead(edge.number, edge.start, edge.end, how, length, way, plugs, record, over)

    def _cut(self, laid: float) -> float:
        """The length to cut: with slack and strain loop, rounded up to the step."""
        bench = self.bench
        whole = laid + bench.slack_mm + bench.strain_loop_mm
        return ceil(round(whole / bench.step_mm, 9)) * bench.step_mm

    def _laid(
        self, edge: Edge, plugs: tuple[PlugEnd, PlugEnd]
    ) -> tuple[Way | None, bool, float | None]:
        """The way, whether it goes beyond the edge, and its length with bends and inside plugs."""
        first, last = self._jack(edge.start), self._jack(edge.end)
        if first is None or last is None:
            return None, False, None
        start, end = (
            leaving(jack, plug.shape, self.sizes[plug.shape], self.margin)
            for jack, plug in zip((first, last), plugs)
        )
        ends = (start, end)
        own = [jack.box for jack, at in ((edge.start, first), (edge.end, last))
               if at.faces == (0, 0)]  # fmt: skip
        ground = self._ground(frozenset(
            name for name, box in self.boxes.items()
            # a plug that stands in another's margin has been found at fault already
            if name in own or any(box.holds(end) for end in ends)
        ))  # fmt: skip
        within = _with(self.layout.board, ends)
        bench = self.bench
        way, over = ground.shortest(start, end, within), False
        if way is None:
            way, over = ground.shortest(start, end), True
        if way is None:
            return None, False, None
        laid = laid_length(
            way.points,
            directions(first, plugs[0].shape),
            directions(last, plugs[1].shape),
            bench.bend_diameters * bench.cable_mm,
            bench.straight_mm,
        )
        laid += 2 * bench.thickness_mm * len(way.under)
        for jack, plug in zip((first, last), plugs):
            if jack.faces == (0, 0):
                laid += JACK_HEIGHT_MM
            elif plug.shape == "straight":
                laid += self.sizes[plug.shape].strip
        return way, over, laid

    def _ground(self, left_out: frozenset[str]) -> Ground:
        """The board with all devices but some; of those with the same left out, the same one."""
        if left_out not in self._grounds:
            boxes = [box for name, box in self.boxes.items() if name not in left_out]
            thick = self.bench.thickness_mm
            self._grounds[left_out] = Ground(boxes, self.layout.holes, thick)
        return self._grounds[left_out]

    def _jack(self, jack: Jack) -> JackPlace | None:
        device = self.layout.devices.get(jack.box)
        return device.jacks.get(jack.name) if device and device.place else None


def _with(board: Outline | None, ends: tuple[Point, ...]) -> Outline | None:
    """The board, and beyond its edges as far as plugs stand out over them."""
    if board is None:
        return None
    xs, ys = [end.x for end in ends], [end.y for end in ends]
    return Outline(min(board.left, *xs), min(board.front, *ys),
                   max(board.right, *xs), max(board.back, *ys))  # fmt: skip
