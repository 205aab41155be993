"""What can be played: crowded changes, extra presses, copies, and sounds that no memory holds.

Source: docs/rig-file.md, "Counting moves". Every expected value was worked out by hand.
"""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import (
    Data,
    loop,
    make_rig,
    pedal,
    preset,
    section,
    setlist,
    song,
    switcher,
    written,
)

from rigtui.model import Rig
from rigtui.model.edits import set_preset
from rigtui.model.playable import is_unplayable, nearest_stored
from rigtui.moves import count_setlist, count_song
from rigtui.moves.words import burden_in_words, presses_in_words, unplayable_in_words

WAH = "wah"


def rig_of(*sections: Data | str, **parts: Any) -> Rig:
    """A song on a board with a wah, a tremolo that is rocked, and two loops."""
    whole: dict[str, Any] = {
        "switcher": switcher(16, 4),
        "pedals": [
            pedal("wah", "wah", name="Rocker wah"),
            pedal("swell", "volume", use="treadle"),
            pedal("spare", use="home"),
            pedal("drive", name="Drive"),
            pedal("chorus", name="Chorus"),
        ],
        "loops": [loop(1, "drive"), loop(2, "chorus")],
        "presets": [
            preset("clean", memory=1, name="Clean"),
            preset("rough", 1, memory=2, name="Rough"),
            preset("far", 2, memory=9, name="Far"),
        ],
        "songs": [song("air", *sections)],
        "setlists": [setlist("night", "air", "air")],
    }
    return make_rig(**(whole | parts))


def beats(rig: Rig) -> list[tuple[int, int]]:
    """Moves and moves on the beat of each change of the first song."""
    return [(change.moves, change.on_the_beat) for change in count_song(rig, rig.songs[0]).changes]


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        pytest.param({}, {"plus": [WAH]}, (2, 2), id="both on the beat"),
        pytest.param({}, {"plus": [WAH], "early": [WAH]}, (2, 1), id="switched early"),
        pytest.param({"early": [WAH]}, {"plus": [WAH]}, (2, 2), id="early of the section before"),
        pytest.param({"may": [WAH]}, {"plus": [WAH]}, (2, 1), id="free in the section before"),
        pytest.param({}, {"plus": [WAH], "may": [WAH]}, (2, 1), id="free in the section entered"),
        pytest.param({"plus": [WAH]}, {"early": [WAH]}, (2, 1), id="switched off early"),
        pytest.param({}, {"plus": ["swell"]}, (1, 1), id="rocked: no press"),
        pytest.param({}, {"plus": ["spare"]}, (1, 1), id="at home: not switched"),
        pytest.param({}, {"early": [WAH]}, (1, 1), id="early, but not switched"),
    ],
)
def test_what_must_happen_on_the_beat(before: Data, after: Data, expected: tuple[int, int]) -> None:
    """A pedal that is switched early, or is free in either section, is no press on the beat."""
    rig = rig_of(section("clean", **before), section("rough", **after))
    assert beats(rig) == [expected]


def test_extra_presses_and_effort() -> None:
    """One press more than one on a beat is an extra press, and weighs three moves by default."""
    sections = ["clean", section("rough", plus=[WAH]), "far", section("clean", plus=[WAH])]
    rig = rig_of(*sections)
    counted = count_song(rig, rig.songs[0])
    # Wah and switch; two bank steps, switch and wah; two bank steps, switch and wah.
    assert beats(rig) == [(2, 2), (4, 2), (4, 2)]
    assert (counted.moves, counted.crowded, counted.extra_presses) == (10, 3, 3)
    assert counted.effort == 10 + 3 * 3
    evening = count_setlist(rig, rig.setlists[0])
    assert (evening.crowded, evening.extra_presses, evening.effort) == (6, 6, 38)
    lighter = rig.model_copy(
        update={"player": rig.player.model_copy(update={"extra_press_weight": 0.5})}
    )
    assert count_song(lighter, lighter.songs[0]).effort == 11.5
    assert count_setlist(lighter, lighter.setlists[0]).effort == 23
    assert count_song(rig, rig.songs[0]).effort == 19


@pytest.mark.parametrize(
    ("memory", "copies", "start", "expected"),
    [
        pytest.param(9, [2], "clean", ["switch 2"], id="the copy in the bank shown"),
        pytest.param(9, [13], "clean", ["bank down", "switch 1"], id="fewest bank steps"),
        pytest.param(13, [5], "clean", ["bank up", "switch 1"], id="of equals the lowest memory"),
        pytest.param(None, [6], "clean", ["bank up", "switch 2"], id="copies alone"),
        pytest.param(99, [6], "clean", ["bank up", "switch 2"], id="its own is out of range"),
        pytest.param(3, [4], "clean", ["switch 3"], id="twice in one bank"),
        pytest.param(5, [6, 99], "clean", ["bank up", "switch 1"], id="a copy out of range"),
    ],
)
def test_a_preset_in_several_memories(
    memory: int | None, copies: list[int], start: str, expected: list[str]
) -> None:
    """As written it is recalled from the memory with the fewest bank steps."""
    more = {} if memory is None else {"memory": memory}
    presets = [preset("clean", memory=1), preset("twice", 1, copies=copies, **more)]
    rig = rig_of(start, "twice", presets=presets)
    (change,) = count_song(rig, rig.songs[0]).changes
    assert written(change.presses) == expected


def test_a_song_starts_on_the_copy_nearest_to_bank_1() -> None:
    """From the copy in bank 4, one step down from bank 1, the next bank up is bank 1 again."""
    presets = [preset("twice", 1, memory=9, copies=[13]), preset("clean", memory=1)]
    rig = rig_of("twice", "clean", presets=presets)
    (change,) = count_song(rig, rig.songs[0]).changes
    assert written(change.presses) == ["bank up", "switch 1"]


def test_least_moves_may_use_any_copy() -> None:
    """The nearest copy is one bank down, the other two up, where the next preset is.

    By hand, banks that do not wrap: as written one step and a switch, then three steps and a
    switch; at the least two steps and a switch, then a switch.
    """
    presets = [
        preset("clean", memory=5),
        preset("twice", 1, memory=1, copies=[13]),
        preset("far", 2, memory=14),
    ]
    board = switcher(16, 4, bank_wrap=False)
    rig = rig_of("clean", "twice", "far", presets=presets, switcher=board)
    counted = count_song(rig, rig.songs[0])
    assert [written(change.presses) for change in counted.changes] == [
        ["bank down", "switch 1"],
        ["bank up"] * 3 + ["switch 2"],
    ]
    assert (counted.moves, counted.least_moves) == (6, 4)


def stored(*, clean: int | None = 1, more: list[Data] | None = None, **parts: Any) -> Rig:
    """A song on Rough, which no memory holds, and on an unmapped section."""
    presets = [
        preset("clean", 2, name="Clean", **({} if clean is None else {"memory": clean})),
        preset("rough", 1, 2, name="Rough"),
        *(more or []),
    ]
    return rig_of("rough", "clean", section(), "no-such", presets=presets, **parts)


@pytest.mark.parametrize(
    ("rig", "unplayable"),
    [
        pytest.param(stored(), 1, id="in no memory"),
        pytest.param(stored(clean=99), 2, id="in no memory that the switcher has"),
        pytest.param(stored(more=[preset("same", 2, 1, memory=4)]), 0, id="switched the same"),
        pytest.param(
            stored(more=[preset("same", 2, 1, memory=4, channel="drive")]), 1, id="other channel"
        ),
        pytest.param(
            stored(more=[preset("same", 1, 2, memory=4, midi=[{"device": "echo", "program": 1}])]),
            1,
            id="other MIDI messages",
        ),
        pytest.param(
            stored(more=[preset("same", 1, 2, copies=[4], guitar_volume=4)]), 0, id="in a copy"
        ),
        pytest.param(stored(switcher=None), 0, id="no switcher"),
    ],
)
def test_unplayable_sections(rig: Rig, unplayable: int) -> None:
    """A section is unplayable if no memory holds what its preset switches."""
    counted = count_song(rig, rig.songs[0])
    assert counted.unplayable == unplayable
    assert sum(is_unplayable(rig, section) for section in rig.songs[0].sections) == unplayable
    assert count_setlist(rig, rig.setlists[0]).unplayable == 2 * unplayable


def test_storing_a_preset_makes_other_songs_playable() -> None:
    """What another preset's memory changes is counted anew, in songs that do not name it too."""
    rig = stored(more=[preset("same", 1, 2, name="Same")])
    assert count_song(rig, rig.songs[0]).unplayable == 1
    new = set_preset(rig, "same", memory=5)
    assert new.songs[0] is rig.songs[0]
    assert count_song(new, new.songs[0]).unplayable == 0
    assert count_song(rig, rig.songs[0]).unplayable == 1


def test_the_nearest_stored_preset() -> None:
    """Fewest pedals that differ, those that are free aside; then the lowest memory."""
    rig = stored()
    nearest = nearest_stored(rig, rig.songs[0].sections[0])
    assert nearest is not None
    assert nearest.preset.id == "clean"
    assert (nearest.missing, nearest.too_many, nearest.other_channel) == (("drive",), (), False)
    assert nearest_stored(rig, rig.songs[0].sections[2]) is None
    two = stored(more=[preset("bare", memory=2), preset("dirt", 1, memory=3)])
    rough = two.songs[0].sections[0]
    assert nearest_stored(two, rough).preset.id == "clean"
    free = rough.model_copy(update={"may": ("chorus",)})
    assert nearest_stored(two, free).preset.id == "dirt"


@pytest.mark.parametrize(
    ("rig", "words"),
    [
        (stored(), "Can't be played: Rough is in no memory. Nearest is Clean, without Drive"),
        (
            stored(clean=None),
            "Can't be played: Rough is in no memory, and no other preset is stored either",
        ),
        (
            stored(clean=None, more=[preset("other", 1, memory=3, name="Other", channel="drive")]),
            "Can't be played: Rough is in no memory. Nearest is Other, without Chorus",
        ),
        (
            stored(more=[preset("same", 1, 2, memory=3, midi=[{"device": "echo", "program": 1}])]),
            "Can't be played: Rough is in no memory. Nearest is same, which sends other MIDI "
            "messages",
        ),
        (stored(more=[preset("same", 1, 2, memory=3)]), None),
    ],
)
def test_an_unplayable_section_in_words(rig: Rig, words: str | None) -> None:
    """What is missing, and what comes nearest and how it differs."""
    assert unplayable_in_words(rig, rig.songs[0].sections[0]) == words


def test_which_press_can_wait_is_said() -> None:
    """Bank steps and early pedals come ahead of time; what is free only afterwards comes later."""
    sections = [
        section("clean", plus=[WAH]),
        section("far", plus=[], early=[WAH]),
        section("clean", plus=[WAH], may=[WAH]),
    ]
    rig = rig_of(*sections)
    changes = count_song(rig, rig.songs[0]).changes
    said = [
        presses_in_words(rig, rig.songs[0].sections[change.to_section], change.presses)
        for change in changes
    ]
    assert said == [
        ("bank up twice ahead of time", "switch 1 (Far)", "Rocker wah off ahead of time"),
        ("bank up twice ahead of time", "switch 1 (Clean)", "Rocker wah on later"),
    ]
    (_, last) = changes
    entered = rig.songs[0].sections[2]
    assert presses_in_words(rig, entered, last.presses, "bare") == (
        "bank up twice", "sw 1", "Rocker wah on",
    )  # fmt: skip
    assert presses_in_words(rig, entered, last.presses, timed=False) == (
        "bank up twice", "switch 1 (Clean)", "Rocker wah on",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("unplayable", "extra", "words"),
    [
        (0, 0, []),
        (1, 0, ["1 section can't be played"]),
        (13, 1, ["13 sections can't be played", "1 extra press"]),
        (0, 7, ["7 extra presses"]),
    ],
)
def test_the_burden_in_words(unplayable: int, extra: int, words: list[str]) -> None:
    """What decides when rigs are compared, and nothing where there is none of it."""
    assert burden_in_words(unplayable, extra) == words
