"""Route: walks as cheap as an exhaustive search finds, and edits that the report bears out."""

from __future__ import annotations

import pytest
from examples import examples
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from moves import oracle
from moves.rigs_drawn import Data, rigs
from plan.evening_oracle import cheapest_evening, cheapest_song
from rigs_made import loop as made_loop
from rigs_made import make_rig, pedal, preset, section, setlist, song, switcher, written

from rigtui.model import rig_from_data
from rigtui.model.lookup import lookup
from rigtui.model.playable import in_range
from rigtui.moves import count_kind, count_setlist, count_song
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError, Stopped
from rigtui.plan.route import walk
from rigtui.plan.route.planner import evening_walk, least_held, plan_route, song_walk
from rigtui.plan.verdict.mapping import mapped_anew
from rigtui.plan.words.mapping import change_lines
from rigtui.plan.words.notes import notes

long = settings(max_examples=4000, suppress_health_check=list(HealthCheck))
some = examples(80)


@st.composite
def unheld_rigs(draw: st.DrawFn, **sizes: int) -> Data:
    """A rig of which some presets, often many, have no memory."""
    data: Data = draw(rigs(**sizes))
    for row in data["presets"]:
        if draw(st.booleans()):
            row.pop("memory", None)
    return data


def check_song_walk(data: Data) -> None:
    rig, machine = rig_from_data(data), oracle.Machine(data)
    all_held = all(machine.homes(preset) for preset in machine.presets)
    for walked, row in zip(rig.songs, data["songs"], strict=True):
        walk = song_walk(rig, walked)
        presses = sum(len(step.presses) for step in walk)
        least = count_song(rig, walked).least_moves
        assert presses == cheapest_song(data, row) == least_held(rig, walked)
        assert presses == least if all_held else presses >= least
        assert presses <= count_song(rig, walked).moves
        states = {machine.start(row)}
        for step in walk:
            states = {end for s in states for end in oracle.replay(machine, s, step.presses)}
            wanted = machine.wanted(row["sections"][step.section])
            states = {state for state in states if machine.sounds(wanted, state)}
            assert states
            assert count_kind(step.presses, "switch") <= 1


def check_evening(data: Data) -> None:
    rig, machine = rig_from_data(data), oracle.Machine(data)
    ids = [song_id for song_id in rig.setlists[0].song_ids if song_id in machine.songs]
    songs = {song.id: song for song in rig.songs}
    walk = evening_walk(rig, [songs[id] for id in ids])
    inside = sum(len(step.presses) for step in walk if not step.gap)
    between = sum(len(step.presses) for step in walk if step.gap)
    assert (inside, between) == cheapest_evening(data, ids)
    states = {machine.power_on()}
    for step in walk:
        states = {end for s in states for end in oracle.replay(machine, s, step.presses)}
        wanted = machine.wanted(machine.songs[step.song]["sections"][step.section])
        states = {state for state in states if machine.sounds(wanted, state)}
        assert states


def check_plan(data: Data) -> None:
    rig = rig_from_data(data)
    played = {
        song_id for song_id in rig.setlists[0].song_ids if song_id in {s.id for s in rig.songs}
    }
    if not played:
        with pytest.raises(PlanError, match="no song"):
            plan_route(rig)
        return
    plan = plan_route(rig, Question("route", first="moves"))
    assert plan.rig is not None
    night = count_setlist(plan.rig, plan.rig.setlists[0])
    assert plan.moves_after == night.moves
    songs = {row["id"]: row for row in data["songs"]}
    ids = [song_id for song_id in rig.setlists[0].song_ids if song_id in songs]
    assert plan.lower_bound == sum(cheapest_song(data, songs[id]) for id in ids)
    assert plan.details["least_moves"] == count_setlist(rig, rig.setlists[0]).least_moves
    assert plan.lower_bound <= plan.moves_after <= plan.moves_before
    assert plan.proved == (plan.moves_after == plan.lower_bound)
    said = notes(rig, plan, Question("route"))
    unsaid = [note for note in said if "your feet can save" in note]
    assert bool(unsaid) != plan.proved
    for note in unsaid:
        reasons = [", which names " in note, "no preset recalled yet" in note]
        reasons.append("which sends something else over MIDI" in note)
        if any(len(in_range(row, rig.switcher.memories)) > 1 for row in rig.presets):
            reasons.append("from another one than the nearest" in note)
        assert any(reasons)
    planned = {song.id: count_song(plan.rig, song).moves for song in plan.rig.songs}
    more = [
        song for song in rig.songs if song.id in played and least_held(rig, song) < planned[song.id]
    ]
    assert len(more) == len(unsaid)
    assert bool(mapped_anew(rig, plan.rig)) == (plan.moves_after < plan.moves_before)
    check_sounds(rig, plan.rig)
    memories = {preset.id: in_range(preset, rig.switcher.memories) for preset in rig.presets}
    named = {
        f"songs.{song.id}.sections.{at}"
        for song in rig.songs
        for at, part in enumerate(song.sections)
        if memories.get(part.preset) == []
    }
    steps = [step for walk in plan.details["walks"] for step in walk["steps"]]
    leans = [step for step in steps if "switch 0" in step["presses"]]
    assert {f"songs.{step['song']}.sections.{step['section']}" for step in leans} <= named


def check_sounds(before, after) -> None:
    """Every pedal that a section did not leave free is on or off as it was; channels too."""
    old, new = lookup(before), lookup(after)
    for a, b in zip(before.songs, after.songs, strict=True):
        for was, now in zip(a.sections, b.sections, strict=True):
            if was.preset not in old.presets:
                assert was == now
                continue
            free = set(was.may)
            assert set(old.sound(was)) ^ set(new.sound(now)) <= free
            channel = old.presets[was.preset].channel
            if channel:
                assert new.presets[now.preset].channel == channel


@some
@given(rigs(most_songs=2))
def test_song_walks(data: Data) -> None:
    """A song's walk has exactly its least moves, and played press by press it sounds right."""
    check_song_walk(data)


@examples(50)
@given(rigs(most_songs=2))
def test_walks_leave_out_states_that_cannot_win(data: Data) -> None:
    """However few states there are: a walk has its least moves all the same."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(walk, "_CROWD", 0)
        check_song_walk(data)


@some
@given(unheld_rigs(most_songs=2))
def test_walks_and_plans_with_presets_that_no_memory_holds(data: Data) -> None:
    """With presets without a memory, walks are the best of those that keep to the memories."""
    check_song_walk(data)
    check_plan(data)


@examples(60)
@given(unheld_rigs(most_loops=2, most_presets=3, most_sections=3, most_songs=2, most_outside=1))
def test_evening_walks_with_presets_that_no_memory_holds(data: Data) -> None:
    """The same over an evening."""
    check_evening(data)


@examples(80)
@given(rigs(most_loops=2, most_presets=3, most_sections=3, most_songs=2, most_outside=1))
def test_evening_walks(data: Data) -> None:
    """An evening's walk is the best that a search over single presses finds, gaps included."""
    check_evening(data)


def test_a_copy_that_is_not_the_nearest_is_a_reason() -> None:
    """Five banks of one in a ring, one preset in banks 2 and 5, both a step from bank 1.

    By hand: the lower memory counts, and from bank 2 it is two steps to bank 4: 1 + 1 + 2 + 1 is 5.
    Down to bank 5 it is one step on to bank 4: 1 + 1 + 1 + 1 is 4.
    """
    rig = make_rig(
        switcher=switcher(memories=5, bank_size=1),
        pedals=[pedal("drive"), pedal("boost")],
        loops=[made_loop(1, "drive"), made_loop(2, "boost")],
        chain={"front": [1, 2]},
        presets=[
            preset("first", memory=1),
            preset("both", 1, memory=2, copies=[5]),
            preset("last", 1, 2, memory=4),
        ],
        songs=[song("fen", "first", "both", "last")],
    )
    plan = plan_route(rig, Question("route", first="moves"))
    assert (plan.moves_after, plan.lower_bound) == (5, 4)
    (note,) = [note for note in notes(rig, plan, Question("route")) if "your feet" in note]
    assert note.endswith("from one that is not the nearest, which saves a bank step later")


@some
@given(rigs(most_songs=2))
def test_plans(data: Data) -> None:
    """The plan's figures are those that are counted on its rig, and no sound is changed."""
    check_plan(data)


@pytest.mark.long
@long
@given(st.one_of(rigs(most_songs=2), unheld_rigs(most_songs=2)))
def test_song_walks_and_plans_thoroughly(data: Data) -> None:
    """The same as test_song_walks and test_plans, on thousands of rigs."""
    check_song_walk(data)
    check_plan(data)


@pytest.mark.long
@settings(max_examples=1500, suppress_health_check=list(HealthCheck))
@given(rigs(most_loops=3, most_presets=4, most_sections=3, most_songs=3, most_outside=2))
def test_evening_walks_thoroughly(data: Data) -> None:
    """The same as test_evening_walks, on many more and larger rigs."""
    check_evening(data)


def test_toggles_and_banks_go_to_the_gap() -> None:
    """What the next song needs only later is done between the songs where that costs less."""
    rig = make_rig(
        switcher=switcher(8, 4),
        pedals=[pedal("wah", "wah"), pedal("comp"), pedal("boost", "boost")],
        loops=[made_loop(1, "comp"), made_loop(2, "boost")],
        presets=[preset("clean", 1, memory=1), preset("loud", 2, memory=5)],
        songs=[
            song("a", "clean"),
            song("b", section("clean", may=["wah"]), section("loud", plus=["wah"])),
        ],
        setlists=[setlist("night", "a", "b")],
    )
    walk = evening_walk(rig, rig.songs)
    assert [(step.gap, tuple(written(step.presses))) for step in walk] == [
        (True, ("switch 1", "bank up")),
        (True, ("pedal wah",)),
        (False, ("switch 1",)),
    ]


def test_adopting_a_walk() -> None:
    """A free pedal saves two recalls once the sections are mapped to one preset."""
    rig = make_rig(
        switcher=switcher(4, 4),
        pedals=[pedal("boost", "boost")],
        loops=[made_loop(1, "boost")],
        presets=[preset("clean", memory=1), preset("loud", 1, memory=2)],
        songs=[song("a", "loud", section("clean", may=["boost"]), "loud")],
    )
    plan = plan_route(rig)
    assert (plan.moves_before, plan.moves_after, plan.lower_bound) == (2, 0, 0)
    (change,) = mapped_anew(rig, plan.rig)
    assert change_lines(change, rig, plan.rig) == ["2 Part: clean → loud"]
    assert plan.rig.songs[0].sections[1].preset == "loud"


def test_no_walk_recalls_what_no_memory_holds_where_a_memory_holds_it() -> None:
    """By hand: bank and switch there, bank and switch back are 4; Roar from anywhere would be 2."""
    rig = make_rig(
        switcher=switcher(4, 2),
        pedals=[pedal("boost", "boost")],
        loops=[made_loop(1, "boost")],
        presets=[
            preset("clean", memory=1, name="Clean"),
            preset("loud", 1, memory=3, name="Loud"),
            preset("roar", 1, name="Roar"),
        ],
        songs=[song("a", "clean", "loud", "clean", title="Ay")],
    )
    plan = plan_route(rig)
    assert (plan.moves_after, plan.lower_bound, plan.details["least_moves"]) == (4, 4, 2)
    (walk,) = plan.details["songs"]
    assert [step["words"] for step in walk["walk"]] == [
        ["bank up ahead of time", "switch 1 (Loud)"],
        ["bank up ahead of time", "switch 1 (Clean)"],
    ]
    assert notes(rig, plan, Question("route"))[0].startswith("the report's least is 2: ")


def test_a_recall_of_what_a_memory_holds_is_chosen_of_equals() -> None:
    """Loud sounds like Roar, and only Loud can be recalled."""
    rig = make_rig(
        switcher=switcher(4, 4),
        pedals=[pedal("boost", "boost")],
        loops=[made_loop(1, "boost")],
        presets=[
            preset("roar", 1, name="Roar"),
            preset("clean", memory=1, name="Clean"),
            preset("loud", 1, memory=2, name="Loud"),
        ],
        songs=[song("a", "clean", "roar")],
    )
    (step,) = song_walk(rig, rig.songs[0])
    assert step.words == ("switch 2 (Loud)",)


def test_an_adopted_walk_leaves_what_no_foot_switches() -> None:
    """By hand: all of it is played on Loud, so the boost need not be named, and fuzz is left off.

    The wah is rocked, and stays in the section's words.
    """
    rig = make_rig(
        switcher=switcher(4, 4, loop_switches=True),
        pedals=[
            pedal("boost", "boost"), pedal("fuzz", "fuzz"), pedal("wah", "wah", use="treadle"),
        ],
        loops=[made_loop(1, "boost")],
        presets=[preset("clean", memory=1), preset("loud", 1, memory=2)],
        songs=[
            song("a", "loud", section("clean", plus=["boost", "fuzz", "wah"], may=["fuzz"]), "loud")
        ],
    )  # fmt: skip
    plan = plan_route(rig)
    assert plan.rig is not None
    assert (plan.moves_before > 0, plan.moves_after) == (True, 0)
    changed = plan.rig.songs[0].sections[1]
    assert (changed.preset, changed.plus) == ("loud", ("wah",))


def test_what_only_feet_can_save_is_said_with_its_section() -> None:
    """Crunch names no channel: with the amp on drive already it sounds like Drive Crunch.

    By hand: Drive (1) to Crunch (2) by foot is 1 press, to Drive Crunch in the other bank 2; from
    there back to Drive 1 against 2.
    """
    rig = make_rig(
        amp={"channels": ["clean", "drive"]},
        switcher=switcher(4, 2),
        pedals=[pedal("boost", "boost")],
        loops=[made_loop(1, "boost")],
        presets=[
            preset("drive", memory=1, name="Drive", channel="drive"),
            preset("crunch", 1, memory=2, name="Crunch"),
            preset("own", 1, memory=3, name="Drive Crunch", channel="drive"),
        ],
        songs=[song("a", "drive", section("own", name="Chorus"), "drive", title="Ay")],
    )
    plan = plan_route(rig)
    assert (plan.moves_after, plan.lower_bound) == (4, 2)
    assert notes(rig, plan, Question("route")) == (
        "Ay: your feet can save 2 more moves than a plan can write into the song. 2 Chorus: on "
        "Crunch, which names no channel, while the amp is on drive as the section asks",
    )


def test_an_evening_longer_than_any_is_not_walked_as_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """A song played over and over is not laid out section by section; its own walk stands."""
    rig = make_rig(
        switcher=switcher(2, 2),
        pedals=[pedal("drive")],
        loops=[made_loop(1, "drive")],
        chain={"front": [1]},
        presets=[preset("a", 1, memory=1), preset("b", memory=2)],
        songs=[song("again", section("a"), section("b"))],
        setlists=[setlist("night", *["again"] * 3)],
    )
    monkeypatch.setattr("rigtui.plan.route.planner._MOST_WALKED", 5)
    with pytest.raises(Stopped):
        evening_walk(rig, [rig.songs[0]] * 3)
    assert len(evening_walk(rig, [rig.songs[0]] * 2)) == 4
    made = plan_route(rig)
    assert made.details["walks"] == []
    assert made.after is not None
    assert made.after.moves == 3
