"""The programming sheet: what to key into the switcher, memory by memory, with a box to tick."""

from __future__ import annotations

from datetime import date

from rigtui.model import Preset, Rig
from rigtui.model.base import number_text
from rigtui.model.text import count
from rigtui.sheets.content import Block, Para, Part, Sheet, Table

BOX = "[ ]"


def program_sheet(rig: Rig, day: date) -> Sheet:
    """Describe the programming sheet: a part for each bank, then presets in no memory."""
    switcher = rig.switcher
    banks = switcher.banks if switcher else 0
    parts = [bank_part(rig, bank) for bank in range(banks)]
    memories = switcher.memories if switcher else 0
    homeless = [one for one in rig.presets if one.memory is None or one.memory > memories]
    if homeless:
        note = Para("Planned, but stored nowhere yet: give each a memory, or do without it.")
        table = _table(rig, "Presets in no memory", [("-", one) for one in homeless])
        parts.append(Part((note, table), "In no memory"))
    stored = len(rig.presets) - len(homeless)
    subtitle = f"{rig.name}: {count(stored, 'preset')} in {count(memories, 'memory', 'memories')}"
    return Sheet("program", "Programming sheet", subtitle, tuple(parts), day)


def bank_part(rig: Rig, bank: int) -> Part:
    """Describe one bank, counted from 0: a row for each switch, empty ones included."""
    assert rig.switcher is not None
    size, memories = rig.switcher.bank_size, rig.switcher.memories
    held = {one.memory: one for one in reversed(rig.presets)}
    rows = []
    for memory in range(bank * size + 1, min((bank + 1) * size, memories) + 1):
        rows.append((str((memory - 1) % size + 1), held.get(memory)))
    blocks: tuple[Block, ...] = (_table(rig, f"Bank {bank + 1}", rows),)
    return Part(blocks, f"Bank {bank + 1}" if rig.switcher.banks > 1 else "Memories")


def _table(rig: Rig, caption: str, rows: list[tuple[str, Preset | None]]) -> Table:
    loops = [str(loop.number) for loop in rig.loops]
    head = ("switch", "preset", *loops, "channel", "hands", "done")
    share = min(0.045, 0.36 / max(1, len(loops)))
    widths = (0.08, 0.22, *(share for _ in loops), 0.1, 0.18, 0.06)
    return Table(caption, head, tuple(_row(rig, where, preset) for where, preset in rows), widths)


def _row(rig: Rig, where: str, preset: Preset | None) -> tuple[str, ...]:
    if preset is None:
        return (where, "(free)", *("" for _ in rig.loops), "", "", "")
    cells = ["ON" if loop.number in preset.loops else "off" for loop in rig.loops]
    hands = []
    if preset.guitar_volume is not None:
        hands.append(f"volume {number_text(preset.guitar_volume)}")
    if preset.pickup:
        hands.append(f"{preset.pickup} pickup")
    if preset.hands:
        hands.append(preset.hands.replace("\n", " "))
    return (where, preset.label, *cells, preset.channel or "-", ", ".join(hands), BOX)
