"""Moves of whole evenings, worked out by hand: sums, set-up moves, changes of guitar.

Source: docs/rig-file.md, "Counting moves".
"""

from __future__ import annotations

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

from rigtui.moves import count_setlist

PARTS = {
    "amp": {"channels": ["clean", "drive"], "channel_switch": "foot"},
    "switcher": switcher(12, 4, loop_switches=True),
    "pedals": [pedal("wah", "wah"), pedal("tuner", "tuner"), pedal("grit"), pedal("echo")],
    "loops": [loop(1, "grit"), loop(2, "echo")],
    "presets": [
        preset("dry", memory=1, channel="clean"),
        preset("rough", 1, memory=2, channel="drive"),
        preset("far", 2, memory=6),
        preset("planned", 1, 2),
    ],
}


@pytest.mark.parametrize(
    ("songs", "expected"),
    [
        pytest.param([["dry"]], [["switch 1"]], id="power-on: bank 1, nothing recalled"),
        pytest.param([["rough"]], [["switch 2", "channel drive"]], id="power-on: first channel"),
        pytest.param(
            [[section("far", plus=["wah"])]],
            [["bank up", "switch 2", "pedal wah"]],
            id="power-on: outside pedals off",
        ),
        pytest.param([["dry"], ["dry"]], [["switch 1"], []], id="still set up"),
        pytest.param(
            [["dry", "rough"], ["dry"]],
            [["switch 1"], ["switch 1", "channel clean"]],
            id="from the last section of the song before",
        ),
        pytest.param(
            [["rough"], ["far"], ["rough"]],
            [["switch 2", "channel drive"], ["bank up", "switch 2"], ["bank down", "switch 2"]],
            id="a channel left alone is carried from song to song",
        ),
        pytest.param(
            [[section("dry", plus=["wah"])], [section("dry", plus=["wah", "grit"])]],
            [["switch 1", "pedal wah"], ["loop 1"]],
            id="outside pedals and toggles are carried",
        ),
        pytest.param(
            [["far"], ["planned"], ["dry"]],
            [["bank up", "switch 2"], ["switch 0"], ["bank down", "switch 1"]],
            id="a preset that is not stored leaves the bank shown",
        ),
        pytest.param(
            [["dry"], [section()], ["dry"]], [["switch 1"], [], []], id="unmapped first section"
        ),
        pytest.param([["dry"], [], ["dry"]], [["switch 1"], [], []], id="a song without sections"),
    ],
)
def test_set_up_moves(songs: list[list[Data | str]], expected: list[list[str]]) -> None:
    """Each song is set up from the state that the song before left, the first from power-on."""
    ids = [f"song-{at}" for at in range(len(songs))]
    rows = [song(id, *sections) for id, sections in zip(ids, songs, strict=True)]
    rig = make_rig(**PARTS, songs=rows, setlists=[setlist("night", *ids)])
    counted = count_setlist(rig, rig.setlists[0])
    assert [written(set_up.presses) for set_up in counted.set_ups] == expected
    assert [(set_up.song_id, set_up.place) for set_up in counted.set_ups] == list(
        zip(ids, range(len(ids)))
    )
    assert counted.set_up_moves == sum(map(len, expected))


def test_an_evening_is_one_state_over_its_sets() -> None:
    """Sums take each song's own figures, repeats included; state carries on over the break."""
    rig = make_rig(
        **PARTS,
        songs=[
            song("first", "dry", "rough", "dry"),  # 2 + 2 moves
            song("second", "far", "rough"),  # bank down, switch 2, channel drive: 3 moves
        ],
        setlists=[
            {
                "id": "night",
                "sets": [
                    {"name": "One", "songs": ["first", "second"]},
                    {"name": "Two", "songs": ["lost", "second", "first"]},
                ],
            }
        ],
    )
    counted = count_setlist(rig, rig.setlists[0])
    assert counted.moves == 4 + 3 + 3 + 4
    assert counted.song_ids == ("first", "second", "second", "first")
    assert [written(set_up.presses) for set_up in counted.set_ups] == [
        ["switch 1"],
        ["bank up", "switch 2"],
        ["bank up", "switch 2"],
        ["switch 1", "channel clean"],
    ]


def test_empty_setlist() -> None:
    """A setlist without sets, or only with songs that there are not, has no moves."""
    rig = make_rig(**PARTS, setlists=[{"id": "none"}, setlist("lost", "ghost")])
    for night in rig.setlists:
        counted = count_setlist(rig, night)
        assert (counted.moves, counted.least_moves, counted.set_up_moves) == (0, 0, 0)
        assert counted.guitar_changes == 0
        assert counted.song_ids == ()


@pytest.mark.parametrize(
    ("held", "expected"),
    [
        pytest.param([], 0, id="no songs"),
        pytest.param([{"guitar": "main"}], 0, id="the first is no change"),
        pytest.param([{"guitar": "main"}, {"guitar": "main"}], 0, id="the same guitar"),
        pytest.param([{"guitar": "main"}, {"guitar": "nylon"}], 1, id="another guitar"),
        pytest.param([{"guitar": "main"}, {}, {"guitar": "main"}], 0, id="absent is as before"),
        pytest.param([{"guitar": "main"}, {}, {"guitar": "nylon"}], 1, id="absent, then another"),
        pytest.param(
            [{"tuning": "E A D G B E"}, {"tuning": "D A D G B E"}], 1, id="another tuning"
        ),
        pytest.param(
            [{"guitar": "main", "tuning": "E"}, {"guitar": "nylon", "tuning": "D"}],
            1,
            id="guitar and tuning at once are one change",
        ),
        pytest.param(
            [{"guitar": "main", "tuning": "E"}, {"guitar": "nylon"}, {"tuning": "D"}],
            2,
            id="one after the other",
        ),
        pytest.param([{}, {"tuning": "drop D"}], 1, id="the first tuning that is named"),
    ],
)
def test_guitar_changes(held: list[Data], expected: int) -> None:
    """Guitar changes are the times that guitar or tuning differs from the song before."""
    rows = [song(f"song-{at}", **more) for at, more in enumerate(held)]
    rig = make_rig(songs=rows, setlists=[setlist("night", *(row["id"] for row in rows))])
    assert count_setlist(rig, rig.setlists[0]).guitar_changes == expected
