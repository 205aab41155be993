"""The signal graph of a rig: jacks, and what joins them, from the guitar to the amp and back."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import cached_property
from typing import Literal, NamedTuple

from rigtui.model import Rig
from rigtui.model.base import Side
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.remembered import Remembered

# With a capital, which no pedal's id can have.
GUITAR = "Guitar"
AMP = "Amp"
SWITCHER = "Switcher"

EdgeKind = Literal["lead", "pedal", "send", "return", "straight", "amp", "tap"]
"""A lead; the way through a pedal; inside the switcher the way into a loop, out of it, and past
it; the amp's own preamp, from its input to its send; the switcher's tap for a tuner."""


class Jack(NamedTuple):
    """One jack: its name, and its box (guitar, amp, switcher or a pedal's id).

    Inside the switcher it may also be the point between two loops, where nothing plugs in.
    """

    box: str
    name: str


TUNER_OUT = Jack(SWITCHER, "tuner out")


class Edge(NamedTuple):
    """What joins two jacks, in the direction of the signal."""

    start: Jack
    end: Jack
    kind: EdgeKind
    number: int = 0
    """A lead's number, from 1 at the guitar; the loop's number of a way inside the switcher."""

    @property
    def long(self) -> bool:
        """Whether it is a lead to guitar or amp; other leads stay on the board."""
        return self.kind == "lead" and not {GUITAR, AMP}.isdisjoint((self.start.box, self.end.box))


class WayStep(NamedTuple):
    """One edge on the way of a sound."""

    edge: Edge
    engaged: bool
    """Whether the pedal that it goes through is on; of any other edge true."""


class SignalGraph:
    """All edges of a rig in signal order; where a loop may be passed by, that way comes first.

    Outside pedals are wired one behind the other; each loop's pedals stand between its send and
    return, and a loop without pedals is a way straight on. Where an outside pedal stands between
    two loops of a side, the switcher's jacks between those loops are used (`between_loops`); a
    rig that has none is told so by the checks. A tuner in no chain hangs on the switcher's own
    jack for it (`tuner_out`); its edges come last and lead nowhere else.

    Source: series loop switching, common practice.
    """

    def __init__(self, rig: Rig) -> None:
        self.edges = tuple(_numbered(_edges(rig)))
        self.leads = tuple(edge for edge in self.edges if edge.kind == "lead")
        """What is to be plugged in, in signal order."""

    @cached_property
    def places(self) -> dict[str, int]:
        """Where each pedal stands along the signal, counted from 0 at the guitar.

        Pedals that the chain leaves out have no place.
        """
        pedals = (edge.start.box for edge in self.edges if edge.kind == "pedal")
        return {pedal: place for place, pedal in enumerate(dict.fromkeys(pedals))}

    @cached_property
    def _filled(self) -> frozenset[int]:
        """Numbers of the loops with a pedal in them."""
        return frozenset(edge.number for edge in self.edges if edge.kind == "send")

    @cached_property
    def _amp_place(self) -> int:
        """How many pedals stand before the amp's input."""
        into_amp = next(at for at, edge in enumerate(self.edges) if edge.end == Jack(AMP, "input"))
        return len({edge.start.box for edge in self.edges[:into_amp] if edge.kind == "pedal"})

    def before(self, first: str, second: str) -> bool:
        """Whether both pedals have a place and the first stands nearer to the guitar."""
        a, b = self.places.get(first), self.places.get(second)
        return a is not None and b is not None and a < b

    def before_amp(self, pedal: str) -> bool:
        """Whether a pedal stands before the amp's input."""
        place = self.places.get(pedal)
        return place is not None and place < self._amp_place

    def way(self, on: Collection[str], loops: Collection[int]) -> tuple[WayStep, ...]:
        """Return the way of a sound from the guitar to the amp and back, edge by edge.

        Args:
            on: Ids of the pedals that are heard.
            loops: Numbers of the loops that are switched in.
        """
        steps: list[WayStep] = []
        passed = False
        """Whether the signal has taken the way past the loop whose edges these are."""
        for edge in self.edges:
            if edge.kind == "tap":
                break
            if edge.kind == "straight":
                passed = edge.number not in loops or edge.number not in self._filled
                if passed:
                    steps.append(WayStep(edge, True))
                    passed = edge.number in self._filled
            elif not passed:
                steps.append(WayStep(edge, edge.kind != "pedal" or edge.start.box in on))
            elif edge.kind == "return":
                passed = False
        return tuple(steps)


def _numbered(edges: Iterator[Edge]) -> Iterator[Edge]:
    """Number the leads."""
    leads = 0
    for edge in edges:
        if edge.kind == "lead":
            leads += 1
            edge = edge._replace(number=leads)
        yield edge


def _edges(rig: Rig) -> Iterator[Edge]:
    tables = lookup(rig)
    yield from _side(rig, "front", Jack(GUITAR, "output"), Jack(AMP, "input"))
    if rig.chain.fx:
        yield Edge(Jack(AMP, "input"), Jack(AMP, "send"), "amp")
        yield from _side(rig, "fx", Jack(AMP, "send"), Jack(AMP, "return"))
    if rig.switcher and rig.switcher.tuner_out:
        for pedal in tables.outside():
            if pedal.kind == "tuner" and tables.needs_no_chain(pedal) and pedal.used != "home":
                yield Edge(Jack(SWITCHER, "front input"), TUNER_OUT, "tap")
                yield Edge(TUNER_OUT, Jack(pedal.id, "in"), "lead")
                break  # there is one such jack


def _side(rig: Rig, side: Side, start: Jack, end: Jack) -> Iterator[Edge]:
    tables = lookup(rig)
    items: list[int | str] = [
        item for item in getattr(rig.chain, side) if isinstance(item, int) or item in tables.pedals
    ]
    loops = [place for place, item in enumerate(items) if isinstance(item, int)]
    here = start
    for place, item in enumerate(items):
        if isinstance(item, str):
            yield Edge(here, Jack(item, "in"), "lead")
            here = Jack(item, "out")
            yield Edge(Jack(item, "in"), here, "pedal")
            continue
        if place - 1 not in loops:
            into = f"{side} input" if place == loops[0] else f"in before loop {item}"
            yield Edge(here, Jack(SWITCHER, into), "lead")
            here = Jack(SWITCHER, into)
        if place == loops[-1]:
            beyond = Jack(SWITCHER, f"{side} output")
        else:
            out = "" if place + 1 in loops else "out "
            beyond = Jack(SWITCHER, f"{out}after loop {item}")
        yield from _loop(tables, item, here, beyond)
        here = beyond
    if here != start or side == "front":
        yield Edge(here, end, "lead")


def _loop(tables: Lookup, number: int, before: Jack, beyond: Jack) -> Iterator[Edge]:
    yield Edge(before, beyond, "straight", number)
    loop = tables.loops.get(number)
    pedals = [pedal for pedal in loop.pedals if pedal in tables.pedals] if loop else []
    if not pedals:
        return
    send, back = Jack(SWITCHER, f"send {number}"), Jack(SWITCHER, f"return {number}")
    yield Edge(before, send, "send", number)
    here = send
    for pedal in pedals:
        yield Edge(here, Jack(pedal, "in"), "lead")
        here = Jack(pedal, "out")
        yield Edge(Jack(pedal, "in"), here, "pedal")
    yield Edge(here, back, "lead")
    yield Edge(back, beyond, "return", number)


_graphs: Remembered[SignalGraph] = Remembered()


def graph_of(rig: Rig) -> SignalGraph:
    """Return the rig's signal graph, the very same one while its tables are the same objects."""
    parts = (rig.switcher, rig.pedals, rig.loops, rig.chain)
    return _graphs.get(parts, lambda: SignalGraph(rig))
