"""The kinds of sheets: the one table that everything which offers, checks or sets a sheet reads.

What stands on a sheet is described in `rigtui.paper`. This table is plain data, so that
`rigtui sheet --help` answers at once.
"""

from __future__ import annotations

from typing import NamedTuple

IN_HAND_M = 0.5
ON_THE_FLOOR_M = 2.0


class SheetFacts(NamedTuple):
    """What there is to know of a kind of sheet before it is made."""

    name: str
    """In a sentence: "floor sheet"."""
    shows: str
    """What is on it, for the command's help."""
    distance_m: float
    """How far away it is usually read, in metres."""
    of_a_setlist: bool = True
    """Whether it is of one setlist; if not it is of the whole rig, which a setlist may narrow."""
    prints_findings: bool = False
    """Whether it says what the checks find."""
    fills_pages: bool = False
    """Whether its type is made larger as far as it takes no more pages."""


SHEET_KINDS: dict[str, SheetFacts] = {
    "set": SheetFacts(
        "set sheet",
        "the set on one page: each song in a few lines, with changes only",
        IN_HAND_M,
        fills_pages=True,
    ),
    "floor": SheetFacts(
        "floor sheet",
        "the setlist in big type: for each section the switch to press, its sound, "
        'and what feet and hands do; crowded changes are marked "!"',
        ON_THE_FLOOR_M,
    ),
    "program": SheetFacts(
        "programming sheet",
        "what to key into the switcher, memory by memory, with boxes to tick",
        IN_HAND_M,
        of_a_setlist=False,
    ),
    "wiring": SheetFacts(
        "wiring sheet",
        "from the guitar to the amp and back, jack by jack",
        IN_HAND_M,
        of_a_setlist=False,
    ),
    "rehearsal": SheetFacts(
        "rehearsal sheet",
        "the busiest changes, the findings, and room to write",
        IN_HAND_M,
        prints_findings=True,
    ),
    "soundcheck": SheetFacts(
        "soundcheck card",
        "what to check in which order, each sound with what to listen for, solo against rhythm",
        IN_HAND_M,
    ),
    "packing": SheetFacts(
        "packing list",
        "devices, leads with spares, supplies, tools and paper, with boxes to tick",
        IN_HAND_M,
        of_a_setlist=False,
    ),
    "deputy": SheetFacts(
        "deputy pack",
        "for whoever stands in: how to read it, what each sound is like, chain, set sheets",
        IN_HAND_M,
        fills_pages=True,
    ),
}
"""By the name that the rig file and the command line have for it, in the order in which they are
offered."""
