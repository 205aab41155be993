"""Presses of single changes, worked out by hand from the rules of counting.

Source: docs/rig-file.md, "Counting moves". No expected value here was taken from the program.
"""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import Data, loop, make_rig, pedal, preset, section, song, switcher, written

from rigtui.moves import count_song

PEDALS = [
    pedal("tuner", "tuner"),
    pedal("wah", "wah"),
    pedal("swell", "volume"),
    pedal("shaper", "eq", use="always"),
    pedal("squash"),
    pedal("grit"),
    pedal("push"),
    pedal("shimmer"),
    pedal("echo"),
]
LOOPS = [loop(1, "squash"), loop(2, "grit"), loop(3, "push"), loop(4, "shimmer", "echo"), loop(5)]
PRESETS = [
    preset("clean", 1, memory=1),
    preset("crunch", 2, memory=2),
    preset("lead", 2, 3, memory=6),
    preset("wide", 1, 4, memory=11),
    preset("planned", 2, 4),
    preset("too-far", 3, memory=12),
]


def presses(sections: list[Data | str], switcher_more: Data | None = None, **parts: Any):
    """Presses of each change of one song on the board above, three banks of four and a part."""
    rig = make_rig(
        switcher=switcher(11, 4, **(switcher_more or {})),
        **{"pedals": PEDALS, "loops": LOOPS, "presets": PRESETS} | parts,
        songs=[song("air", *sections)],
    )
    return [written(change.presses) for change in count_song(rig, rig.songs[0]).changes]


@pytest.mark.parametrize(
    ("memories", "buttons", "start", "end", "expected"),
    [
        pytest.param(8, "up-down", 1, 3, ["switch 3"], id="same bank"),
        pytest.param(8, "up-down", 1, 1, [], id="same preset"),
        pytest.param(8, "up-down", 2, 5, ["bank up", "switch 1"], id="next bank"),
        pytest.param(16, "up-down", 5, 4, ["bank down", "switch 4"], id="bank before"),
        pytest.param(16, "up-down", 1, 16, ["bank down", "switch 4"], id="down wraps round"),
        pytest.param(16, "up-down", 16, 1, ["bank up", "switch 1"], id="up wraps round"),
        pytest.param(20, "up-down", 1, 9, ["bank up", "bank up", "switch 1"], id="2 of 5 up"),
        pytest.param(
            20, "up-down", 1, 13, ["bank down", "bank down", "switch 1"], id="2 of 5 down"
        ),
        pytest.param(16, "up", 1, 16, ["bank up"] * 3 + ["switch 4"], id="up only"),
        pytest.param(16, "up", 16, 1, ["bank up", "switch 1"], id="up only wraps round"),
        pytest.param(16, "up", 9, 5, ["bank up"] * 3 + ["switch 1"], id="up only to bank before"),
        pytest.param(9, "up-down", 1, 9, ["bank down", "switch 1"], id="part-filled bank counts"),
        pytest.param(9, "up", 9, 1, ["bank up", "switch 1"], id="part-filled bank is the last"),
        pytest.param(4, "none", 1, 4, ["switch 4"], id="no bank buttons"),
    ],
)
def test_bank_steps(memories: int, buttons: str, start: int, end: int, expected: list[str]) -> None:
    """Banks are stepped the shortest way round, upward only where there is no down button."""
    places = dict.fromkeys((start, end))
    rig = make_rig(
        switcher=switcher(memories, 4, bank_buttons=buttons),
        presets=[preset(f"m{place}", memory=place) for place in places],
        songs=[song("air", f"m{start}", f"m{end}")],
    )
    (change,) = count_song(rig, rig.songs[0]).changes
    assert written(change.presses) == expected
    assert change.moves == len(expected)
    assert change.on_the_beat == sum(not press.startswith("bank") for press in expected)


@pytest.mark.parametrize(
    ("start", "end", "expected"),
    [
        pytest.param(1, 17, ["bank up"] * 4 + ["switch 1"], id="all the way up"),
        pytest.param(20, 2, ["bank down"] * 4 + ["switch 2"], id="all the way down"),
        pytest.param(9, 5, ["bank down", "switch 1"], id="one down"),
        pytest.param(9, 10, ["switch 2"], id="same bank"),
    ],
)
def test_banks_that_do_not_wrap(start: int, end: int, expected: list[str]) -> None:
    """Buttons that stop at the first and the last bank go through every bank between."""
    rig = make_rig(
        switcher=switcher(20, 4, bank_wrap=False),
        presets=[preset(f"m{place}", memory=place) for place in (start, end)],
        songs=[song("air", f"m{start}", f"m{end}")],
    )
    (change,) = count_song(rig, rig.songs[0]).changes
    assert written(change.presses) == expected


def test_half_way_round_is_two_steps_either_way() -> None:
    """Between banks 1 and 3 of four the way is two steps, in one direction or the other."""
    rig = make_rig(
        switcher=switcher(16, 4),
        presets=[preset("near", memory=1), preset("opposite", memory=9)],
        songs=[song("air", "near", "opposite")],
    )
    (change,) = count_song(rig, rig.songs[0]).changes
    assert written(change.presses) in (
        ["bank up", "bank up", "switch 1"],
        ["bank down", "bank down", "switch 1"],
    )
    assert (change.moves, change.on_the_beat) == (3, 1)


@pytest.mark.parametrize(
    ("sections", "expected"),
    [
        pytest.param(["clean"], [], id="one section"),
        pytest.param(["clean", "crunch"], [["switch 2"]], id="recall"),
        pytest.param(
            ["clean", "lead", "clean"],
            [["bank up", "switch 2"], ["bank down", "switch 1"]],
            id="out and back",
        ),
        pytest.param(
            ["clean", section("clean", plus=["wah"]), "clean"],
            [["pedal wah"], ["pedal wah"]],
            id="outside pedal on and off",
        ),
        pytest.param(
            [section("clean", plus=["wah"]), section("crunch", plus=["wah"])],
            [["switch 2"]],
            id="outside pedal stays on over a recall",
        ),
        pytest.param(
            [section("clean", plus=["wah"]), section("lead", plus=["swell"])],
            [["bank up", "switch 2", "pedal wah", "pedal swell"]],
            id="outside pedals swapped",
        ),
        pytest.param(
            ["clean", section("clean", plus=["tuner", "shaper", "squash", "ghost"])],
            [[]],
            id="what cannot be switched is ignored",
        ),
        pytest.param(
            [section("crunch", plus=["push"]), section("crunch", minus=["grit"])],
            [[]],
            id="without loop switches plus and minus of loops are ignored",
        ),
        pytest.param(
            [section("clean", plus=["wah"]), section("clean", plus=["wah"], minus=["wah"])],
            [[]],
            id="minus takes nothing off outside the loops",
        ),
        pytest.param(
            ["clean", section("clean", may=["wah", "squash"])],
            [[]],
            id="may is no wish as written",
        ),
        pytest.param(
            [section("clean", plus=["wah"]), section("clean", may=["wah"])],
            [["pedal wah"]],
            id="may is ignored as written",
        ),
        pytest.param(
            ["clean", section(), "clean"], [[], []], id="unmapped section leaves all as it is"
        ),
        pytest.param(
            [section("clean", plus=["wah"]), section("ghost", plus=["swell"]), "crunch"],
            [[], ["switch 2", "pedal wah"]],
            id="unknown preset leaves all as it is",
        ),
        pytest.param(
            [section(), "lead"], [["bank up", "switch 2"]], id="unmapped start is power-on"
        ),
        pytest.param([section(), "clean"], [["switch 1"]], id="nothing is recalled at power-on"),
    ],
)
def test_changes(sections: list[Data | str], expected: list[list[str]]) -> None:
    """A change takes the presses worked out by hand, in the contract's spelling."""
    assert presses(sections) == expected


@pytest.mark.parametrize(
    ("sections", "expected"),
    [
        pytest.param(
            ["crunch", section("crunch", plus=["push"])], [["loop 3"]], id="loop switched in"
        ),
        pytest.param(
            ["crunch", section("crunch", minus=["grit"])], [["loop 2"]], id="loop switched out"
        ),
        pytest.param(
            ["clean", section("crunch", plus=["push"])],
            [["switch 2", "loop 3"]],
            id="recall, then toggle",
        ),
        pytest.param(
            [section("clean", plus=["push"]), "crunch"],
            [["switch 2"]],
            id="recall clears what was toggled",
        ),
        pytest.param(
            [section("clean", plus=["push", "grit"]), "clean"],
            [["switch 1"]],
            id="recalling again is fewer than two toggles",
        ),
        pytest.param(
            [
                section("clean", plus=["push", "grit"]),
                section("clean", plus=["push"], minus=["squash"]),
            ],
            [["loop 1", "loop 2"]],
            id="two toggles are fewer than recalling again and two",
        ),
        pytest.param(
            [section("clean", plus=["push", "grit", "echo"]), section("clean", minus=["squash"])],
            [["switch 1", "loop 1"]],
            id="recalling again and one are fewer than four toggles",
        ),
        pytest.param(
            ["crunch", section("crunch", plus=["shimmer", "echo"])],
            [["loop 4"]],
            id="two pedals of one loop are one toggle",
        ),
        pytest.param(
            ["wide", section("wide", minus=["echo"])],
            [["loop 4"]],
            id="minus of one pedal takes out its whole loop",
        ),
        pytest.param(
            ["clean", section("clean", plus=["squash"])], [[]], id="plus of what is on already"
        ),
        pytest.param(
            ["clean", section("clean", minus=["grit"])], [[]], id="minus of what is off already"
        ),
        pytest.param(
            ["crunch", section("crunch", plus=["push", "wah"])],
            [["loop 3", "pedal wah"]],
            id="loop and outside pedal",
        ),
    ],
)
def test_loop_switches(sections: list[Data | str], expected: list[list[str]]) -> None:
    """With loop switches one press toggles one loop, or recalling again puts several right."""
    assert presses(sections, {"loop_switches": True}) == expected


def test_toggle_or_recall_again_is_one_move() -> None:
    """Where one toggle and one recall come to the same, the change is one move on the beat."""
    got = presses([section("lead", plus=["squash"]), "lead"], {"loop_switches": True})
    assert got in ([["loop 1"]], [["switch 2"]])


@pytest.mark.parametrize("name", ["planned", "too-far"])
@pytest.mark.parametrize(
    ("before", "after", "moves"),
    [
        pytest.param(["clean"], [], [1], id="from bank 1"),
        pytest.param(["wide"], [], [1], id="from bank 3"),
        pytest.param([], ["clean"], [1], id="a start is in bank 1"),
        pytest.param([], ["wide"], [2], id="from bank 1 to bank 3 down"),
        pytest.param(["wide"], ["lead"], [1, 2], id="the bank shown stays"),
    ],
)
def test_preset_without_memory(
    name: str, before: list[str], after: list[str], moves: list[int]
) -> None:
    """A preset that no memory of the switcher holds counts as in the bank shown."""
    got = presses([*before, name, *after])
    assert [len(change) for change in got] == moves


AMP = {"channels": ["clean", "drive", "lead"]}
VOICED = [
    preset("soft", 1, memory=1, channel="clean"),
    preset("hard", 2, memory=2, channel="drive"),
    preset("loud", 3, memory=3, channel="lead"),
    preset("any", 4, memory=4),
    preset("blank", 4, memory=5, channel=""),
]


@pytest.mark.parametrize(
    ("switch", "sections", "expected"),
    [
        pytest.param("preset", ["soft", "hard"], [["switch 2"]], id="stored with the preset"),
        pytest.param(
            "foot", ["soft", "hard"], [["switch 2", "channel drive"]], id="a switch of its own"
        ),
        pytest.param(
            "foot", ["soft", "loud"], [["switch 3", "channel lead"]], id="one press to any channel"
        ),
        pytest.param(
            "foot",
            ["hard", "any", "hard"],
            [["switch 4"], ["switch 2"]],
            id="none named: left alone",
        ),
        pytest.param(
            "foot",
            ["hard", "any", "soft"],
            [["switch 4"], ["switch 1", "channel clean"]],
            id="left alone until one is named",
        ),
        pytest.param("foot", ["any", "soft"], [["switch 1"]], id="starts on the first channel"),
        pytest.param(
            "foot",
            ["hard", "blank", "hard"],
            [["bank up", "switch 1"], ["bank down", "switch 2"]],
            id="an empty name names none",
        ),
        pytest.param(
            "foot", ["any", "hard"], [["switch 2", "channel drive"]], id="leaves the first channel"
        ),
        pytest.param("foot", ["hard", section("hard")], [[]], id="channel already right"),
    ],
)
def test_channels(switch: str, sections: list[Data | str], expected: list[list[str]]) -> None:
    """A channel comes with the recall, or takes one press of its own."""
    amp = AMP | {"channel_switch": switch}
    assert presses(sections, amp=amp, presets=VOICED) == expected


def test_all_at_once() -> None:
    """Bank steps come first, then the recall, then what is set on top of it."""
    got = presses(
        ["soft", section("far", plus=["push", "wah"])],
        {"loop_switches": True},
        amp=AMP | {"channel_switch": "foot"},
        presets=[*VOICED, preset("far", 2, memory=7, channel="drive")],
    )
    assert got == [["bank up", "switch 3", "loop 3", "pedal wah", "channel drive"]]


def test_sums_of_a_song() -> None:
    """A song's moves are the sum over its changes, and its worst change is the one on the beat."""
    rig = make_rig(
        switcher=switcher(11, 4),
        pedals=PEDALS,
        loops=LOOPS,
        presets=PRESETS,
        songs=[song("air", "clean", section("lead", plus=["wah"]), "lead", section(), "clean")],
    )
    counted = count_song(rig, rig.songs[0])
    assert [(c.from_section, c.to_section, c.moves, c.on_the_beat) for c in counted.changes] == [
        (0, 1, 3, 2),
        (1, 2, 1, 1),
        (2, 3, 0, 0),
        (3, 4, 2, 1),
    ]
    assert (counted.moves, counted.on_the_beat_worst) == (6, 2)


@pytest.mark.parametrize("sections", [[], ["clean"], [section()]])
def test_songs_without_changes(sections: list[Data | str]) -> None:
    """A song of no section or one has no changes and no moves."""
    rig = make_rig(
        switcher=switcher(), presets=[preset("clean", memory=1)], songs=[song("air", *sections)]
    )
    counted = count_song(rig, rig.songs[0])
    assert (counted.moves, counted.least_moves, counted.on_the_beat_worst) == (0, 0, 0)
    assert counted.changes == ()


def test_rig_without_switcher() -> None:
    """A rig that describes no switcher has one bank."""
    rig = make_rig(
        presets=[preset("a", memory=1), preset("b", memory=40), preset("c")],
        songs=[song("air", "a", "b", "c", "a")],
    )
    assert [change.moves for change in count_song(rig, rig.songs[0]).changes] == [1, 1, 1]


@pytest.mark.parametrize(
    ("sections", "expected"),
    [
        pytest.param([{}, {"hands": "tap"}], 1, id="new text"),
        pytest.param([{"hands": "tap"}, {}], 0, id="the first is free, and an end is no action"),
        pytest.param([{"hands": "tap"}, {"hands": "tap"}], 0, id="the same text"),
        pytest.param([{"hands": "tap"}, {}, {"hands": "tap"}], 1, id="the section before had none"),
        pytest.param(
            [{"hands": "tap"}, {"hands": "pick"}, {"hands": "tap"}], 2, id="there and back"
        ),
        pytest.param([{"preset": "soft"}, {"preset": "full"}], 1, id="presets' volumes differ"),
        pytest.param([{"preset": "soft"}, {"preset": "plain"}], 0, id="only one names a volume"),
        pytest.param(
            [{"preset": "soft"}, {"preset": "plain"}, {"preset": "full"}], 0, id="not neighbours"
        ),
        pytest.param(
            [{"preset": "soft"}, {"preset": "soft", "guitar_volume": 6}], 1, id="section's own"
        ),
        pytest.param(
            [{"preset": "soft"}, {"preset": "full", "guitar_volume": 4}], 0, id="own equals"
        ),
        pytest.param(
            [{"preset": "soft"}, {"preset": "full", "hands": "tap"}], 2, id="text and volume"
        ),
    ],
)
def test_hand_moves(sections: list[Data], expected: int) -> None:
    """Hand actions are counted apart from the feet's, by text and by guitar volume."""
    presets = [
        preset("soft", guitar_volume=4, hands="neck pickup"),
        preset("full", guitar_volume=10),
        preset("plain", hands="bridge pickup"),
    ]
    rig = make_rig(presets=presets, songs=[song("air", *(section(**row) for row in sections))])
    assert count_song(rig, rig.songs[0]).hand_moves == expected
