"""A plan moves feet, never hands: volume, pickup and words of every section stay as they are."""

from __future__ import annotations

import difflib
from pathlib import Path
from typing import Any

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from moves.rigs_drawn import Data, rigs
from plan.hands_oracle import all_hands
from planned_once import plan_once
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher
from screens import DEMOS

from rigtui.model import rig_from_data, rig_to_data
from rigtui.model.rig import Rig
from rigtui.moves import count_song
from rigtui.paper.words import hands_of
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError
from rigtui.plan.rebuild.hands import defaults_of, differ_in_use, hands_for
from rigtui.plan.words.hands import hand_steps
from rigtui.store.load import load
from rigtui.store.splice import rewrite

TEXTS = ("", "", "thumb near the neck", "brush it")


@st.composite
def rigs_with_hands(draw: st.DrawFn) -> Data:
    """Drawn rigs whose presets ask something of the hands, and whose sections may differ."""
    data = draw(rigs(most_loops=3, most_presets=5, most_sections=4, most_memories=6))
    for row in data["presets"]:
        row["hands"] = draw(st.sampled_from(TEXTS))
        row["guitar_volume"] = draw(st.sampled_from((0, 4, 10)))
        row["pickup"] = draw(st.sampled_from(("neck", "bridge")))
        for key in draw(st.sets(st.sampled_from(("hands", "guitar_volume", "pickup")))):
            del row[key]
    for song_ in data["songs"]:
        for row in song_["sections"]:
            ignores = draw(st.sets(st.sampled_from(("hands", "guitar_volume", "pickup"))))
            if draw(st.integers(0, 5)) == 0:
                row["ignores"] = sorted(ignores)
                row["preset_hands"] = draw(st.sampled_from(TEXTS))
    return data


def check_hands(now: Rig, then: Rig) -> None:
    """Hands of every section, and hand moves of every song, are the same before and after."""
    assert all_hands(then) == all_hands(now)
    for before, after in zip(now.songs, then.songs, strict=True):
        assert count_song(then, after).hand_moves == count_song(now, before).hand_moves
        texts = [[section.hands for section in each.sections] for each in (before, after)]
        assert texts[0] == texts[1]
    assert {preset.note for preset in then.presets} <= {preset.note for preset in now.presets}


def places(rig: Rig) -> dict[str, tuple[bool, str]]:
    """Whether each pedal is in a loop, and how it is used outside."""
    inside = {pedal for each in rig.loops for pedal in each.pedals}
    default = {pedal.id: "between" if pedal.kind == "tuner" else "foot" for pedal in rig.pedals}
    return {
        pedal.id: (pedal.id in inside, "" if pedal.id in inside else pedal.use or default[pedal.id])
        for pedal in rig.pedals
    }


def check_plan(rig: Rig, question: Question) -> bool:
    """Plan, and look at the hands, at the pedals that stay, and at the presets that are kept."""
    try:
        made = plan_once(rig, question)
    except PlanError:
        return False
    if made.rig is None:
        return False
    check_hands(rig, made.rig)
    was, now = places(rig), places(made.rig)
    before = {pedal.id: pedal for pedal in rig.pedals}
    assert all(
        pedal == before[pedal.id] for pedal in made.rig.pedals if was[pedal.id] == now[pedal.id]
    )
    kept = {preset.id: preset for preset in made.rig.presets}
    for old in rig.presets:
        if old.id in question.keep:
            keys = ("name", "role", "channel", "guitar_volume", "pickup", "hands", "note")
            assert all(getattr(kept[old.id], key) == getattr(old, key) for key in keys)
    return True


@examples(30)
@given(rigs_with_hands(), st.sampled_from(("all", "loops", "route", "switches")), st.data())
def test_hands_stay_as_they_are(data: Data, kind: str, draw: st.DataObject) -> None:
    """Over random rigs and all planners, some presets kept."""
    rig = rig_from_data(data)
    keep = draw.draw(st.sets(st.sampled_from([preset.id for preset in rig.presets]), max_size=1))
    copies = draw.draw(st.integers(0, 1))
    check_plan(rig, Question(kind, keep=tuple(keep) if kind in ("all", "loops") else (),
                            copies=copies if kind == "switches" else 0))  # fmt: skip


@pytest.mark.parametrize("name", ["quay-street", "three-piece", "first-rig"])
@pytest.mark.parametrize("kind", ["all", "loops", "route"])
def test_hands_of_the_demo_rigs_stay(name: str, kind: str) -> None:
    """So do those of the rigs that are shipped."""
    _, rig = load(DEMOS / f"{name}.toml")
    assert check_plan(rig, Question(kind))


@pytest.mark.parametrize("kept", ["rolled-back", "rock", "clean-wide"])
def test_a_preset_that_is_kept_keeps_its_hands(kept: str) -> None:
    """Whichever of two with the same loops stays."""
    _, rig = load(DEMOS / "quay-street.toml")
    assert check_plan(rig, Question("all", keep=(kept,)))


PARTS: dict[str, Any] = {
    "switcher": switcher(2, 2),
    "pedals": [pedal("drive", name="Drive")],
    "loops": [loop(1, "drive")],
    "setlists": [setlist("night", "a")],
}


def two_alike() -> Rig:
    """Loud and Soft switch the same: by hand, one preset does for both, and saves both moves."""
    return make_rig(
        **PARTS,
        presets=[
            preset("soft", 1, name="Soft", memory=1, hands="volume down", guitar_volume=3),
            preset("loud", 1, name="Loud", memory=2, role="high-gain", guitar_volume=10),
        ],
        songs=[song("a", "loud", "soft", section("loud", name="End"))],
    )


def test_the_name_of_most_sections_wins() -> None:
    """By hand: two sections are on Loud, one on Soft, which says for itself what is soft."""
    rig = two_alike()
    made = plan(rig, Question("all"))
    assert made.rig is not None
    assert [preset.id for preset in made.rig.presets] == ["loud"]
    assert made.rig.presets[0].guitar_volume == 10
    soft = made.rig.songs[0].sections[1]
    assert (soft.guitar_volume, soft.preset_hands, soft.ignores) == (3, "volume down", ())
    assert made.moves_after == 0
    check_hands(rig, made.rig)
    assert hand_steps(rig, made.rig) == [
        "nothing changes for your hands: 1 section moved from Soft to Loud keeps its own: volume "
        '3, "volume down" (accepting the plan writes that into the file)'
    ]


def test_a_kept_preset_asks_nothing_of_the_sections_that_join_it() -> None:
    """By hand: Soft stays whole; the two on Loud ignore its words, and give their own volume."""
    rig = two_alike()
    made = plan(rig, Question("all", keep=("soft",)))
    assert made.rig is not None
    soft = next(preset for preset in made.rig.presets if preset.id == "soft")
    assert soft.hands == "volume down"
    assert soft.guitar_volume == 3
    check_hands(rig, made.rig)
    first, second, last = made.rig.songs[0].sections
    assert hands_of(made.rig, first, None) == "volume 10"
    assert hands_of(made.rig, second, first) == "volume 3, volume down"
    assert hands_of(made.rig, last, second) == "volume 10"


def test_a_new_file_differs_only_where_the_plan_does() -> None:
    """Quay Street: comments of pedals that stay are there; no line of a pedal is another."""
    path: Path = DEMOS / "quay-street.toml"
    source, rig = load(path)
    made = plan_once(rig, Question("all"))
    assert made.rig is not None
    text = rewrite(source.text, rig_to_data(made.rig)).text
    assert 'use = "foot"                   # heel it in, toe it out' in text
    assert 'use = "between"                # doubles as the mute' in text
    head = "- loops\n"  # the line above the loops, where the pedals end
    heads = [toml.split(head)[0] for toml in (source.text, text)]
    assert list(difflib.unified_diff(*(head.splitlines() for head in heads))) == []


def test_a_preset_keeps_its_hands_as_long_as_any_section_takes_them() -> None:
    """Where no section takes what a preset says of the hands, it says what most of them want."""
    rig = make_rig(
        presets=[
            preset("bridge", pickup="bridge"),
            preset("neck", pickup="neck"),
            preset("bare"),
        ],
        songs=[song("a", "bridge", "neck", "neck")],
    )
    bridge, neck, bare = rig.presets
    first, *others = rig.songs[0].sections
    wanted = [(first, bridge), *((section_, neck) for section_ in others)]
    assert hands_for(bridge, defaults_of(wanted))["pickup"] == "bridge"
    assert hands_for(bridge, defaults_of(wanted[1:]))["pickup"] == "neck"
    assert hands_for(bare, defaults_of(wanted))["pickup"] == "neck"


def test_presets_differ_in_use_by_role_or_hands_alone() -> None:
    """A role or a pickup makes another preset of the same loops; what says nothing does not."""
    rig = make_rig(
        presets=[
            preset("plain", 1),
            preset("empty", 1, pickup=None, guitar_volume=None),
            preset("lead", 1, role="lead"),
            preset("neck", 1, pickup="neck"),
            preset("bridge", 1, pickup="bridge"),
        ],
        loops=[loop(1)],
    )
    plain, empty, lead, neck, bridge = rig.presets
    assert not differ_in_use(plain, empty)
    assert differ_in_use(plain, lead)
    assert differ_in_use(plain, neck)
    assert differ_in_use(neck, bridge)
