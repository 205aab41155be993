"""Sentences that are made of a plan: what to get, and which sounds clash."""

from __future__ import annotations

import pytest
from rigs_made import make_rig, preset, section, song, switcher

from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.result import Clashing, Conflict, Figures, Plan, Status
from rigtui.plan.words.conflict import conflict_words
from rigtui.plan.words.steps import steps


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        (8, 16, "get a switcher with 16 memories (4 banks of 4) instead of 8"),
        (16, 8, "use 8 memories of the switcher's 16 (2 banks of 4)"),
    ],
)
def test_more_memories_are_bought_and_fewer_left_unused(before: int, after: int, said: str) -> None:
    """Another switcher is the first thing to do; a smaller one is the same one, used less."""
    now, then = (
        make_rig(
            switcher=switcher(memories, 4),
            presets=[preset("a", memory=1)],
            songs=[song("low-fen", "a")],
        )
        for memories in (before, after)
    )
    assert steps(now, then, evening_of(now))[0] == said


def test_a_sound_that_clashes_is_named_with_the_sections_that_want_it() -> None:
    """Song by song, its sections together; after three songs only how many there are more."""
    songs = [song(f"s{n}", section(name="Verse"), section(name="Out"), title=f"S{n}")
             for n in range(5)]  # fmt: skip
    rig = make_rig(songs=songs)
    places = ("songs.s0.sections.0", "songs.s0.sections.1", "songs.s1.sections.1",
              *(f"songs.s{n}.sections.0" for n in (2, 3, 4)))  # fmt: skip
    conflict = Conflict("too many", (Clashing("Clean", "drive off", places),))
    plan = Plan("loops", Status.INFEASIBLE, Figures(0, 0, 0, 0), conflict=conflict)
    ((line, _),) = conflict_words(plan, rig).sounds
    assert line == (
        "Clean (drive off): S0, sections 1 and 2; S1, section 2 (Out); S2, section 1 (Verse); "
        "and 2 more songs"
    )
