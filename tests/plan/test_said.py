"""Sentences that are made of a plan: what to get, and which sounds clash."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rigs_made import make_rig, preset, section, song, switcher

from rigtui.model.rig import Switcher
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.goal import Goal
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Clashing, Conflict, Figures, Plan, Proof, Relaxation, Status
from rigtui.plan.insight.points import Curve, CurvePoint
from rigtui.plan.verdict.other_setlists import OtherSetlist
from rigtui.plan.words.caveats import _others
from rigtui.plan.words.conflict import conflict_words
from rigtui.plan.words.curve import sentence, worth_most
from rigtui.plan.words.notes import notes
from rigtui.plan.words.outcome import brief_headline
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
    told = "the loops are proved best if bank steps don't count; `all` counts them too"
    assert (told in notes(rig, plan, Question(kind))) == said


@pytest.mark.parametrize(("status", "title"), [
    (Status.INFEASIBLE, "No plan can do that"), (Status.TIMED_OUT, "No plan was found"),
])  # fmt: skip
def test_a_conflict_opens_with_a_sentence_and_says_how_many_ways_out_there_are(
    status: Status, title: str
) -> None:
    """The reason begins with a capital and ends with its own question mark or a full stop."""
    ways = (Relaxation("two more", {"memories": 2}), Relaxation("three more", {"loops": 3}))
    offers = "", "This makes it work", "Any one of these makes it work"
    for several in (1, 2):
        conflict = Conflict("too many sounds", (), ways[:several], untried=several > 1)
        plan = Plan("loops", status, Figures(0, 0, 0, 0), conflict=conflict)
        words = conflict_words(plan, make_rig())
        assert words.title == title
        assert words.reason == "Too many sounds."
        assert words.offer == offers[several]
        assert bool(words.untried) == (several > 1)
    plan = Plan("loops", status, Figures(0, 0, 0, 0), conflict=Conflict("why?", ()))
    assert conflict_words(plan, make_rig()).reason == "Why?"


def point(
    value: int, weight: int | None, extra: int | None = None, now: bool = False, bound: int = 0
) -> CurvePoint:
    """A size of the switcher with what the evening weighs on it."""
    board = Switcher(memories=8, bank_size=4)
    return CurvePoint(value, weight, bound, weight, extra, weight, weight, 1, 1, now, board)


OWN = "with the 4 loops that you have, a plan has "


@pytest.mark.parametrize(("points", "said"), [
    ([point(2, None), point(3, 9, 1), point(4, 9, 1, True), point(5, 9, 1, bound=9)],
     [OWN + "1 extra press and 9 presses", "3 loops would do as well",
      "more would save nothing"]),
    ([point(3, 9, 2), point(4, 9, 1, True), point(5, 9, 0, bound=8)],  # calmer, not proved
     [OWN + "1 extra press and 9 presses",
      "nothing better was found with more, copies of presets aside"]),
    ([point(3, 10, 1), point(4, 9, 1, True), point(5, 8, 1), point(6, 8, 1), point(7, 7, 1),
      point(8, 6, 1), point(9, 1, 1)],
     [OWN + "1 extra press and 9 presses", "5 loops: 1 extra press and 8 presses",
      "7 loops: 1 extra press and 7 presses", "8 loops: 1 extra press and 6 presses"]),
    ([point(2, None), point(3, 9, 1), point(4, 9, 1), point(5, 8, 1), point(6, 10, 1)],
     ["3 loops: 1 extra press and 9 presses", "5 loops: 1 extra press and 8 presses"]),
    ([point(2, None), point(3, None)], ["nothing fits on any of these"]),
])  # fmt: skip
def test_a_curve_in_a_sentence(points: list[CurvePoint], said: list[str]) -> None:
    """What other sizes would do beside one's own; without that, each step that helps."""
    curve = Curve("loops", Figures(0, 0, 0, 0), tuple(points), True, Goal())
    calm = next((p for p in points if p.extra_presses == 0), None)
    end = (
        f"the smallest with nothing crowded: {calm.value} loops"
        if calm else "no number of loops leaves nothing crowded"
    )  # fmt: skip
    assert sentence(curve) == "; ".join([*said, end])


def told(value: int, moves: int, copied: int | None, *, now: bool = False) -> dict[str, object]:
    """A point of a curve as plain data, with no extra presses."""
    figures = {"extra_presses": 0, "moves": moves, "effort": moves}
    both = None if copied is None else {"extra_presses": 0, "moves": copied, "effort": copied}
    return {"value": value, "now": now, **figures, "with_copies": both}


@pytest.mark.parametrize(("points", "said"), [
    ([told(8, 90, 80, now=True), told(12, 85, 62), told(24, 85, 60)],  # nearly all of it
     "With copies, 12 memories instead of 8 would help most: 62 presses instead of 80"),
    ([told(8, 90, 80, now=True), told(12, 85, 70), told(24, 85, 60)],
     "With copies, 24 memories instead of 8 would help most: 60 presses instead of 80"),
    ([told(8, 90, None, now=True), told(12, 85, None)],
     "Of all changes 12 memories instead of 8 would help most: 85 presses instead of 90"),
    ([told(8, 90, 90, now=True), told(12, 90, 90)], "Nothing larger would help your feet"),
    ([told(8, 90, None, now=True), told(12, 90, None)],
     "Nothing larger would help your feet, copies of presets aside"),
])  # fmt: skip
def test_what_would_help_most(points: list[dict[str, object]], said: str) -> None:
    """Like is held against like, and the smallest that saves nearly as much as any is named."""
    assert worth_most([{"kind": "memories", "points": points}]) == said


@pytest.mark.parametrize(("setlists", "named", "words"), [
    ([], (), "all 1 song (there are no setlists)"),
    (["Friday"], (), "Friday: 2 songs"),
    (["Friday", "Sunday"], (), "all 2 setlists (Friday, Sunday): 4 songs"),
    (["Friday", "Sunday"], ("sunday",), "Sunday alone: 2 songs"),
])  # fmt: skip
def test_which_songs_count_in_words(
    setlists: list[str], named: tuple[str, ...], words: str
) -> None:
    """All setlists by name, one that is the only one without more ado, one of several alone."""
    rig = make_rig(
        presets=[preset("a", memory=1)],
        songs=[song("low-fen", "a")],
        setlists=[
            {"id": name.casefold(), "name": name, "sets": [{"songs": ["low-fen", "low-fen"]}]}
            for name in setlists
        ],
    )
    assert evening_of(rig, named).words == words


@pytest.mark.parametrize(("moves", "told"), [((9, 9, 9), False), ((9, 9, 8), True)])
def test_what_comes_first_is_said_to_matter_where_it_does(
    moves: tuple[int, ...], told: bool
) -> None:
    """Two of three goals may come to the same: the third still makes the difference."""
    rig = make_rig(songs=[song("low-fen", "a", "a")], presets=[preset("a", memory=1)])
    before = Figures(moves=5, set_up_moves=1, worst_change=1, on_the_beat_worst=1)
    goals = {
        first: {"effort": 9, "extra_presses": 0, "moves": many}
        for first, many in zip(("effort", "extra", "moves"), moves)
    }
    plan = Plan("loops", Status.OPTIMAL, before, rig, before, details={"goals": goals})
    said = [line for line in notes(rig, plan, Question("loops")) if "what comes first" in line]
    assert bool(said) == told


def test_a_plan_in_a_line() -> None:
    """Between songs and in all only where anything is between songs."""
    rig = make_rig()
    calm, busy = (Figures(moves, between, 1, 1) for moves, between in ((28, 9), (41, 8)))
    assert brief_headline(Plan("all", Status.OPTIMAL, busy, rig, calm)) == (
        "inside songs 41 → 28, between 8 → 9, in all 49 → 37"
    )
    bare = Figures(5, 0, 1, 1)
    assert brief_headline(Plan("all", Status.OPTIMAL, bare, rig, bare)) == "inside songs 5 → 5"
    assert brief_headline(Plan("all", Status.INFEASIBLE, busy)) == (
        "41 moves inside songs as written, 49 in all"
    )


def test_other_setlists_are_told_of_where_anything_changes_for_them() -> None:
    """Their moves, or what can be recalled on them; of one that stays as it is nothing is said."""
    same = OtherSetlist("sunday", "Sunday", 9, 9, (), (), 0)
    calmer, fuller = replace(same, moves_after=7), replace(same, newly_recalled=2)
    told = "Moves inside songs of what you did not plan for: "
    assert _others([same]) is None
    assert _others([same, calmer]) == told + "Sunday 9 → 7"
    assert _others([fuller]) == told + "Sunday 9 → 9 (2 sections more can be recalled)"
