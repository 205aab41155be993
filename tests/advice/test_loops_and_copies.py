"""Remedies on the board and in the memories: a pedal inside, more loops, copies."""

from __future__ import annotations

from typing import Any

from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.advice.first import do_first
from rigtui.advice.proposals.inside import put_inside
from rigtui.advice.remedy import Remedy
from rigtui.model import Rig
from rigtui.model.lookup import lookup


def _boost_rig(*, empty: bool) -> Rig:
    """A boost that is stepped on together with a recall; perhaps a loop with nothing in it."""
    return make_rig(
        switcher=switcher(4, 4),
        pedals=[pedal("boost", "boost", name="Lift"), pedal("drive", "overdrive")],
        loops=[loop(1, "drive"), *([loop(2)] if empty else [])],
        chain={"front": ["boost", 1, *([2] if empty else [])]},
        presets=[
            preset("dry", memory=1, name="Dry", note="mine"),
            preset("crunch", 1, memory=2, name="Crunch"),
        ],
        songs=[
            song(
                "a",
                section("dry"),
                section("crunch", plus=["boost"]),
                section("dry"),
                section("crunch"),
            )
        ],
        setlists=[setlist("night", "a")],
    )


def _of_kind(rig: Rig, kind: str) -> Remedy:
    return next(row for row in do_first(rig).remedies if row.proposal.kind == kind)


def _sounds(rig: Rig) -> list[Any]:
    known = lookup(rig)
    return [set(known.sound(section)) for song in rig.songs for section in song.sections]


def test_a_pedal_goes_into_the_loop_that_is_empty() -> None:
    """Sections keep their sounds; where a preset is wanted with and without it, it becomes two."""
    rig = _boost_rig(empty=True)
    remedy = _of_kind(rig, "inside boost")
    assert remedy.proposal.what == "Put Lift in loop 2, which is empty"
    assert not remedy.proposal.as_if
    assert remedy.clears["extra_presses"] == 2
    then = remedy.rig
    assert then.loops[1].pedals == ("boost",)
    assert [(row.label, row.loops, row.memory) for row in then.presets] == [
        ("Dry", (), 1), ("Crunch", (1,), 2), ("Crunch + Lift", (1, 2), 3),
    ]  # fmt: skip
    assert _sounds(then) == _sounds(rig)
    assert [section.plus for section in then.songs[0].sections] == [()] * 4


def test_one_more_loop_is_counted_as_if_it_were_there() -> None:
    """The new loop stands where the pedal stood: before the others."""
    rig = _boost_rig(empty=False)
    remedy = _of_kind(rig, "more loops")
    assert remedy.proposal.what == "With 1 more loop, Lift could go into it"
    assert remedy.proposal.as_if
    assert remedy.rig.chain.front == (2, 1)
    assert _sounds(remedy.rig) == _sounds(rig)
    assert remedy.clears["extra_presses"] == 2


def test_a_preset_that_always_has_it_stays_one() -> None:
    """No second preset where every section wants the pedal, or does not mind."""
    rig = _boost_rig(empty=True)
    sections = list(rig.songs[0].sections)
    sections[3] = sections[3].model_copy(update={"may": ("boost",)})
    played = rig.songs[0].model_copy(update={"sections": tuple(sections)})
    then = put_inside(rig.model_copy(update={"songs": (played,)}), ("boost",), 2)
    assert [(row.label, row.loops) for row in then.presets] == [("Dry", ()), ("Crunch", (1, 2))]


def test_what_the_foot_is_on_earns_no_loop() -> None:
    """A wah is rocked: to put it in a loop would save no foot."""
    rig = _boost_rig(empty=True)
    wah = rig.pedals[0].model_copy(update={"kind": "wah"})
    rig = rig.model_copy(update={"pedals": (wah, rig.pedals[1])})
    kinds = [remedy.proposal.kind for remedy in do_first(rig).remedies]
    assert not [kind for kind in kinds if kind.startswith(("inside", "more loops"))]


def test_a_copy_in_the_bank_of_the_song() -> None:
    """Two presets in two banks and free memories: a copy of one saves every bank step."""
    rig = make_rig(
        switcher=switcher(8, 4),
        pedals=[pedal("drive", "overdrive")],
        loops=[loop(1, "drive")],
        chain={"front": [1]},
        presets=[preset("dry", memory=1, name="Dry"), preset("crunch", 1, memory=5, name="Crunch")],
        songs=[song("a", "dry", "crunch", "dry", "crunch")],
        setlists=[setlist("night", "a")],
    )
    remedy = _of_kind(rig, "copies")
    assert remedy.proposal.what == "Store Crunch in memory 2 as well"
    assert remedy.clears["moves"] == 3
    assert remedy.rig.presets[1].memories == (5, 2)
