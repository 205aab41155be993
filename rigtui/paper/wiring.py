"""The wiring sheet: the way from guitar to amp and back, jack by jack."""

from __future__ import annotations

from datetime import date

from rigtui.chain import graph_of
from rigtui.chain.graph import Jack
from rigtui.model import Rig, Setlist
from rigtui.model.lookup import lookup
from rigtui.model.text import count
from rigtui.paper.bench import bench_parts
from rigtui.paper.cautions import MAINS, VALVES
from rigtui.paper.chain_picture import chain_picture
from rigtui.paper.content import BOX, Block, Column, Para, Part, Sheet, Table

SIDES = {"front": "before the amp", "fx": "effects loop"}
USES = {
    "foot": "its own footswitch",
    "treadle": "goes on when rocked",
    "always": "left on",
    "between": "between songs",
    "home": "not on the board",
}
LEADS = (Column("no."), Column("from"), Column("to"), Column("lead"), Column("done", "boxes"))


def wiring_sheet(rig: Rig, setlist: Setlist | None, day: date) -> Sheet:
    """Describe the wiring sheet: leads in signal order, loops, what is outside, and the bench.

    Args:
        rig: The rig.
        setlist: Pedals that this evening does not need are named; None needs them all.
        day: The day it is made.
    """
    wired = graph_of(rig).leads
    rows = tuple(
        (
            str(lead.number), _jack(rig, lead.start), _jack(rig, lead.end),
            "long" if lead.long else "patch", BOX,
        )
        for lead in wired
    )  # fmt: skip
    long = sum(lead.long for lead in wired)
    in_all = f"{count(len(wired) - long, 'patch lead')} and {count(long, 'long lead')}"
    parts = [
        Part((Para(_boxes(rig)), *not_needed(rig, setlist))),
        Part((chain_picture(rig),), "The chain"),
        Part((Table("Leads in signal order", LEADS, rows),), "Jack by jack"),
        _inside(rig),
        *_outside(rig),
        *bench_parts(rig),
        Part((Para(MAINS, "caution"), Para(VALVES, "caution")), "Before you plug in"),
    ]
    subtitle = f"{rig.name}: {in_all}, not counting control and power leads"
    return Sheet("wiring", "Wiring sheet", subtitle, tuple(parts), day)


def _boxes(rig: Rig) -> str:
    switcher = rig.switcher.name if rig.switcher else ""
    return f"Switcher: {switcher or 'not named'}. Amp: {rig.amp.name or 'not named'}."


def not_needed(rig: Rig, setlist: Setlist | None) -> tuple[Block, ...]:
    """Pedals that no section of an evening sounds: they may stay at home, or be bypassed."""
    if setlist is None:
        return ()
    known = lookup(rig)
    sections = [
        section
        for song_id in setlist.song_ids
        if song_id in known.songs
        for section in known.songs[song_id].sections
    ]
    heard = {pedal for section in sections for pedal in (*known.sound(section), *section.may)}
    idle = [
        pedal.label
        for pedal in rig.pedals
        if pedal.id not in heard
        and (pedal.id in known.loop_of or pedal.used not in ("between", "home"))
    ]
    if not idle:
        return (Para(f"{setlist.label} needs all pedals."),)
    return (Para(f"Not needed for {setlist.label}: {', '.join(idle)}."),)


def _inside(rig: Rig) -> Part:
    known = lookup(rig)
    rows = tuple(
        (
            str(loop.number),
            SIDES[loop.side],
            " > ".join(known.label(pedal) for pedal in loop.pedals) or "empty",
        )
        for loop in rig.loops
    )
    columns = (Column("loop"), Column("side"), Column("pedals"))
    table: Block = Table("Pedals in loops", columns, rows) if rows else Para("No loops yet.")
    return Part((table,), "In the loops")


def _outside(rig: Rig) -> list[Part]:
    known = lookup(rig)
    rows = tuple((pedal.label, SIDES[pedal.side], USES[pedal.used]) for pedal in known.outside())
    columns = (Column("pedal"), Column("side"), Column("use"))
    return [Part((Table("Pedals outside", columns, rows),), "Outside the loops")] * bool(rows)


def _jack(rig: Rig, jack: Jack) -> str:
    return f"{lookup(rig).label(jack.box)}: {jack.name}"
