"""The packing list: devices, leads with spares, supplies, tools, paper; a box to tick each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from rigtui.chain import graph_of
from rigtui.model import Rig, Setlist, Song
from rigtui.model.lookup import lookup
from rigtui.model.text import count, listed
from rigtui.paper.cautions import HEARING, MAINS
from rigtui.paper.content import BOX, Column, Para, Part, Sheet, Table
from rigtui.paper.wiring import SIDES, not_needed

COLUMNS = (
    Column("what"), Column("how many"), Column("for"), Column("in", "boxes"),
    Column("back", "boxes"),
)  # fmt: skip
SPARE_LONG, SPARE_PATCH = 1, 2
"""Leads over what the rig is wired with. Source: common practice."""
# What no rig file knows. Source: common practice.
SUPPLIES = (
    ("Supply of the board with its leads", 1, "each pedal at its own voltage and polarity"),
    ("Spare lead of the supply", 1, ""),
    ("Mains leads", 2, "amp and board"),
    ("Mains extension with protective earth", 1, "long enough from the wall"),
    ("Batteries", 2, "whatever runs on them"),
    ("Picks, slide, strap", 1, ""),
    ("Fuse of the marked rating", 1, "the amp: a qualified person changes it"),
)
TOOLS = (
    ("Joiner of two leads", 1, "bridging a dead loop"),
    ("Torch", 1, ""),
    ("Screwdrivers, cutters, string winder", 1, ""),
    ("Meter or lead tester", 1, "which lead it is"),
    ("Tape, marker, ties", 1, "what is loose"),
    ("Earplugs", 1, "you, at every soundcheck"),
)
PAPER = (
    ("Set sheets", 2, "the stand, and the case"),
    ("Programming sheet", 1, "a switcher that has lost its presets"),
    ("Wiring sheet", 1, "a board that has come apart"),
    ("Copy of the rig file", 1, "everything else"),
)
_Rows = Iterable[tuple[str, int, str]]


def packing_list(rig: Rig, setlist: Setlist | None, day: date) -> Sheet:
    """Describe the packing list.

    Args:
        rig: The rig.
        setlist: Guitars are those of this evening, and pedals that it does not need are named;
            None needs everything.
        day: The day it is made.
    """
    songs = _songs(rig, setlist)
    groups: tuple[tuple[str, _Rows], ...] = (
        ("Guitars", _guitars(songs)),
        ("Devices", _devices(rig)),
        ("Leads, with spares", _leads(rig)),
        ("Supplies", SUPPLIES),
        ("Tools", TOOLS),
        ("Paper", PAPER),
    )
    parts = [
        Part((Table(title, COLUMNS, tuple(map(_row, rows))),), title) for title, rows in groups
    ]
    idle = not_needed(rig, setlist)
    if idle:
        parts.insert(0, Part(idle))
    parts.append(Part((Para(MAINS, "caution"), Para(HEARING, "caution")), "Before you plug in"))
    evening = f" for {setlist.label}" if setlist is not None else ""
    return Sheet("packing", "Packing list", f"{rig.name}{evening}", tuple(parts), day)


def _row(row: tuple[str, int, str]) -> tuple[str, ...]:
    what, number, use = row
    return what, str(number), use, BOX, BOX


def _songs(rig: Rig, setlist: Setlist | None) -> list[Song]:
    if setlist is None:
        return list(rig.songs)
    songs = lookup(rig).songs
    return [songs[song_id] for song_id in dict.fromkeys(setlist.song_ids) if song_id in songs]


def _guitars(songs: list[Song]) -> Iterator[tuple[str, int, str]]:
    tunings: dict[str, dict[str, None]] = {}
    for song in songs:
        if song.guitar:
            tunings.setdefault(song.guitar, {}).update({song.tuning: None} if song.tuning else {})
    for guitar, used in tunings.items():
        yield guitar, 1, f"tuned {listed(used)}" if used else ""
    if not tunings:
        yield "Guitar", 1, ""
    yield "Sets of strings", max(1, len(tunings)), "one for each guitar"
    capos = sorted({song.capo for song in songs if song.capo})
    if capos:
        yield "Capo", 1, f"fret {listed(map(str, capos))}"


def _devices(rig: Rig) -> Iterator[tuple[str, int, str]]:
    known = lookup(rig)
    yield rig.amp.name or "Amp", 1, ""
    if rig.amp.channel_switch == "foot":
        yield "Footswitch of the amp, with its lead", 1, "its channels"
    if rig.switcher is not None:
        yield rig.switcher.name or "Switcher", 1, count(rig.switcher.memories, "memory", "memories")
    for pedal in (known.pedals[name] for name in known.order):
        number = known.loop_of.get(pedal.id)
        if pedal.used != "home" or number is not None:
            where = SIDES[pedal.side]
            yield pedal.label, 1, f"loop {number}" if number is not None else f"outside, {where}"
    for device in rig.midi:
        if device.id not in known.pedals:
            yield device.label, 1, "MIDI"


def _leads(rig: Rig) -> Iterator[tuple[str, int, str]]:
    leads = graph_of(rig).leads
    long = sum(lead.long for lead in leads)
    patch = len(leads) - long
    spare = f"{count(SPARE_LONG, 'spare')} that reaches from the guitar straight to the amp"
    yield "Long leads", long + SPARE_LONG, f"{long}, and {spare}"
    if patch:
        spares = f"{count(SPARE_PATCH, 'spare')}, as long as the longest"
        yield "Patch leads", patch + SPARE_PATCH, f"{patch} on the board, and {spares}"
    if rig.midi:
        yield "MIDI leads", len(rig.midi) + 1, f"{len(rig.midi)}, and 1 spare"
