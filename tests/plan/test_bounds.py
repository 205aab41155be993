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
    return switching(channels, [song("x", "c", "a"), song("y", "d", "b", "a")], 5, 3)


@pytest.mark.parametrize("kind", ["switches", "all"])
def test_a_bank_for_each_song(kind: str) -> None:
    """With a copy of the shared preset each song has a bank: 3 moves; without copies 4."""
    made = plan(torn(), Question(kind))
    assert (made.moves_after, made.lower_bound, made.status) == (3, 3, Status.OPTIMAL)
    without = made.details["without_copies"]
    assert without == {"value": 4, "lower_bound": 4, "proved": True}
    alone = plan(torn(), Question(kind, copies=0))
    assert (alone.moves_after, alone.lower_bound, alone.status) == (4, 4, Status.OPTIMAL)
    assert verdict(alone) == "Proved: no plan of this kind takes less effort than 4"


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
    alone = plan(rig, Question("all", copies=0))
    assert (alone.moves_after, alone.rig) == (6, rig)
