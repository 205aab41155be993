"""The deputy pack: all that somebody else needs to play the gig on this rig."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from rigtui.checks import Finding
from rigtui.model import Preset, Rig, Setlist
from rigtui.model.base import number_text
from rigtui.model.lookup import lookup
from rigtui.sheets.content import Block, Heading, Para, Part, Sheet
from rigtui.sheets.floor import floor_sheet
from rigtui.sheets.program import program_sheet
from rigtui.sheets.rehearsal import rehearsal_sheet
from rigtui.sheets.wiring import wiring_sheet
from rigtui.sheets.words import place_of

ROLES = {
    "clean": "a clean sound",
    "rhythm": "a rhythm sound with some grit",
    "high-gain": "a heavy rhythm sound",
    "lead": "a sound for solos",
    "ambient": "a wide sound for pads and swells",
    "other": "a sound of its own",
}
HEARING = (
    "Hearing: one health agency's limit is 85 dB(A) for 8 hours, halved for every 3 dB more: 94 dB "
    "for 1 hour, 100 dB for 15 minutes. Use fitted plugs, turn down, rest. Local work rules apply."
)


def deputy_pack(rig: Rig, setlist: Setlist, findings: tuple[Finding, ...], day: date) -> Sheet:
    """Describe the deputy pack: sounds, floor, programming, wiring and rehearsal in one."""
    sheets = (
        ("On the floor", floor_sheet(rig, setlist, day)),
        ("In the switcher", program_sheet(rig, day)),
        ("On the board", wiring_sheet(rig, day)),
        ("To rehearse", rehearsal_sheet(rig, setlist, findings, day)),
    )
    parts = [_start(rig), *_sounds(rig)]
    for title, sheet in sheets:
        first, *rest = sheet.parts or (Part(()),)
        parts.append(
            replace(
                first,
                title=title + (f": {first.title}" if first.title else ""),
                new_page=True,
            )
        )
        parts += rest
    return Sheet("deputy", f"Deputy pack: {setlist.label}", rig.name, tuple(parts), day)


def _start(rig: Rig) -> Part:
    blocks: list[Block] = [Para(rig.note)] if rig.note else []
    switcher = rig.switcher
    if switcher is not None and switcher.banks > 1:
        bank = (
            f"A switch recalls a preset of the bank shown: 2/1 is bank 2, switch 1. There are "
            f"{switcher.banks} banks of {switcher.bank_size}."
        )
        blocks.append(Para(bank))
    blocks.append(
        Para("A change marked ! needs more presses on one beat than is comfortable: practise it.")
    )
    blocks.append(Para(HEARING, "caution"))
    return Part(tuple(blocks), "How to read this")


def _sounds(rig: Rig) -> list[Part]:
    parts = [Part((Para("What each preset is for, and what makes it."),), "The sounds")]
    return parts + [Part(_sound(rig, preset)) for preset in rig.presets]


def _sound(rig: Rig, preset: Preset) -> tuple[Block, ...]:
    found = lookup(rig)
    pedals = " > ".join(found.label(one) for one in found.preset_pedals(preset))
    lines = [f"{ROLES[preset.role].capitalize()}: {pedals or 'no pedal in a loop'}."]
    if preset.channel:
        lines.append(f"Amp on {preset.channel}.")
    if preset.guitar_volume is not None:
        lines.append(f"Guitar volume {number_text(preset.guitar_volume)}.")
    if preset.pickup:
        lines.append(f"Pickup: {preset.pickup}.")
    for text in (preset.hands, preset.note):
        if text:
            lines.append(text.replace("\n", " "))
    return (Heading(f"{place_of(rig, preset)}  {preset.label}", 3), Para(" ".join(lines)))
