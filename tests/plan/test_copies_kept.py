"""Presets that the file has in several memories, when a plan stores others there.

Where each goes is worked out by hand; that a memory holds one preset is arithmetic.
"""

from __future__ import annotations

import pytest
from plan.test_loops import drawn
from rigs_made import loop, make_rig, pedal, preset, song, switcher
from screens import DEMOS

from rigtui.model import Rig
from rigtui.moves import count_song
from rigtui.plan.answer import plan
from rigtui.plan.ask.checked import needed_switcher
from rigtui.plan.ask.question import Question
from rigtui.plan.memories.switches import stored
from rigtui.store.load import load


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
        # Lead is given one memory anew, and takes it from a copy of its own.
        ({"lead": 6}, {"clean": (1, 4, 5), "lead": (6,), "wide": (3,), "all": (2,)}),
    ],
)
def test_copies_of_the_others_stay_unless_a_preset_needs_the_place(
    memories: dict[str, int], wanted: dict[str, tuple[int, ...]]
) -> None:
    """A preset never loses its only memory to a copy."""
    rig = stored(four(), needed_switcher(four()), memories)
    assert {row.id: row.memories for row in rig.presets} == wanted


def test_a_memory_has_one_preset() -> None:
    """Whatever copies the file had, and whichever the plan makes."""
    made = plan(four(), Question(kind="switches"))
    assert made.rig is not None
    held = [memory for row in made.rig.presets for memory in row.memories]
    assert len(held) == len(set(held))
    assert max(held) <= 6


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


def copied() -> Rig:
    """Three banks of two; clean stands beside each of two sounds, and once more for nothing.

    By hand: the first song needs clean and drive, the second clean and lead: 6 recalls and no bank
    step with clean in both banks, 3 steps more with clean in one.
    """
    return make_rig(
        switcher=switcher(memories=6, bank_size=2),
        pedals=[pedal("drive"), pedal("boost")],
        loops=[loop(1, "drive"), loop(2, "boost")],
        chain={"front": [1, 2]},
        presets=[
            preset("clean", memory=1, copies=[3, 5]),
            preset("drive", 1, memory=2),
            preset("lead", 1, 2, memory=4),
        ],
        songs=[
            song("low-fen", "clean", "drive", "clean", "drive"),
            song("tin-moth", "lead", "clean", "lead", "clean"),
        ],
    )


@pytest.mark.parametrize("kind", ["switches", "all"])
def test_copies_stay_where_they_help(kind: str) -> None:
    """The copy that the second song needs stays where it is; none is worth a step more."""
    made = plan(copied(), Question(kind))
    assert made.rig is not None
    assert (made.after.moves, made.after.bank_steps, made.proved) == (6, 0, True)
    clean = made.rig.presets[0].memories
    assert {1, 3} <= set(clean)


@pytest.mark.parametrize("kind", ["switches", "loops", "all"])
@pytest.mark.parametrize("name", ["quay-street", "three-piece", "first-rig"])
def test_an_accepted_plan_is_not_undone(name: str, kind: str) -> None:
    """Planning again for the rig as planned is never worse by what plans are compared by."""
    _, rig = load(DEMOS / f"{name}.toml")
    made = plan(rig, Question(kind, seconds=1))
    if made.rig is None or made.after is None:
        return
    again = plan(made.rig, Question(kind, seconds=0.5))
    assert again.after is not None
    assert made.goal.key(again.after) <= made.goal.key(made.after)


@pytest.mark.parametrize("seed", range(0, 60, 3))
def test_an_accepted_plan_of_a_small_rig_is_not_undone(seed: int) -> None:
    """The same on small rigs, where the plan that is found again is no other rig at all."""
    rig, _ = drawn(seed)
    made = plan(rig, Question("all"))
    if made.rig is None or made.after is None:
        return
    again = plan(made.rig, Question("all"))
    assert again.after is not None
    assert made.goal.key(again.after) <= made.goal.key(made.after)
    if again.after == made.after:
        assert again.rig == made.rig
