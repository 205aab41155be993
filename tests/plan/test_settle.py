"""What a plan maps anew for nothing goes back, and nothing that it promised is lost by that."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from examples import examples
from hypothesis import assume, given, reject
from moves.rigs_drawn import Data, rigs
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher
from screens import DEMOS

from rigtui.checks import check
from rigtui.model import rig_from_data
from rigtui.model.edits import set_section
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.moves import count_setlist, count_song
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of, figures
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, PlanError, Status
from rigtui.plan.route.planner import least_held
from rigtui.plan.verdict.mapping import mapped_anew
from rigtui.plan.verdict.settle import settled
from rigtui.plan.whole.everything import plan_all
from rigtui.store.load import load

PARTS: dict[str, Any] = {
    "switcher": switcher(4, 4, loop_switches=True),
    "pedals": [pedal("drive", name="Drive")],
    "loops": [loop(1, "drive")],
    "presets": [
        preset("one", name="One", memory=1, guitar_volume=4),
        preset("two", 1, name="Two", memory=2),
    ],
    "songs": [song("a", "one", "two"), song("b", "one", "one")],
    "setlists": [setlist("night", "b", "a")],
}


def made(now: Rig, then: Rig) -> Plan:
    """A plan from one rig to another."""
    evening = evening_of(now)
    return Plan("all", Status.FEASIBLE, figures(now, evening), then, figures(then, evening))


def test_a_section_goes_back_where_its_song_needs_as_few() -> None:
    """By hand: one, or two less Drive, sound the same at the start of a; a has one move either way.

    Between b (on one) and a, going on with one is no press; two less Drive is two.
    """
    now = make_rig(**PARTS)
    other = set_section(now, "a", 0, preset="two", minus=["drive"], guitar_volume=4)
    plan = made(now, other)
    assert plan.after is not None
    assert (plan.after.moves, plan.after.set_up_moves) == (1, 3)
    done = settled(now, plan, evening_of(now))
    assert done.rig == now
    assert done.after is not None
    assert (done.after.moves, done.after.set_up_moves) == (1, 1)


def test_sections_stay_as_planned_when_the_time_is_up() -> None:
    """What would be taken back with time stays where there is none; a late plan is a plan."""
    now = make_rig(**PARTS)
    other = set_section(now, "a", 0, preset="two", minus=["drive"], guitar_volume=4)
    plan, evening = made(now, other), evening_of(now)
    assert settled(now, plan, evening, Control(seconds=0)) == plan
    assert settled(now, plan, evening, Control(seconds=3600)).rig == now


def test_a_section_stays_as_planned_where_that_saves_a_move() -> None:
    """By hand: with two all through, b has no move; back on one it has two."""
    now = make_rig(**{**PARTS, "songs": [song("a", "one"), song("b", "two", "one", "two")]})
    may = set_section(now, "b", 1, may=["drive"])
    then = set_section(may, "b", 1, preset="two", guitar_volume=4)
    plan = made(may, then)
    assert settled(may, plan, evening_of(may)) == plan


def test_a_section_stays_as_planned_where_one_beat_would_get_more_presses() -> None:
    """By hand: a bank step ahead and one press are two moves, as two toggles on one beat are."""
    parts = {
        "switcher": switcher(2, 1, loop_switches=True),
        "pedals": [pedal("drive"), pedal("boost")],
        "loops": [loop(1, "drive"), loop(2, "boost")],
        "presets": [preset("one", memory=1), preset("both", 1, 2, memory=2)],
        "songs": [
            song("a", "one", section("one", plus=["drive", "boost"])),
            song("b", "both"),
        ],
    }
    now = make_rig(**parts)
    then = set_section(now, "a", 1, preset="both", plus=[])
    plan = made(now, then)
    assert plan.before.moves == plan.after.moves == 2
    assert (plan.before.on_the_beat_worst, plan.after.on_the_beat_worst) == (2, 1)
    assert settled(now, plan, evening_of(now)) == plan


def test_the_volume_of_a_preset_is_not_lost() -> None:
    """A section that goes back to a preset without its volume any more has the volume itself."""
    now = make_rig(**PARTS)
    bare = now.model_copy(
        update={
            "presets": (now.presets[0].model_copy(update={"guitar_volume": None}), now.presets[1])
        }
    )
    then = set_section(bare, "a", 0, preset="two", minus=["drive"], guitar_volume=4)
    done = settled(now, made(now, then), evening_of(now))
    assert done.rig is not None
    first = done.rig.songs[0].sections[0]
    assert (first.preset, first.guitar_volume) == ("one", 4)


def test_a_pedal_that_came_into_a_loop_is_not_switched_on_top_any_more() -> None:
    """By hand: the preset has the boost now, and no switch puts it on alone.

    And a drive that came out of its loop: nothing to switch out of a preset.
    """
    pedals = [pedal("drive"), pedal("boost")]
    solo = song("a", "one", section("one", plus=["boost"]), section("one", minus=["drive"]))
    now = make_rig(
        switcher=switcher(4, 4),
        pedals=pedals,
        loops=[loop(1, "drive")],
        presets=[preset("one", memory=1), preset("two", 1, memory=2)],
        songs=[solo],
    )
    then = make_rig(
        switcher=switcher(4, 4),
        pedals=pedals,
        loops=[loop(1, "boost")],
        presets=[preset("one", 1, memory=1), preset("two", memory=2)],
        songs=[song("a", "two", "one", "two")],
    )
    done = settled(now, made(now, then), evening_of(now))
    assert done.rig == then
    assert (
        cannot_be_switched(then)
        == 0
        < cannot_be_switched(set_section(then, "a", 1, plus=["boost"]))
    )


def test_a_pedal_that_is_left_on_from_now_on_is_not_stepped_on() -> None:
    """Every section has the wah on, so the plan leaves it on: no section switches it then."""
    rig = make_rig(
        switcher=switcher(1, 1),
        pedals=[pedal("sweep", "wah")],
        loops=[loop(1)],
        presets=[preset("one", memory=1)],
        songs=[song("a", section("one", plus=["sweep"]))],
        setlists=[setlist("night", "a")],
    )
    plan = plan_all(rig)
    assert plan.rig is not None
    assert [row.used for row in plan.rig.pedals] == ["always"]
    check_settled(rig, plan)
    done = settled(rig, plan, evening_of(rig))
    assert done.rig is not None
    assert done.rig.songs[0].sections[0].plus == ()


def cannot_be_switched(rig: Rig) -> int:
    """How many sections of a preset ask for a pedal on or out that no footswitch switches there."""
    rules = ("plus-not-switchable", "minus-not-switchable")
    presets = {preset_.id for preset_ in rig.presets}
    mapped = {
        f"songs.{song_.id}.sections.{at}"
        for song_ in rig.songs
        for at, part in enumerate(song_.sections)
        if part.preset in presets
    }
    return sum(told.rule in rules and told.where in mapped for told in check(rig))


def check_settled(now: Rig, plan: Plan) -> int:
    """Moves, worst change and sounds stay; set-up moves and sections to learn get no more."""
    evening = evening_of(now)
    done = settled(now, plan, evening)
    if plan.rig is None:
        assert done == plan
        return 0
    assert done.rig is not None
    assert plan.after is not None
    assert done.after == figures(done.rig, evening)
    assert cannot_be_switched(done.rig) <= cannot_be_switched(now)
    assert done.after.moves == plan.after.moves
    assert done.after.worst_change <= plan.after.worst_change
    assert done.after.on_the_beat_worst <= plan.after.on_the_beat_worst
    assert done.after.set_up_moves <= plan.after.set_up_moves
    old, new = lookup(plan.rig), lookup(done.rig)
    for before, after in zip(plan.rig.songs, done.rig.songs, strict=True):
        first = next(song for song in now.songs if song.id == before.id)
        for at, (was, will) in enumerate(zip(before.sections, after.sections, strict=True)):
            if was != will:
                heard = lookup(now).sound(first.sections[at])
                assert new.sound(will) == heard
                assert set(old.sound(was)) ^ set(heard) <= set(first.sections[at].may)
    learn = [
        sum(len(song.sections) for song in mapped_anew(now, rig)) for rig in (plan.rig, done.rig)
    ]
    assert learn[1] <= learn[0]
    for row in done.details.get("songs", ()):
        alone = next(song_ for song_ in done.rig.songs if song_.id == row["id"])
        if alone not in plan.rig.songs:
            assert sum(len(step["presses"]) for step in row["walk"]) == row["least_held"]
            assert row["least_held"] == least_held(done.rig, alone) >= row["least_moves"]
            assert row["least_moves"] == count_song(done.rig, alone).least_moves
    return learn[0] - learn[1]


@examples(30)
@given(rigs())
def test_nothing_that_was_promised_is_lost(data: Data) -> None:
    """On rigs at random: what goes back sounds as it did, and no figure gets worse."""
    rig = rig_from_data(data)
    try:
        plan = plan_all(rig)
    except PlanError:
        reject()
    assume(plan.rig is not None)
    check_settled(rig, plan)


@pytest.mark.parametrize("name", ["quay-street", "three-piece", "first-rig"])
def test_on_the_demo_rigs(name: str) -> None:
    """On the demo rigs too; and its figures are those that the evening is counted to."""
    _, rig = load(DEMOS / f"{name}.toml")
    plan = plan_all(rig, Question(copies=0))
    check_settled(rig, plan)
    done = settled(rig, plan, evening_of(rig))
    assert done.rig is not None
    assert done.after is not None
    nights = [count_setlist(done.rig, setlist_) for setlist_ in done.rig.setlists]
    assert sum(night.moves for night in nights) == done.after.moves
    assert sum(night.set_up_moves for night in nights) == done.after.set_up_moves


def test_a_preset_made_for_a_section_is_not_left_without_one() -> None:
    """A section does not go back where the plan's preset would then be used by nothing."""
    now = make_rig(**{**PARTS, "songs": [song("a", "one", "one"), song("b", "one")]})
    then = set_section(now, "a", 0, preset="two", minus=["drive"], guitar_volume=4)
    then = set_section(then, "a", 1, preset="two", minus=["drive"], guitar_volume=4)
    plan = made(now, then)
    assert settled(now, plan, evening_of(now)) == plan
    assert replace(plan, rig=None) == settled(now, replace(plan, rig=None), evening_of(now))


def test_songs_go_back_one_by_one_where_all_of_them_cost_a_set_up_move() -> None:
    """By hand: of two less Drive and one, both are a press from two and back; b follows the first.

    So b would be a press more on one, and a is none: a goes back, and b stays as planned.
    """
    bare = section("two", minus=["drive"])
    songs = [
        song("b", "one"),
        song("a", "one"),
        song("x", "two"),
        song("y", "two"),
        song("c", bare),
    ]
    parts = {"presets": [preset("one", memory=1), preset("two", 1, memory=2)], "songs": songs}
    now = make_rig(**{**PARTS, **parts, "setlists": [setlist("night", "x", "a", "y", "c", "b")]})
    then = set_section(now, "a", 0, preset="two", minus=["drive"])
    then = set_section(then, "b", 0, preset="two", minus=["drive"])
    plan = made(now, then)
    done = settled(now, plan, evening_of(now))
    assert done.rig == set_section(then, "a", 0, preset="one", minus=[])
    assert done.after is not None
    assert done.after.set_up_moves == plan.after.set_up_moves
