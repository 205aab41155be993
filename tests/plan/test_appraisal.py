"""What a plan is worth, all told: sums, songs and memories counted again by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher
from screens import DEMOS

from rigtui.model import rig_from_data, rig_to_data
from rigtui.model.edits import set_preset
from rigtui.model.rig import Rig
from rigtui.moves import count_setlist, count_song
from rigtui.plan.answer import plan
from rigtui.plan.ask.evening import evening_of, figures
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Proof, Status
from rigtui.plan.verdict.appraisal import appraise
from rigtui.plan.verdict.mapping import Played, SectionChange, SongChange, mapped_anew
from rigtui.plan.verdict.other_setlists import other_setlists
from rigtui.plan.verdict.unstored import moves_without, unstored
from rigtui.plan.words.caveats import caveats
from rigtui.plan.words.mapping import change_lines, mapping_step
from rigtui.plan.words.outcome import headline, proofs, verdict
from rigtui.plan.words.walk import said_walks
from rigtui.plan.words.what_to_do import what_to_do
from rigtui.store.load import load

PARTS: dict[str, Any] = {
    "switcher": switcher(4, 2),
    "pedals": [pedal("drive", name="Drive"), pedal("wah", name="Wah")],
    "loops": [loop(1, "drive")],
    "chain": {"front": ["wah", 1]},
    "setlists": [setlist("night", "a", "b")],
}


def rig_of(first: int | None, second: int | None, third: int | None = 4) -> Rig:
    """Three presets in some memories, and two songs: a goes to and fro, b is on the third."""
    return make_rig(
        **PARTS,
        presets=[
            preset("one", name="One", memory=first),
            preset("two", 1, name="Two", memory=second),
            preset("three", name="Three", memory=third, channel="drive"),
        ],
        amp={"channels": ["clean", "drive"]},
        songs=[song("a", "one", "two", "one", title="Ay"), song("b", "three", "three", title="Be")],
    )


def made(now: Rig, then: Rig, **more: Any) -> Plan:
    """A plan from one rig to another."""
    evening = evening_of(now)
    return Plan("all", Status.FEASIBLE, figures(now, evening), then, figures(then, evening), **more)


def weighed(now: Rig, then: Rig) -> tuple[bool, str]:
    """Whether the plan is better, and all that is to be known of it."""
    appraisal = appraise(made(now, then), now, evening_of(now))
    return appraisal.better, " | ".join(caveats(appraisal))


def test_moves_between_songs_are_in_the_head() -> None:
    """By hand: in a, one and two in banks apart are 2 x 2 moves, in one bank 2 x 1.

    Power-on to one is 1 press (switch) or 2 (bank and switch); from one (bank 1) to three (bank 2)
    is 2 more, from one (bank 2) to three (bank 2) is 1.
    """
    apart, together = rig_of(1, 3), rig_of(1, 2)
    said = headline(made(apart, together))
    assert said == (
        "Inside songs 4 → 2: 2 fewer (50 %); between songs 3 → 3; in all 7 → 5: 2 fewer"
    )
    count = count_setlist(together, together.setlists[0])
    assert (count.moves, count.set_up_moves) == (2, 3)
    assert weighed(apart, together) == (True, "")


def test_an_evening_that_gets_worse_as_a_whole_is_said_to() -> None:
    """Moves inside songs that are bought with more moves between songs are no bargain.

    By hand: song c plays one preset, boosted or not, with its wah. Now: two, wah on and off again:
    2 moves inside, and 1 before each song. Then it starts on another preset: 1 inside.
    """
    now = make_rig(
        **{**PARTS, "setlists": [setlist("night", *"xyx")]},
        presets=[preset("one", memory=1), preset("two", 1, memory=3)],
        songs=[song("x", "one", "two"), song("y", "two", section("one"))],
    )
    songs = [song("x", "two", "two"), song("y", "one", "one")]
    then = make_rig(
        **{**PARTS, "setlists": [setlist("night", *"xyx")]},
        presets=[preset("one", memory=1), preset("two", 1, memory=3)],
        songs=songs,
    )
    evening = evening_of(now)
    before, after = figures(now, evening), figures(then, evening)
    # x: 2 moves, y: 2 moves, x: 2 moves; power-on to one 1, two to two 0, one to one 0
    assert (before.moves, before.set_up_moves, before.in_all) == (6, 1, 7)
    # nothing inside; power-on to two 2, two to one 2, one to two 2
    assert (after.moves, after.set_up_moves, after.in_all) == (0, 6, 6)
    assert weighed(now, then) == (True, "")
    longer = now.model_copy(
        update={"songs": (now.songs[0], now.songs[1].model_copy(update={"sections": ()}))}
    )
    assert weighed(longer, longer) == (False, "")


def test_more_between_songs() -> None:
    """Three moves saved inside, nine more between: what is inside songs counts first, and both are
    said."""
    from rigtui.plan.ask.result import Figures

    rig = rig_of(1, 2)
    even = Plan("all", Status.FEASIBLE, Figures(37, 13, 3, 2), rig, Figures(34, 22, 3, 2))
    appraisal = appraise(even, rig, evening_of(rig))
    assert appraisal.better
    assert caveats(appraisal) == (
        "More moves in all: 3 moves fewer inside songs, 9 more between, 6 more in all",
    )


def test_as_many_in_all() -> None:
    """Three saved inside songs, three more between: a gain where it counts, and no more is said."""
    from rigtui.plan.ask.result import Figures

    rig = rig_of(1, 2)
    even = Plan("all", Status.FEASIBLE, Figures(37, 13, 3, 2), rig, Figures(34, 16, 3, 2))
    appraisal = appraise(even, rig, evening_of(rig))
    assert (appraisal.better, caveats(appraisal)) == (True, ())


def test_more_moves_are_no_better() -> None:
    """A plan with more moves is named so, with the song that gets worst and what gets harder."""
    better, said = weighed(rig_of(1, 2), rig_of(1, 3))
    assert not better
    assert "No better than today: 2 moves more inside songs" in said
    assert "What gets harder: the worst single change 1 → 2" in said
    assert "1 of 2 songs needs more moves than today, Ay the most (2 → 4)" in said


def test_presets_that_no_memory_holds() -> None:
    """Today's figure leans on what cannot be recalled; songs that do without are counted apart.

    By hand: two has no memory; a uses it in one section, b does without and has no moves.
    """
    now, then = rig_of(1, None), rig_of(1, 2)
    evening = evening_of(now)
    gaps = unstored(now, evening)
    assert gaps is not None
    assert (gaps.presets, gaps.sections, gaps.songs) == (("two",), ("songs.a.sections.1",), ("a",))
    assert moves_without(now, evening, gaps) == (1, 0)
    better, said = weighed(now, then)
    assert better
    assert "today's figure" not in said
    assert (
        "1 section of 1 song can't be played today: Two isn't stored. 2 counts them anyway; the "
        "song that can be played needs 0 moves today, 0 as planned"
    ) in said
    assert unstored(then, evening) is None
    better, said = weighed(now, rig_of(1, 3))
    assert better
    assert said.startswith(
        "Moves 2 → 4: more than today, but today's figure counts 1 section that you can't play"
    )
    assert (
        "1 section of 1 song can't be played with the plan: Two isn't stored"
        in weighed(then, now)[1]
    )


def test_a_missing_memory_holds_nothing() -> None:
    """A preset in a memory that the switcher has not cannot be had."""
    gaps = unstored(rig_of(1, 9), evening_of(rig_of(1, 2)))
    assert gaps is not None
    assert "two" in gaps.presets


def test_the_sound_of_a_preset_may_be_in_a_memory_under_another_name() -> None:
    """A clean made by rolling the volume down switches the same: it needs no memory of its own."""
    rig = rig_of(1, 2)
    rolled = rig.presets[1].model_copy(update={"id": "rolled", "memory": None})
    songs = (rig.songs[0].model_copy(update={"sections": tuple(
        part.model_copy(update={"preset": "rolled"}) if part.preset == "two" else part
        for part in rig.songs[0].sections
    )}), rig.songs[1])  # fmt: skip
    rig = rig.model_copy(update={"presets": (*rig.presets, rolled), "songs": songs})
    assert unstored(rig, evening_of(rig)) is None


def test_presets_that_the_evening_does_not_use_are_no_matter() -> None:
    """A preset without memory that only other songs use does not touch the evening."""
    rig = rig_of(1, 2, None)
    evening = evening_of(rig.model_copy(update={"setlists": (rig.setlists[0],)}))
    assert unstored(rig, evening) is not None
    alone = make_rig(
        **{**PARTS, "setlists": [setlist("night", "a")]},
        presets=[preset("one", memory=1), preset("two", 1, memory=2), preset("three")],
        songs=[song("a", "one", "two"), song("b", "three")],
    )
    assert unstored(alone, evening_of(alone)) is None


def test_sections_mapped_anew_are_named() -> None:
    """Each section with how it is played now and then, alike ones together, others left out."""
    now = rig_of(1, 2)
    sections = (
        now.songs[0].sections[0].model_copy(update={"preset": "two", "plus": ("wah",)}),
        now.songs[0].sections[1],
        now.songs[0].sections[2].model_copy(update={"preset": "two", "plus": ("wah",)}),
    )
    then = now.model_copy(
        update={"songs": (now.songs[0].model_copy(update={"sections": sections}), now.songs[1])}
    )
    (change,) = mapped_anew(now, then)
    assert (change.song, [section.section for section in change.sections]) == ("a", [0, 2])
    assert change_lines(change, now, then) == ["1 Part, 3 Part: One → Two with Wah"]
    assert mapped_anew(now, now) == []


def test_why_not_proved_though_each_part_is() -> None:
    """Three proved parts do not prove the whole, and the sentence says how much is open."""
    rig = rig_of(1, 2)
    parts = (Proof("loops", "moves", 1, 1), Proof("switches", "bank steps", 1, 1))
    plan_ = made(rig, rig, bound=1, parts=parts)
    open_ended = "Not proved: no plan needs fewer presses inside songs than 1, this one needs 2"
    assert verdict(plan_) == f"{open_ended}; more time would not help"
    assert proofs(plan_) == [
        verdict(plan_),
        "Each part is the best by itself: 1 moves; 1 bank steps",
        "The search of all parts together was not finished: it might still save up to 1 more moves",
    ]
    open_ = made(rig, rig, bound=1, parts=(Proof("loops", "moves", 2, 1), parts[1]))
    assert proofs(open_) == [
        open_ended,
        "Loops and presets: 2 moves; less than 1 is impossible, 2 may not be the least",
        "Memories: 1 bank steps; proved, less is impossible",
    ]
    late = replace(plan_, status=Status.TIMED_OUT)
    assert "more time would not help" not in " ".join(proofs(late))
    assert "more time would not help" not in " ".join(proofs(plan_, interrupted=True))
    unknown = replace(late, bound=0)
    assert proofs(unknown)[0] == (
        "The time was up, not proved: how few a plan could need is not known yet"
    )


@pytest.mark.parametrize("path", sorted(DEMOS.glob("*.toml")), ids=lambda path: path.stem)
def test_the_walk_is_what_its_lines_add_up_to(path: Any) -> None:
    """The sums over each song and over the walk are those of the lines; alone, as reported."""
    _, rig = load(path)
    route = plan(rig, Question("route"))
    assert route.rig is not None
    counts = {song.id: count_song(route.rig, song).moves for song in route.rig.songs}
    for walk, said in zip(route.details["walks"], said_walks(route, rig), strict=True):
        between = [0] * len(said.songs)
        inside = [0] * len(said.songs)
        at = -1
        for step in walk["steps"]:
            at += step["between_songs"]
            into = between if step["between_songs"] else inside
            into[at] += len(step["presses"])
        assert said.sums[0] == (
            f"{sum(inside)} presses inside songs, {sum(between)} between songs, "
            f"{sum(inside) + sum(between)} in all"
        )
        alone = sum(counts[song_.song] for song_ in said.songs)
        assert (f"it is {alone} inside songs" in said.sums[-1]) == (alone != sum(inside))
        for song_, before, within in zip(said.songs, between, inside):
            assert song_.sums.startswith(f"{before} before it, {within} inside")
            if counts[song_.song] != within:
                assert f"({counts[song_.song]} as the report counts it alone)" in song_.sums


def test_playable_is_better_though_it_costs_more_in_all() -> None:
    """What can be played comes first; that the evening costs more in all is said."""
    from rigtui.plan.ask.result import Figures

    now, then = rig_of(1, None), rig_of(1, 2)
    dearer = Plan("all", Status.FEASIBLE, Figures(37, 13, 3, 2), then, Figures(34, 22, 3, 2))
    appraisal = appraise(dearer, now, evening_of(now))
    assert appraisal.better
    assert caveats(appraisal)[0].startswith("More moves in all")


def test_a_setlist_that_was_not_planned_for_is_not_forgotten() -> None:
    """By hand: b is on three alone, and three has a memory now; then none is left for it."""
    data = rig_to_data(rig_of(1, 3))
    now = rig_from_data({**data, "setlists": [setlist("night", "a"), setlist("noon", "b")]})
    then = set_preset(set_preset(now, "three", memory=None), "two", memory=2)
    evening = evening_of(now, ("night",))
    plan_ = Plan("all", Status.FEASIBLE, figures(now, evening), then, figures(then, evening))
    appraisal = appraise(plan_, now, evening)
    assert plan_.after is not None
    assert plan_.after.moves < plan_.before.moves
    assert not appraisal.better
    assert caveats(appraisal)[0] == (
        "Worse for what you did not plan for: in noon you can no longer recall 2 sections of 1 "
        "song: no memory is left for Three"
    )
    assert what_to_do(appraisal).endswith(" but 2 sections of noon that you can no longer play.")
    (other,) = other_setlists(now, then, evening)
    assert (other.setlist, other.presets, other.newly_recalled) == ("noon", ("three",), 0)
    assert other.lost == ("songs.b.sections.0", "songs.b.sections.1")
    assert other_setlists(now, then, evening_of(now)) == []


def test_a_plan_for_one_evening_leaves_the_other_its_memories() -> None:
    """Quay Street at the terminal: seven presets, eight memories, and Rock for the boathouse."""
    _, now = load(DEMOS / "quay-street.toml")
    made_ = plan(now, Question("all", setlists=("terminal",)))
    assert made_.rig is not None
    memory = {preset.id: preset.memory for preset in made_.rig.presets}
    assert memory["rock"] is not None
    assert {preset.id for preset in made_.rig.presets} <= {preset.id for preset in now.presets}
    rows = other_setlists(now, made_.rig, evening_of(now, ("terminal",)))
    assert [(row.setlist, row.lost) for row in rows] == [("boathouse", ())]
    before, after = (count_setlist(rig, rig.setlists[0]).moves for rig in (now, made_.rig))
    assert (rows[0].moves_before, rows[0].moves_after) == (before, after)


def test_songs_that_no_setlist_plays_are_looked_at_too() -> None:
    """By hand: song b is in no setlist, and three loses its memory."""
    now = rig_from_data({**rig_to_data(rig_of(1, 3)), "setlists": [setlist("night", "a")]})
    (other,) = other_setlists(now, set_preset(now, "three", memory=None), evening_of(now))
    assert (other.setlist, other.label) == ("", "songs that no setlist plays")
    assert len(other.lost) == 2


def test_a_section_that_only_loses_a_press_is_not_to_be_learnt() -> None:
    """The pedal comes with its preset: the foot does less, and nothing has to be remembered."""
    stepped, bare = Played("lead", ("boost",), ()), Played("lead", (), ())
    other = Played("solo", (), ())
    assert not SectionChange(0, "Solo", stepped, bare).is_to_learn
    assert SectionChange(0, "Solo", bare, stepped).is_to_learn
    assert SectionChange(0, "Solo", stepped, other).is_to_learn
    assert SectionChange(0, "Solo", bare, Played("lead", (), ("drive",))).is_to_learn
    change = SongChange("a", "Ay", (SectionChange(0, "Solo", stepped, bare),))
    assert change.to_learn == 0
    assert mapping_step([change]) == []
