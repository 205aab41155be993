"""The programming sheet: what to key into the switcher, memory by memory, with a box to tick."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from rigtui.model import Preset, Rig, Setlist
from rigtui.model.lookup import lookup
from rigtui.model.text import count
from rigtui.paper.banks_picture import banks_picture
from rigtui.paper.content import BOX, Column, Para, Part, Sheet, Table
from rigtui.paper.words import UNSTORED, memories_held, place_of, preset_hands


class _StoredSwitch(NamedTuple):
    """A row of the sheet: a memory and what is to be in it."""

    where: str
    preset: Preset | None
    first: str = ""
    """Where the same preset is stored first; empty where that is here."""


MOST_COLUMNS = 10
"""Loops that get a column each; a board with more has its loops listed."""


def program_sheet(rig: Rig, setlist: Setlist | None, day: date) -> Sheet:
    """Describe the programming sheet: a part for each bank, then presets in no memory.

    Args:
        rig: The rig.
        setlist: Presets that this evening does not need are marked; None needs them all.
        day: The day it is made.
    """
    switcher = rig.switcher
    memories = switcher.memories if switcher else 0
    stored = {preset.id: memories_held(rig, preset) for preset in rig.presets}
    homeless = [preset for preset in rig.presets if not stored[preset.id]]
    copies = sum(len(held) - 1 for held in stored.values() if held)
    spare = _spare(rig, setlist)
    subtitle = f"{rig.name}: {count(len(rig.presets) - len(homeless), 'preset')}"
    subtitle += f" and {count(copies, 'copy', 'copies')}" if copies else ""
    subtitle += f" in {count(memories, 'memory', 'memories')}"
    if setlist is not None:
        subtitle += f"; {setlist.label} needs {len(rig.presets) - len(spare)}"
    parts = [_loops(rig), *_banks(rig, spare)]
    if homeless:
        note = Para("Not stored yet: give each a memory, or do without it.")
        table = _table(
            rig,
            "Presets in no memory",
            [_StoredSwitch(UNSTORED, preset) for preset in homeless],
            spare,
        )
        parts.append(Part((note, table), "In no memory"))
    return Sheet("program", "Programming sheet", subtitle, tuple(parts), day)


def _spare(rig: Rig, setlist: Setlist | None) -> frozenset[str]:
    """Presets that no section of an evening names."""
    if setlist is None:
        return frozenset()
    songs = lookup(rig).songs
    needed = {
        section.preset
        for song_id in setlist.song_ids
        if song_id in songs
        for section in songs[song_id].sections
    }
    return frozenset(preset.id for preset in rig.presets if preset.id not in needed)


def _loops(rig: Rig) -> Part:
    known = lookup(rig)
    inside = [
        f"{loop.number} {', '.join(known.label(pedal) for pedal in loop.pedals) or 'empty'}"
        for loop in rig.loops
    ]
    switcher = rig.switcher.name if rig.switcher else ""
    return Part((Para(f"{switcher or 'Switcher'}. Loops: {'; '.join(inside) or 'none'}."),))


def _banks(rig: Rig, spare: frozenset[str]) -> list[Part]:
    if rig.switcher is None:
        return []
    size, memories, banks = rig.switcher.bank_size, rig.switcher.memories, rig.switcher.banks
    if banks == 1 or size == 1:
        rows = _rows(rig, range(1, memories + 1), [str(n) for n in range(1, memories + 1)])
        table = _table(rig, "Memories", rows, spare, "bank" if banks > 1 else "switch")
        return [Part((*(banks_picture(rig) if size > 1 else ()), table), "Memories")]
    parts = []
    for bank in range(banks):
        numbers = range(bank * size + 1, min((bank + 1) * size, memories) + 1)
        rows = _rows(rig, numbers, [str(at) for at in range(1, len(numbers) + 1)])
        title = f"Bank {bank + 1}"
        table = _table(rig, title, rows, spare)
        parts.append(Part((*banks_picture(rig, bank), table), title))
    return parts


def _rows(rig: Rig, numbers: range, names: list[str]) -> list[_StoredSwitch]:
    """A row for each memory, empty ones included; one more for each preset that clashes."""
    rows: list[_StoredSwitch] = []
    for number, name in zip(numbers, names):
        held = [preset for preset in rig.presets if number in preset.memories]
        for at, preset in enumerate(held):
            first = place_of(rig, preset) if number != memories_held(rig, preset)[0] else ""
            rows.append(_StoredSwitch(f"! {name}" if at else name, preset, first))
        rows += [_StoredSwitch(name, None)] * (not held)
    return rows


def _table(
    rig: Rig,
    caption: str,
    rows: list[_StoredSwitch],
    spare: frozenset[str],
    where: str = "switch",
) -> Table:
    numbers = [loop.number for loop in rig.loops]
    listed = len(numbers) > MOST_COLUMNS
    loops = [Column(name) for name in (("loops ON", "loops off") if listed else map(str, numbers))]
    # With or without hands and channels, all banks have the same columns.
    more = [Column("channel")] * any(preset.channel for preset in rig.presets)
    more += [Column("hands")] * any(preset_hands(preset) for preset in rig.presets)
    columns = (Column(where), Column("preset"), *loops, *more, Column("done", "boxes"))
    heads = [column.head for column in columns]
    cells = tuple(
        tuple(cells_of_slot.get(head, "") for head in heads)
        for cells_of_slot in (_row(rig, slot, spare) for slot in rows)
    )
    clashing = tuple(at for at, slot in enumerate(rows) if slot.where.startswith("!"))
    return Table(caption, columns, cells, clashing)


def _row(rig: Rig, slot: _StoredSwitch, spare: frozenset[str]) -> dict[str, str]:
    """What stands in each column of a memory."""
    first, preset = {"switch": slot.where, "bank": slot.where}, slot.preset
    if preset is None:
        return {**first, "preset": "free"}
    on = [loop.number for loop in rig.loops if loop.number in preset.loops]
    off = [loop.number for loop in rig.loops if loop.number not in preset.loops]
    name = preset.label + (f" (copy of {slot.first})" if slot.first else "")
    name += " (not needed)" if preset.id in spare else ""
    shown = rig.switcher.display_chars if rig.switcher else None
    if shown is not None and len(preset.label) > shown:
        name += f" (display: {preset.label[:shown]})"
    return {
        **first,
        "preset": name,
        **{str(number): "ON" for number in on},
        **{str(number): "off" for number in off},
        "loops ON": ", ".join(map(str, on)) or "none",
        "loops off": ", ".join(map(str, off)) or "none",
        "channel": preset.channel or "-",
        "hands": preset_hands(preset),
        "done": BOX,
    }
