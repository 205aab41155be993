"""Sentences that are made of a plan: what to get, and which sounds clash."""

from __future__ import annotations

import pytest
from rigs_made import make_rig, preset, section, song, switcher

from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Clashing, Conflict, Figures, Plan, Proof, Status
from rigtui.plan.words.conflict import conflict_words
from rigtui.plan.words.notes import notes
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


@pytest.mark.parametrize(("kind", "whole", "said"), [
    ("loops", 4, True), ("loops", 5, False), ("all", 4, False),
])  # fmt: skip
def test_loops_that_are_best_without_bank_steps(kind: str, whole: int, said: bool) -> None:
    """Loops proved by themselves, the plan not: the player hears what would weigh both."""
    rig = make_rig(songs=[song("low-fen", "a", "a")], presets=[preset("a", memory=1)])
    before = Figures(moves=5, set_up_moves=1, worst_change=1, on_the_beat_worst=1)
    plan = Plan(
        kind, Status.FEASIBLE, before, rig, before, bound=whole,
        parts=(Proof("loops", "moves", 3, 3),),
    )  # fmt: skip
    told = "the loops are proved best with bank steps aside; `all` weighs bank steps too"
    assert (told in notes(rig, plan, Question(kind))) == said
