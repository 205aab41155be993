"""Taking a pedal outside, merging presets and freeing loops leave every section as it sounded."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
from checks.rigs_wild import doubled_rigs
from examples import examples
from hypothesis import given
from moves.rigs_drawn import Data
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.checks import check
from rigtui.model import EditError, Rig, Section, rig_from_data, rig_to_data
from rigtui.model.edits import leave_on, merge_presets, share_loop, take_outside
from rigtui.model.lookup import lookup


def heard(rig: Rig, part: Section) -> dict[str, Any]:
    """What a section asks for: pedals on, channel, guitar volume, pickup."""
    own = lookup(rig).presets[part.preset or ""]
    return {
        "on": set(lookup(rig).sound(part)),
        "channel": own.channel or None,
        "volume": own.guitar_volume if part.guitar_volume is None else part.guitar_volume,
        "pickup": part.pickup or own.pickup,
        "may": part.may,
    }


def same_sounds(before: Rig, after: Rig, but: str = "") -> bool:
    """Check that mapped sections sound alike in two rigs; say whether there was one to check.

    Args:
        before: A rig.
        after: What an edit made of it.
        but: A pedal whose wish in `plus` nothing could grant before.
    """
    compared = False
    for old, new in zip(before.songs, after.songs, strict=True):
        for old_section, new_section in zip(old.sections, new.sections, strict=True):
            if old_section.preset in lookup(before).presets and but not in old_section.plus:
                assert heard(after, new_section) == heard(before, old_section)
                compared = True
    return compared


def errors(rig: Rig) -> Counter[str]:
    """How many errors there are of each rule; of presets in one memory, another may be named."""
    return Counter(finding.rule for finding in check(rig) if finding.severity == "error")


@examples(30)
@given(doubled_rigs())
def test_every_section_sounds_as_before_with_any_pedal_taken_outside(data: Data) -> None:
    """Pedals on, channel, guitar volume and pickup of every mapped section stay what they were."""
    rig = rig_from_data(data)
    inside = [
        pedal for pedal in rig.pedals if pedal.id in lookup(rig).loop_of and pedal.kind != "tuner"
    ]
    for looped in inside:
        after = take_outside(rig, looped.id)
        same_sounds(rig, after, "" if lookup(rig).toggling else looped.id)
        assert rig_from_data(rig_to_data(after)) == after
        assert not errors(after) - errors(rig)
        assert rig_from_data(data) == rig


@examples(20)
@given(doubled_rigs())
def test_every_section_sounds_as_before_with_twins_merged(data: Data) -> None:
    """Merging presets of the same loops and channel changes no mapped section."""
    rig = rig_from_data(data)
    for stays in rig.presets:
        for gone in rig.presets:
            alike = set(stays.loops) == set(gone.loops)
            if stays is not gone and alike and (stays.channel or "") == (gone.channel or ""):
                after = merge_presets(rig, stays.id, gone.id)
                same_sounds(rig, after)
                assert [preset.id for preset in after.presets] == [
                    preset.id for preset in rig.presets if preset is not gone
                ]
                return


def chorus_rig(**parts: Any) -> Rig:
    """Drive in loop 1, chorus in loop 2; each of two sounds with and without the chorus."""
    parts = {
        "switcher": switcher(memories=4),
        "pedals": [pedal("drive", "overdrive"), pedal("chorus", "modulation")],
        "loops": [loop(1, "drive"), loop(2, "chorus"), loop(3)],
        "chain": {"front": [1, 2, 3]},
        "presets": [
            preset("clean-wide", 2, memory=1, hands="lightly", guitar_volume=5),
            preset("clean", memory=2),
            preset("lead", 1),
            preset("lead-wide", 1, 2, memory=4),
        ],
        "songs": [song("low-fen", "clean-wide", "clean", "lead", "lead-wide")],
        "setlists": [setlist("friday", "low-fen")],
        **parts,
    }
    return make_rig(**parts)


def test_presets_that_differed_in_the_pedal_alone_become_one() -> None:
    """The first without the pedal stays, takes a memory if it has none, and loses no hand."""
    after = take_outside(chorus_rig(), "chorus")
    assert [(preset.id, preset.loops, preset.memory) for preset in after.presets] == [
        ("clean", (), 2),
        ("lead", (1,), 4),
    ]
    assert [
        (part.preset, part.plus, part.guitar_volume, part.preset_hands)
        for part in after.songs[0].sections
    ] == [
        ("clean", ("chorus",), 5, "lightly"),
        ("clean", (), None, ""),
        ("lead", (), None, ""),
        ("lead", ("chorus",), None, ""),
    ]
    assert same_sounds(chorus_rig(), after)


def test_an_emptied_loop_stays_in_the_chain() -> None:
    """Nothing is rewired but the pedal: its loop is free for another."""
    after = take_outside(chorus_rig(), "chorus")
    assert lookup(after).loops[2].pedals == ()
    assert after.chain.front == (1, 2, 3, "chorus")


def test_songs_that_never_heard_the_pedal_stay_the_same_objects() -> None:
    """What is remembered of them stays good."""
    rig = chorus_rig(songs=[song("low-fen", "lead"), song("tin-moth", "clean-wide")], setlists=[])
    after = take_outside(rig, "chorus")
    assert after.songs[0] is rig.songs[0]
    assert after.songs[1] is not rig.songs[1]


@pytest.mark.parametrize(
    ("pedal_id", "kind", "between", "chain"),
    [
        ("a", "delay", False, ["a", 1, 2, 3]),  # out of the first loop: nothing is passed
        ("c", "wah", False, [1, 2, 3, "c"]),  # out of the last
        ("b", "wah", False, ["b", 1, 2, 3]),  # one either way: as its kind usually stands
        ("b", "delay", False, [1, 2, 3, "b"]),
        ("b", "delay", True, [1, "b", 2, 3]),  # jacks between the loops: it stays
        ("b2", "delay", True, [1, 2, "b2", 3]),  # behind the pedal that it shared a loop with
    ],
)
def test_the_pedal_goes_where_it_passes_the_fewest_pedals(
    pedal_id: str, kind: str, between: bool, chain: list[Any]
) -> None:
    """Before or after all loops, unless the switcher has jacks between them."""
    ids = ["a", "b", "b2", "c"]
    shared = pedal_id == "b2"
    rig = make_rig(
        switcher=switcher(between_loops=between),
        pedals=[pedal(id, kind if id == pedal_id else "eq") for id in ids],
        loops=[loop(1, "a"), loop(2, "b", *(["b2"] if shared else [])), loop(3, "c")],
        chain={"front": [1, 2, 3, *([] if shared else ["b2"])]},
    )
    front = [item for item in take_outside(rig, pedal_id).chain.front if shared or item != "b2"]
    assert front == chain


def test_on_its_own_side_and_next_to_the_loops_where_its_loop_has_no_place() -> None:
    """A loop that the chain leaves out gives no hint: the pedal's kind decides."""
    rig = make_rig(
        pedals=[pedal("comp", "compressor"), pedal("hall", "reverb")],
        loops=[loop(1, "comp"), loop(2, "hall"), loop(3)],
        chain={"front": [3]},
    )
    assert take_outside(rig, "comp").chain.front == ("comp", 3)
    assert take_outside(rig, "hall").chain.front == (3, "hall")


def test_a_shared_loop_is_still_toggled_for_the_pedals_that_stay() -> None:
    """Where a section toggled the loop by the pedal's name, it now does by its neighbour's."""
    parts: dict[str, Any] = {
        "switcher": switcher(loop_switches=True),
        "pedals": [pedal("sway"), pedal("hall"), pedal("wah", use="always")],
        "loops": [loop(1, "sway", "hall")],
        "presets": [preset("dry"), preset("wet", 1)],
        "songs": [
            song(
                "low-fen",
                section("dry", plus=["sway"]),
                section("wet", minus=["sway"]),
                section("wet", minus=["hall"]),
                section("dry", plus=["hall"]),
                "wet",
            )
        ],
    }
    after = take_outside(make_rig(**parts), "sway")
    assert [(part.plus, part.minus) for part in after.songs[0].sections] == [
        (("sway", "hall"), ()),
        ((), ("hall",)),
        ((), ("hall",)),
        (("hall", "sway"), ()),
        (("sway",), ()),
    ]
    assert [preset.loops for preset in after.presets] == [(), (1,)]
    assert same_sounds(make_rig(**parts), after)


def test_a_tuner_is_no_part_of_any_sound() -> None:
    """It comes out for between songs, and no section steps on it."""
    rig = make_rig(
        pedals=[pedal("tuner", "tuner", use="always")],
        loops=[loop(1, "tuner")],
        chain={"front": [1]},
        presets=[preset("mute", 1)],
        songs=[song("low-fen", section("mute", plus=["tuner"]))],
    )
    after = take_outside(rig, "tuner")
    assert (after.pedals[0].use, after.songs[0].sections[0].plus) == (None, ())
    assert after.chain.front == ("tuner", 1)


def test_waivers_of_presets_that_went_move_to_the_one_that_stays() -> None:
    """Unless that one has its own of the same rule."""
    rows = [
        {"rule": "name-blur", "where": "presets.clean-wide", "reason": "both"},
        {"rule": "name-blur", "where": "presets.clean", "reason": "own"},
        {"rule": "gate-on-clean", "where": "presets.clean-wide", "reason": "set low"},
        {"rule": "switch-gap", "where": "switcher"},
    ]
    after = take_outside(chorus_rig(waivers=rows), "chorus")
    assert [(waiver.rule, waiver.where, waiver.reason) for waiver in after.waivers] == [
        ("name-blur", "presets.clean", "own"),
        ("gate-on-clean", "presets.clean", "set low"),
        ("switch-gap", "switcher", ""),
    ]


@pytest.mark.parametrize(
    ("pedal_id", "message"),
    [
        ("wah", "wah is in no loop"),
        ("both", "both is in more than one loop"),
        ("ghost\x07", 'there is no pedal "ghost␇"'),
    ],
)
def test_what_cannot_be_taken_out_is_refused(pedal_id: str, message: str) -> None:
    """With the reason, and nothing changed."""
    rig = make_rig(pedals=[pedal("wah"), pedal("both")], loops=[loop(1, "both"), loop(2, "both")])
    with pytest.raises(EditError, match=f"^{message}$"):
        take_outside(rig, pedal_id)


def test_a_merge_keeps_memory_volume_and_pickup() -> None:
    """The one that stays takes the other's memory if it has none; hands go to the sections."""
    rig = make_rig(
        presets=[
            preset("loud", guitar_volume=10, pickup="bridge"),
            preset("quiet", memory=3, guitar_volume=4),
        ],
        songs=[song("low-fen", "loud", "quiet", section("quiet", guitar_volume=2))],
    )
    after = merge_presets(rig, "loud", "quiet")
    assert [preset.model_dump(exclude_unset=True) for preset in after.presets] == [
        {"id": "loud", "loops": (), "memory": 3}
    ]
    assert [(part.guitar_volume, part.pickup) for part in after.songs[0].sections] == [
        (10, "bridge"),
        (4, None),
        (2, None),
    ]


@pytest.mark.parametrize(
    ("stays", "gone", "message"),
    [
        ("loud", "loud", "a preset can't be merged with itself"),
        ("loud", "ghost", 'there is no preset "ghost"'),
    ],
)
def test_a_merge_needs_two_presets(stays: str, gone: str, message: str) -> None:
    """Anything else is refused."""
    with pytest.raises(EditError, match=f"^{message}$"):
        merge_presets(make_rig(presets=[preset("loud")]), stays, gone)


def test_pedals_left_on_stand_where_their_loop_stood() -> None:
    """Next to the loops, in their order, and no preset names the loop any more."""
    rig = make_rig(
        switcher=switcher(),
        pedals=[pedal("comp"), pedal("eq"), pedal("drive"), pedal("wah")],
        loops=[loop(1, "comp", "eq"), loop(2, "drive")],
        chain={"front": ["wah", 1, 2]},
        presets=[preset("clean", 1), preset("dirty", 1, 2)],
        songs=[song("low-fen", "clean", "dirty")],
    )
    after = leave_on(rig, 1)
    assert after.chain.front == ("wah", "comp", "eq", 1, 2)
    assert [(pedal.id, pedal.use) for pedal in after.pedals][:2] == [
        ("comp", "always"),
        ("eq", "always"),
    ]
    assert [preset.loops for preset in after.presets] == [(), (2,)]
    assert same_sounds(rig, after)


def test_a_shared_loop_holds_both_in_order() -> None:
    """The pedals that come in stand behind those that were there, and the other loop is empty."""
    rig = make_rig(
        pedals=[pedal("sway"), pedal("hall")],
        loops=[loop(1, "sway"), loop(2, "hall")],
        chain={"front": [1, 2]},
        presets=[preset("dry"), preset("wet", 1, 2)],
        songs=[song("low-fen", "dry", "wet")],
    )
    after = share_loop(rig, 2, into=1)
    assert [loop.pedals for loop in after.loops] == [("sway", "hall"), ()]
    assert [preset.loops for preset in after.presets] == [(), (1,)]
    assert same_sounds(rig, after)


@pytest.mark.parametrize(
    ("edit", "message"),
    [
        (lambda rig: leave_on(rig, 2), "loop 2 is empty"),
        (lambda rig: leave_on(rig, 9), "there is no loop 9"),
        (lambda rig: share_loop(rig, 1, 1), "loop 1 can't be merged with itself"),
        (lambda rig: share_loop(rig, 1, 9), "there is no loop 9"),
    ],
)
def test_loops_that_cannot_be_freed_are_refused(edit: Any, message: str) -> None:
    """With the reason."""
    rig = make_rig(pedals=[pedal("sway")], loops=[loop(1, "sway"), loop(2)])
    with pytest.raises(EditError, match=f"^{message}$"):
        edit(rig)
