"""Presses are spelt out: the preset recalled, the pedal that goes on or off, bank steps counted."""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import Data, loop, make_rig, pedal, preset, section, song, switcher

from rigtui.model import Rig
from rigtui.moves import count_song
from rigtui.moves.words import presses_in_words, presses_within

CLEAN = section("clean")


def _rig(sections: list[Data], **switcher_keys: Any) -> Rig:
    """A song on a small board."""
    return make_rig(
        amp={"channels": ["clean", "drive"], "channel_switch": "foot"},
        switcher=switcher(memories=16, **switcher_keys),
        pedals=[pedal("wah", name="Rocker wah"), pedal("boost", name="Lift"), pedal("eq")],
        loops=[loop(1, "boost", "eq"), loop(2)],
        chain={"front": ["wah", 1, 2]},
        presets=[
            preset("clean", memory=1, name="Clean"),
            preset("lead", 1, memory=3, name="Lead", channel="drive"),
            preset("far", memory=10),
            preset("planned", 2, name="Planned"),
        ],
        songs=[song("a", *sections)],
    )


def _said(sections: list[Data], **switcher_keys: Any) -> list[tuple[str, ...]]:
    """What is said of each change of a song on a small board."""
    rig = _rig(sections, **switcher_keys)
    counted = count_song(rig, rig.songs[0])
    entered = rig.songs[0].sections[1:]
    return [
        presses_in_words(rig, part, change.presses)
        for part, change in zip(entered, counted.changes, strict=True)
    ]


@pytest.mark.parametrize(
    ("sections", "said"),
    [
        ([CLEAN, section("lead")], [("switch 3 (Lead)", "amp to drive")]),
        ([CLEAN, section("far")], [("bank up twice ahead of time", "switch 2 (far)")]),
        ([section("far"), CLEAN], [("bank up twice ahead of time", "switch 1 (Clean)")]),
        ([CLEAN, section("clean", plus=["wah"]), CLEAN], [("Rocker wah on",), ("Rocker wah off",)]),
        ([CLEAN, section("planned")], [("recall Planned (not stored yet)",)]),
        ([CLEAN, CLEAN], [()]),
        ([CLEAN, section()], [()]),
    ],
)
def test_presses_are_spelt_out(sections: list[Data], said: list[tuple[str, ...]]) -> None:
    """Every form of press has words that say what it does in this place."""
    assert _said(sections) == said


def test_a_toggled_loop_says_what_is_in_it() -> None:
    """A loop that is toggled is on or off, and its pedals are named."""
    sections = [CLEAN, section("clean", plus=["boost"]), CLEAN]
    assert _said(sections, loop_switches=True) == [
        ("loop 1 on (Lift and eq)",),
        ("loop 1 off (Lift and eq)",),
    ]


def test_three_bank_steps_are_counted() -> None:
    """More than two steps the same way are said with their number."""
    assert _said([section("far"), CLEAN], bank_size=2, bank_buttons="up") == [
        ("bank up 4 times ahead of time", "switch 1 (Clean)")
    ]


@pytest.mark.parametrize(
    ("after", "short", "bare"),
    [
        (section("lead"), ("sw 3 Lead", "amp to drive"), ("sw 3", "amp to drive")),
        (section("far", plus=["wah"]), ("bank up twice ahead", "sw 2 far", "Rocker wah on"),
         ("bank up twice", "sw 2", "Rocker wah on")),
        (section("planned"), ("recall Planned (not stored)",), ("recall Planned",)),
        (section("clean", plus=["boost"]), ("loop 1 on (Lift and eq)",), ("loop 1 on",)),
    ],
)  # fmt: skip
def test_presses_in_fewer_words(after: Data, short: tuple[str, ...], bare: tuple[str, ...]) -> None:
    """Shorter words drop what a press recalls or holds, and never what goes on or off."""
    rig = _rig([CLEAN, after], loop_switches=True)
    entered, change = rig.songs[0].sections[1], count_song(rig, rig.songs[0]).changes[0]
    assert presses_in_words(rig, entered, change.presses, "short") == short
    assert presses_in_words(rig, entered, change.presses, "bare") == bare
    for words in (short, bare):
        text = ", ".join(words)
        assert presses_within(rig, entered, change.presses, len(text)) == text
    assert presses_within(rig, entered, change.presses, 1) == ", ".join(bare)
