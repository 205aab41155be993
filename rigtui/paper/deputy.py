"""The deputy pack: all that somebody else needs to play the gig on this rig."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from rigtui.model import Rig, Setlist
from rigtui.paper.cautions import HEARING, MAINS, VALVES
from rigtui.paper.chain_picture import chain_picture
from rigtui.paper.content import Block, Para, Part, Sheet, day_in_words
from rigtui.paper.set_sheet import set_sheet
from rigtui.paper.sounds import sounds


def deputy_pack(rig: Rig, setlist: Setlist, day: date) -> Sheet:
    """Describe the deputy pack: how to read it, sounds, the chain, and the set sheets."""
    when = f", {day_in_words(setlist.date)}" if setlist.date else ""
    cautions = (Para(text, "caution") for text in (MAINS, VALVES, HEARING))
    chain = Part((chain_picture(rig), *cautions), "On the board")
    first, *rest = set_sheet(rig, setlist, day).parts
    sets = (replace(first, new_page=True), *rest)
    parts = (_start(rig), *sounds(rig, setlist), chain, *sets)
    return Sheet("deputy", f"Deputy pack: {setlist.label}", f"{rig.name}{when}", parts, day)


def _start(rig: Rig) -> Part:
    blocks: list[Block] = [Para(rig.deputy_note)] if rig.deputy_note else []
    switcher = rig.switcher
    if switcher is not None and switcher.banks > 1:
        ends = (
            ""
            if switcher.bank_wrap
            else ", and the bank buttons stop at the first and the last bank"
        )
        blocks.append(
            Para(
                f"A switch recalls a preset of the bank shown: 2/1 is bank 2, switch 1. There are "
                f"{switcher.banks} banks of {switcher.bank_size}{ends}."
            )
        )
    else:
        blocks.append(Para("Each switch recalls one preset."))
    blocks.append(
        Para("A section marked ! needs more presses on one beat than is comfortable: practise it.")
    )
    return Part(tuple(blocks), "How to read this")
