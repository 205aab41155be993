"""Bounds hold for every plan of their kind: what copies can beat is not called proved."""

from __future__ import annotations

import pytest
from rigs_made import Data, make_rig, preset, setlist, song, switcher

from rigtui.model import Rig
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Status
from rigtui.plan.words.outcome import verdict


def switching(presets: dict[str, str], songs: list[Data], memories: int, bank_size: int) -> Rig:
    """Presets, each with its amp channel and no loop, in memories from 1 on, and songs."""
    return make_rig(
        amp={"channels": sorted(set(presets.values()))},
        switcher=switcher(memories, bank_size),
        presets=[
            preset(name, memory=at, channel=channel)
            for at, (name, channel) in enumerate(presets.items(), 1)
        ],
        songs=songs,
        setlists=[setlist("night", *[row["id"] for row in songs])],
    )


def torn() -> Rig:
    """Banks of three and two; both songs want the same preset, and no one copy alone helps."""
    channels = {name: name for name in "abcd"}
    return switching(channels, [song("x", "a", "c"), song("y", "d", "b", "a")], 5, 3)


@pytest.mark.parametrize("kind", ["switches", "all"])
def test_copies_that_one_by_one_save_nothing_prove_nothing(kind: str) -> None:
    """With a copy of the shared preset each song has a bank: 3 moves, so 4 are not proved."""
    made = plan(torn(), Question(kind, copies=1))
    assert made.lower_bound <= 3
    assert made.moves_after is not None
    assert made.proved == (made.moves_after == 3)


@pytest.mark.parametrize("kind", ["switches", "all"])
def test_a_proof_without_copies_says_so(kind: str) -> None:
    """No copies asked for: 4 is the least without them, and what copies cannot beat stands by."""
    made = plan(torn(), Question(kind))
    assert (made.moves_after, made.lower_bound, made.status) == (4, 4, Status.OPTIMAL)
    assert made.details["bound_with_copies"] == 3
    assert verdict(made) == (
        "Proved: without copies no plan of this kind takes less effort inside songs; with copies, "
        "none goes below 3"
    )
    assert verdict(made, brief=True) == (
        "Proved: no plan without copies takes less effort inside songs"
    )


def test_no_memory_for_a_copy_leaves_the_proof() -> None:
    """Where every memory is taken copies were asked for in vain: the placement is still proved."""
    rig = switching({name: name for name in "abc"}, [song("x", "a", "b", "c")], 3, 2)
    made = plan(rig, Question("switches", copies=2))
    assert (made.moves_after, made.lower_bound, made.status) == (3, 3, Status.OPTIMAL)
    assert verdict(made) == "Proved: no plan of this kind takes less effort inside songs"


def test_what_the_rig_has_in_two_memories_is_not_planned_away() -> None:
    """All together is no worse than a rig with one sound in both banks, and not proved worse."""
    rig = switching(
        {"a": "clean", "b": "crunch", "a-again": "clean", "c": "lead"},
        [song("x", "a", "b", "a", "b"), song("y", "a-again", "c", "a-again", "c")],
        4,
        2,
    )
    made = plan(rig, Question("all"))
    assert (made.moves_before, made.moves_after, made.lower_bound) == (6, 6, 6)
    assert made.rig == rig
