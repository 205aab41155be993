"""The signal as one line to read, from the guitar to the amp and through its effects loop."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby, takewhile
from typing import NamedTuple

from rigtui.chain.graph import AMP, Edge, SignalGraph
from rigtui.model.base import SIDES, Side


class LineStop(NamedTuple):
    """A pedal, the guitar or the amp, and how the signal comes to it."""

    box: str
    """A pedal's id, `GUITAR` or `AMP`."""
    jack: str
    """Where the signal comes in; of the jack where a side begins, its name."""
    lead: int = 0
    """Number of the lead that comes to it; 0 where a side begins."""


class LoopStop(NamedTuple):
    """A loop of the switcher, and the pedals in it."""

    number: int
    lead: int
    """Number of the lead into the switcher; 0 where another loop stands right before."""
    pedals: tuple[LineStop, ...]
    back: int
    """Number of the lead from its last pedal back to the switcher; 0 in an empty loop."""


Line = dict[Side, tuple[LineStop | LoopStop, ...]]
"""What stands on each side in signal order; a side that nothing is wired to is left out."""


def signal_line(graph: SignalGraph) -> Line:
    """Return the stops of a rig's signal on each side."""
    main = takewhile(lambda edge: edge.kind != "tap", graph.edges)
    runs = [list(run) for amp, run in groupby(main, lambda edge: edge.kind == "amp") if not amp]
    return {side: tuple(_stops(run)) for side, run in zip(SIDES, runs)}


def _stops(edges: list[Edge]) -> Iterator[LineStop | LoopStop]:
    yield LineStop(*edges[0].start)
    filled = {edge.number for edge in edges if edge.kind == "send"}
    into = lead = 0
    pedals: list[LineStop] | None = None
    """Those of the loop that the signal is in."""
    for edge in edges:
        if edge.kind == "lead":
            lead = edge.number
            if edge.end.box == AMP:
                yield LineStop(*edge.end, lead)
        elif edge.kind == "pedal":
            stop = LineStop(*edge.start, lead)
            if pedals is None:
                yield stop
            else:
                pedals.append(stop)
        elif edge.kind == "straight":
            into, lead = lead, 0
            if edge.number not in filled:
                yield LoopStop(edge.number, into, (), 0)
        elif edge.kind == "send":
            pedals = []
        elif edge.kind == "return" and pedals is not None:
            yield LoopStop(edge.number, into, tuple(pedals), lead)
            pedals, lead = None, 0
