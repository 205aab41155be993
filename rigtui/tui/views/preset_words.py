"""What the presets view shows: its lines and columns, and a preset in words."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.content import Content

from rigtui.model.text import count
from rigtui.tui.text import plain
from rigtui.tui.widgets.grid import Column

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Preset, Rig

ON, OFF = "on", "."


@dataclass(frozen=True, slots=True)
class Line:
    """What one preset shows in the matrix."""

    name: str
    place: str
    loops: frozenset[int]
    role: str
    uses: str = ""
    more: tuple[str, str, str] = ("", "", "")
    """Channel, guitar volume and pedals: shown where there is room."""


_WIDE = 100
"""Cells of width from which channel, volume and pedals have columns of their own."""


def columns_for(width: int, loops: list[tuple[int, list[str]]]) -> list[Column]:
    """The matrix's columns; loops get what room the words leave them, three to seven cells each."""
    wide = width >= _WIDE
    name, words = (24, 11 + 6 + 10 + 8 + 24) if wide else (20, 11 + 5)
    each = max(3, min(7, (width - name - 8 - words) // max(1, len(loops))))
    columns = [
        Column(("", " Preset"), name, frozen=True, pick=False),
        Column(("bank/", "switch"), 8, frozen=True, pick=False, look="grid--dim"),
    ]
    for number, pedals in loops:
        short = pedals[0][: each - 1] if pedals else "-"
        columns.append(Column((str(number), short), each))
    columns.append(Column(("", "Role"), 11, pick=False, look="grid--dim"))
    columns.append(Column(("", "Uses"), 5, pick=False, align="right", look="grid--dim"))
    if wide:
        rest = max(12, width - sum(column.width for column in columns) - 17)
        columns.append(Column(("", "  Channel"), 10, pick=False, look="grid--dim"))
        columns.append(Column(("guitar", "volume"), 7, pick=False, look="grid--dim"))
        columns.append(Column(("", "Pedals"), rest, pick=False, look="grid--dim"))
    return columns


def extras(rig: Rig, preset: Preset) -> tuple[str, str, str]:
    """Channel, guitar volume and pedals of a preset, in a few letters each."""
    from rigtui.model.base import number_text
    from rigtui.model.lookup import lookup

    found = lookup(rig)
    volume = "-" if preset.guitar_volume is None else number_text(preset.guitar_volume)
    pedals = " > ".join(found.label(one) for one in found.preset_pedals(preset))
    return f"  {preset.channel or '-'}", volume, pedals or "-"


def place(memory: int | None, bank_size: int) -> str:
    """Where a memory is found: bank, stroke, switch."""
    if memory is None or not bank_size:
        return "-" if memory is None else str(memory)
    bank, switch = divmod(memory - 1, bank_size)
    return f"{bank + 1}/{switch + 1}"


def uses_of(rig: Rig) -> Counter[str | None]:
    """How many sections use each preset."""
    return Counter(section.preset for song in rig.songs for section in song.sections)


def words_of(
    rig: Rig, preset: Preset, loop: int | None, findings: tuple[Finding, ...]
) -> list[Content]:
    """A preset in words: what it is for, its pedals, the hands, the loop under the cursor."""
    from rigtui.model.base import number_text
    from rigtui.model.lookup import lookup

    found = lookup(rig)
    songs = sum(any(s.preset == preset.id for s in song.sections) for song in rig.songs)
    memory = "not stored in a memory yet"
    if preset.memory is not None and rig.switcher:
        bank, switch = divmod(preset.memory - 1, rig.switcher.bank_size)
        memory = f"memory {preset.memory} (bank {bank + 1}, switch {switch + 1})"
    uses = uses_of(rig)[preset.id]
    used = f"used in {count(uses, 'section')} of {count(songs, 'song')}" if uses else "not used"
    head = Content.styled(plain(preset.label).plain, "bold")
    lines = [head + plain(f"  {preset.role}, {memory}, {used}")]
    pedals = [found.label(pedal) for pedal in found.preset_pedals(preset)]
    lines.append(plain("Pedals: " + (" > ".join(pedals) if pedals else "none, straight through")))
    hands = []
    if preset.channel:
        hands.append(f"channel {preset.channel}")
    if preset.guitar_volume is not None:
        hands.append(f"guitar volume {number_text(preset.guitar_volume)}")
    if preset.pickup:
        hands.append(f"{preset.pickup} pickup")
    if preset.hands:
        hands.append(preset.hands.replace("\n", " "))
    lines.append(plain("Hands: " + (", ".join(hands) if hands else "nothing noted")))
    if loop is not None and loop in found.loops:
        row = found.loops[loop]
        inside = ", ".join(found.label(p) for p in row.pedals) or "empty"
        side = "before the amp" if row.side == "front" else "in the amp's effects loop"
        lines.append(plain(f"Loop {loop}, {side}: {inside}"))
    for one in findings:
        if one.where == f"presets.{preset.id}" and one.waived is None:
            lines.append(plain(f"{one.severity}: {one.message}"))
    return lines
