"""A preset that stays keeps its sound and its sections, whatever else the plan does."""

from __future__ import annotations

from dataclasses import replace

import pytest
from plan.test_loops import check_figures, check_layout, drawn
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.model import Rig
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Status
from rigtui.plan.whole.everything import plan_all
from rigtui.plan.whole.loops import plan_loops


def sections_of(rig: Rig) -> list[tuple[str | None, tuple[str, ...], tuple[str, ...]]]:
    """How each section is played: its preset, and pedals on top of it and out of it."""
    return [
        (section.preset, section.plus, section.minus)
        for its in rig.songs
        for section in its.sections
    ]


def solo_with_wah() -> Rig:
    """A lead with an outside wah on top, one loop to spare, and a clean without drive."""
    return make_rig(
        switcher=switcher(3, 3),
        pedals=[pedal("drive", "overdrive"), pedal("wah", "wah")],
        loops=[loop(1, "drive"), loop(2)],
        chain={"front": [1, 2, "wah"], "fx": []},
        presets=[preset("lead", 1, memory=1), preset("clean", memory=2)],
        songs=[song("x", section("lead", plus=["wah"]), "clean")],
    )


def test_a_pedal_on_top_of_a_kept_preset_stays_outside() -> None:
    """The section stays on the preset with the wah on top; free to change, it would not."""
    free, kept = (plan(solo_with_wah(), Question("loops", keep=keep)) for keep in ((), ("lead",)))
    assert free.rig is not None
    assert free.moves_after == 1
    assert any("wah" in loop.pedals for loop in free.rig.loops)
    assert kept.rig is not None
    assert (kept.moves_after, kept.status) == (2, Status.OPTIMAL)
    assert sections_of(kept.rig)[0] == ("lead", ("wah",), ())


def test_what_may_be_on_or_off_outside_saves_moves_on_a_kept_preset() -> None:
    """A section on a kept preset that leaves an outside pedal free has it on already."""
    rig = make_rig(
        switcher=switcher(2, 2),
        pedals=[pedal("delay", "delay")],
        chain={"front": ["delay"], "fx": []},
        presets=[preset("a", memory=1), preset("b", memory=2)],
        songs=[song("x", section("b", may=["delay"]), section("a", plus=["delay"]))],
    )
    made = plan(rig, Question("loops", keep=("b",)))
    assert (made.moves_after, made.lower_bound, made.parts[0].proved) == (0, 0, True)
    assert made.rig is not None
    assert sections_of(made.rig)[0] == ("b", ("delay",), ())


def test_the_route_moves_no_section_off_a_kept_preset() -> None:
    """All together: the route, which has the last word, leaves the section where it was."""
    rig = make_rig(
        switcher=switcher(2, 1),
        pedals=[pedal("wah", "wah")],
        loops=[loop(1, "wah")],
        chain={"front": [1], "fx": []},
        presets=[preset("a"), preset("b", channel="drive")],
        songs=[song("x", "a", "b", "a")],
    )
    made = plan(rig, Question("all", keep=("a",)))
    assert made.rig is not None
    assert [row[0] for row in sections_of(made.rig)] == ["a", "b", "a"]
    assert [preset.channel for preset in made.rig.presets] == [None, "drive"]


@pytest.mark.parametrize("kind", ["loops", "all"])
def test_two_presets_that_switch_the_same_can_both_stay(kind: str) -> None:
    """Each then has a memory of its own, and its sections stay on it; three memories are needed."""
    rig = make_rig(
        switcher=switcher(3, 3),
        pedals=[pedal("drive", "overdrive")],
        loops=[loop(1, "drive")],
        chain={"front": [1], "fx": []},
        presets=[preset("a", 1, memory=1), preset("b", 1, memory=2), preset("c", memory=3)],
        songs=[song("x", "a", "b", "c")],
    )
    made = plan(rig, Question(kind, keep=("a", "b")))
    assert made.rig is not None
    assert [row[0] for row in sections_of(made.rig)] == ["a", "b", "c"]
    short = plan(rig, Question(kind, keep=("a", "b", "c"), memories=2))
    assert short.status is Status.INFEASIBLE
    assert short.conflict is not None
    assert "no two of these 3 sounds can share a preset" in short.conflict.reason
    assert {sound.places for sound in short.conflict.sounds} == {
        ("presets.a",), ("presets.b",), ("presets.c",),
    }  # fmt: skip
    assert all("in a memory of its own" in sound.wants for sound in short.conflict.sounds)


def test_songs_not_planned_for_toggle_on_top_of_a_kept_preset() -> None:
    """Where loops toggle, a section of another setlist stays on the preset too."""
    rig = make_rig(
        switcher=switcher(2, 2, loop_switches=True),
        pedals=[pedal("delay", "delay")],
        loops=[loop(1, "delay")],
        chain={"front": [1], "fx": []},
        presets=[preset("a", memory=1), preset("b", memory=2)],
        songs=[song("x", "a"), song("y", section("b", plus=["delay"]))],
        setlists=[setlist("friday", "x"), setlist("sunday", "y")],
    )
    question = Question("loops", setlists=("friday",), keep=("b",), pins={"delay": "in"})
    made = plan(rig, question)
    assert made.rig is not None
    assert sections_of(made.rig)[1] == ("b", ("delay",), ())


def test_a_kept_preset_that_cannot_stay_is_explained() -> None:
    """A pedal wanted in a loop that a kept preset has on top: the reason, and ways out."""
    made = plan(solo_with_wah(), Question("loops", keep=("lead",), pins={"wah": "in"}))
    assert made.conflict is not None
    assert made.conflict.reason == (
        "wah must stay outside, because sections that stay on lead switch it on top, but you want "
        "it in a loop"
    )
    assert [relaxation.text for relaxation in made.conflict.relaxations] == [
        "let wah stay outside the loops",
        "let lead change",
    ]


@pytest.mark.parametrize("toggling", [False, True])
def test_drawn_rigs_keep_what_they_are_asked_to(toggling: bool) -> None:
    """On drawn rigs, planned as loops and as a whole, sections of kept presets stay on them."""
    kept = 0
    for seed in range(500, 620):
        rig, options = drawn(seed, toggling=toggling)
        ids = [preset.id for preset in rig.presets]
        options = replace(options, keep=tuple(dict.fromkeys([*ids[: seed % 3], ids[-1]])))
        for planner in (plan_loops, plan_all):
            made = planner(rig, options)
            if made.rig is None:
                continue
            kept += 1
            check_figures(rig, made)
            check_layout(rig, options, made)
    assert kept > 60
