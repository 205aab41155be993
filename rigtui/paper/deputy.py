"""The deputy pack: all that somebody else needs to play the gig on this rig."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from rigtui.model import Rig, Setlist
from rigtui.paper.causes import Remark
from rigtui.paper.cautions import HEARING
from rigtui.paper.content import Block, Para, Part, Sheet, day_in_words
from rigtui.paper.floor import STAY, floor_parts
from rigtui.paper.program import program_sheet
from rigtui.paper.rehearsal import rehearsal_parts
from rigtui.paper.sounds import sounds
from rigtui.paper.wiring import wiring_sheet


def deputy_pack(rig: Rig, setlist: Setlist, remarks: Sequence[Remark], day: date) -> Sheet:
    """Describe the deputy pack: sounds, floor, programming, wiring and rehearsal in one."""
    chapters = (
        ("On the floor", floor_parts(rig, setlist)),
        ("In the switcher", program_sheet(rig, setlist, day).parts),
        ("On the board", wiring_sheet(rig, setlist, day).parts),
        ("To rehearse", rehearsal_parts(rig, remarks)),
    )
    parts = [_start(rig, setlist), *sounds(rig, setlist)]
    for title, chapter in chapters:
        first, *rest = chapter or (Part(()),)
        title += f": {first.title}" if first.title else ""
        parts += [replace(first, title=title, new_page=True), *rest]
    when = f", {day_in_words(setlist.date)}" if setlist.date else ""
    return Sheet("deputy", f"Deputy pack: {setlist.label}", f"{rig.name}{when}", tuple(parts), day)


def _start(rig: Rig, setlist: Setlist) -> Part:
    blocks: list[Block] = [Para(rig.deputy_note)] if rig.deputy_note else []
    switcher = rig.switcher
    if switcher is not None and switcher.banks > 1:
        ends = "" if switcher.bank_wrap else ", and the bank buttons stop at the first and the last"
        blocks.append(
            Para(
                f"A switch recalls a preset of the bank shown: 2/1 is bank 2, switch 1. There are "
                f"{switcher.banks} banks of {switcher.bank_size}{ends}. {STAY.capitalize()}."
            )
        )
    else:
        blocks.append(Para(f"Each switch recalls one preset. {STAY.capitalize()}."))
    blocks.append(
        Para("A section marked ! needs more presses on one beat than is comfortable: practise it.")
    )
    blocks.append(Para(HEARING, "caution"))
    return Part(tuple(blocks), "How to read this")
