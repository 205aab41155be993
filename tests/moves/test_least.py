"""Least moves of small songs, worked out by hand, with the route that gets there.

Source: docs/rig-file.md, "Counting moves".
"""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import Data, loop, make_rig, pedal, preset, section, song, switcher

from rigtui.moves import count_song

PEDALS = [pedal("wah", "wah"), pedal("grit"), pedal("push"), pedal("shimmer"), pedal("echo")]
LOOPS = [loop(1, "grit"), loop(2, "push"), loop(3, "shimmer", "echo"), loop(4)]
BANK_1 = [preset("dry", memory=1), preset("rough", 1, memory=2), preset("hot", 1, 2, memory=3)]


def counts(sections: list[Data | str], **parts: Any) -> tuple[int, int]:
    """Moves as written and least moves of one song."""
    board = {"switcher": switcher(8, 4), "pedals": PEDALS, "loops": LOOPS, "presets": BANK_1}
    rig = make_rig(**board | parts, songs=[song("air", *sections)])
    counted = count_song(rig, rig.songs[0])
    return counted.moves, counted.least_moves


TOGGLING = {"switcher": switcher(8, 4, loop_switches=True)}


@pytest.mark.parametrize(
    ("sections", "parts", "written", "least"),
    [
        pytest.param(["dry", "rough", "dry"], {}, 2, 2, id="nothing to save"),
        pytest.param(
            ["dry", "far", "dry"],
            {"presets": [*BANK_1, preset("far", 3, memory=5), preset("near", 3, memory=4)]},
            4,
            2,
            id="a twin in this bank sounds the same",
        ),
        pytest.param(
            ["dry", "empty", "dry"],
            {"presets": [*BANK_1, preset("empty", 4, memory=5)]},
            4,
            0,
            id="an empty loop is not heard",
        ),
        pytest.param(
            [section("dry"), section("rough", may=["grit"]), "dry"], {}, 2, 0, id="may stay off"
        ),
        pytest.param(
            ["dry", section("dry", may=["grit"]), "rough", section("rough", may=["grit"]), "dry"],
            {},
            2,
            2,
            id="may saves nothing where both are wanted",
        ),
        pytest.param(
            ["dry", section("wide", may=["echo"]), "dry"],
            {"presets": [*BANK_1, preset("wide", 3, memory=5)]},
            4,
            4,
            id="half a loop is not free",
        ),
        pytest.param(
            ["dry", section("wide", may=["echo", "shimmer"]), "dry"],
            {"presets": [*BANK_1, preset("wide", 3, memory=5)]},
            4,
            0,
            id="a loop is free if all its pedals are",
        ),
        pytest.param(
            [
                section("dry", plus=["wah"]),
                section("dry", may=["wah"]),
                section("dry", plus=["wah"]),
            ],
            {},
            2,
            0,
            id="an outside pedal may stay on",
        ),
        pytest.param(
            ["dry", section("dry", plus=["wah"], may=["wah"]), "dry"],
            {},
            2,
            0,
            id="plus and may: on or off",
        ),
        pytest.param(
            [section("dry", plus=["wah"], may=["wah"]), "dry"],
            {},
            1,
            1,
            id="but a start is just as written",
        ),
        pytest.param(["rough", "hot", "rough"], TOGGLING, 2, 2, id="toggle there and back"),
        pytest.param(
            ["dry", "edge"],
            {**TOGGLING, "presets": [*BANK_1, preset("edge", 2, memory=5)]},
            2,
            1,
            id="a toggle in place of bank step and recall",
        ),
        pytest.param(
            [section("dry", plus=["grit", "push"]), "dry"],
            TOGGLING,
            1,
            1,
            id="recall in place of two toggles",
        ),
        pytest.param(
            ["dry", "edge"],
            {"presets": [*BANK_1, preset("edge", 2, memory=5)]},
            2,
            2,
            id="no toggles without loop switches",
        ),
        pytest.param(
            ["dry", "planned", "far"],
            {
                "presets": [
                    preset("dry", memory=1),
                    preset("planned", 1),
                    preset("far", 2, memory=5),
                ]
            },
            3,
            3,
            id="a preset that is not stored, in the bank shown",
        ),
        pytest.param([section(), "dry"], {}, 1, 0, id="power-on already sounds dry"),
        pytest.param([section(), "rough"], {}, 1, 1, id="power-on does not sound rough"),
        pytest.param(["dry", section("ghost"), section(), "dry"], {}, 0, 0, id="unmapped"),
    ],
)
def test_least_moves(
    sections: list[Data | str], parts: dict[str, Any], written: int, least: int
) -> None:
    """The fewest presses with which every section sounds right, beside those as written."""
    assert counts(sections, **parts) == (written, least)


VOICED = [
    preset("soft", memory=1, channel="clean"),
    preset("hard", memory=2, channel="drive"),
    preset("any", memory=3),
    preset("any-far", memory=8),
]


@pytest.mark.parametrize(
    ("switch", "sections", "written", "least"),
    [
        pytest.param("preset", ["soft", "hard"], 1, 1, id="the channel must be right"),
        pytest.param("preset", ["soft", "any", "soft"], 2, 0, id="any channel will do"),
        pytest.param("preset", ["soft", "any-far", "hard"], 4, 1, id="until the next names one"),
        pytest.param("preset", ["any", "soft"], 1, 0, id="the first channel is on at a start"),
        pytest.param("foot", ["soft", "hard"], 2, 1, id="by foot the recall can be spared"),
        pytest.param("foot", ["hard", "any", "hard"], 2, 0, id="by foot nothing need be done"),
        pytest.param("foot", ["soft", "hard", "soft"], 4, 2, id="by foot there and back"),
    ],
)
def test_channels(switch: str, sections: list[str], written: int, least: int) -> None:
    """A section's channel is the one that its preset names, or any."""
    amp = {"channels": ["clean", "drive"], "channel_switch": switch}
    assert counts(sections, amp=amp, presets=VOICED) == (written, least)


def test_one_recall_in_a_change() -> None:
    """A second recall in one change, to fetch a channel, is not to be had."""
    amp = {"channels": ["clean", "drive"], "channel_switch": "preset"}
    presets = [
        preset("soft", memory=1, channel="clean"),
        preset("hard-rough", 1, memory=2, channel="drive"),
        preset("dry", memory=3),
        preset("hard-dry", memory=20, channel="drive"),
    ]
    # Two recalls in bank 1 (hard-rough, then dry) would give the sound of hard-dry for 2 presses;
    # with one recall it takes four steps up to bank 5, and the recall there.
    board = switcher(20, 4, bank_buttons="up")
    assert counts(["soft", "hard-dry"], amp=amp, presets=presets, switcher=board) == (5, 5)
