"""Presets that the file keeps in several memories, when a plan stores others there.

Where each goes is worked out by hand; that a memory holds one preset is arithmetic.
"""

from __future__ import annotations

import pytest
from rigs_made import make_rig, preset, song, switcher

from rigtui.model import Rig
from rigtui.moves import count_song
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question
from rigtui.plan.memories.switches import needed_switcher, stored


def four() -> Rig:
    """Clean in three memories of six, Lead in two, and two presets in one each."""
    return make_rig(
        switcher=switcher(memories=6, bank_size=3),
        loops=[{"number": number, "side": "front"} for number in (1, 2)],
        chain={"front": [1, 2]},
        presets=[
            preset("clean", memory=1, copies=[4, 5]),
            preset("lead", 1, memory=2, copies=[6]),
            preset("wide", 2, memory=3),
            preset("all", 1, 2, memory=9, copies=[8]),
        ],
        songs=[song("low-fen", "clean", "lead", "wide", "lead", "clean", "all")],
    )


@pytest.mark.parametrize(
    ("memories", "wanted"),
    [
        # All, beyond the switcher, takes a copy's place only as nothing else is free.
        ({}, {"clean": (1, 5), "lead": (2, 6), "wide": (3,), "all": (4,)}),
        # Wide takes a copy's place and leaves its own to All.
        ({"wide": 4}, {"clean": (1, 5), "lead": (2, 6), "wide": (4,), "all": (3,)}),
        # Lead moves to its own copy.
        ({"lead": 6}, {"clean": (1, 4, 5), "lead": (6,), "wide": (3,), "all": (2,)}),
    ],
)
def test_copies_stay_unless_a_preset_needs_the_place(
    memories: dict[str, int], wanted: dict[str, tuple[int, ...]]
) -> None:
    """A preset never loses its only memory to a copy."""
    rig = stored(four(), needed_switcher(four()), memories)
    assert {row.id: row.memories for row in rig.presets} == wanted


def test_a_plan_of_memories_stores_one_preset_in_each() -> None:
    """Whatever copies the file had."""
    made = plan(four(), Question(kind="switches"))
    assert made.rig is not None
    held = [memory for row in made.rig.presets for memory in (row.memory, *row.copies)]
    assert None not in held
    assert len(held) == len(set(held))
    assert max(filter(None, held)) <= 6


def test_a_plan_of_loops_counts_the_copies_that_stay() -> None:
    """A copy of one preset stays in a free memory, and its moves are the ones that are counted."""
    rig = make_rig(
        amp={"channels": ["clean", "drive"]},
        switcher=switcher(4, 2, bank_buttons="up"),
        presets=[
            preset("a", memory=1, channel="clean"),
            preset("b", memory=3, copies=[2], channel="clean"),
            preset("c", memory=4, channel="drive"),
        ],
        songs=[song("x", "b", "b", "c", "c", "c")],
    )
    made = plan(rig, Question("loops", keep=("c",), keep_order=True))
    assert made.rig is not None
    assert made.moves_after == count_song(made.rig, made.rig.songs[0]).moves
