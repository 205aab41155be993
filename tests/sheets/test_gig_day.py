"""The soundcheck card and the packing list: what stands on them, counted from the file itself."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher
from sheets.sheets_made import DEMOS, sheet

from rigtui.model import Rig
from rigtui.paper.content import Para, Sheet, Table
from rigtui.sheets.pdf import pdf
from rigtui.store.load import load

BAND: dict[str, Any] = {
    "amp": {"name": "Old combo", "channel_switch": "foot", "channels": ["clean", "dirty"]},
    "switcher": switcher(8, 4),
    "pedals": [
        pedal("tuner", "tuner"), pedal("drive", "overdrive"), pedal("gate", "gate"),
        pedal("echo", "delay", "fx", tap=True), pedal("old", "fuzz", use="home"),
    ],
    "loops": [loop(1, "drive"), loop(2, "gate"), loop(3, "echo", side="fx")],
    "chain": {"front": ["tuner", 1, 2], "fx": [3]},
    "presets": [
        preset("solo", 1, 3, role="lead", memory=1), preset("pad", 3, role="ambient", memory=2),
        preset("clean", role="clean", memory=3), preset("crunch", 1, 2, role="rhythm", memory=4),
        preset("lost", 2, 3, role="other"), preset("spare", role="clean", memory=5),
    ],
    "songs": [
        song("fen", "clean", "crunch", "solo", "crunch", "solo", guitar="red one", capo=2),
        song("mill", section("pad"), section("crunch"), section("lost"), section("solo"),
             guitar="twelve", tuning="D A D G A D"),
    ],
    "setlists": [setlist("friday", "fen", "mill", "fen")],
}  # fmt: skip


def table(made: Sheet, caption: str) -> Table:
    """The table of a sheet with this caption."""
    blocks = (block for part in made.parts for block in part.blocks if isinstance(block, Table))
    return next(block for block in blocks if block.caption == caption)


def test_sounds_come_in_the_order_in_which_they_set_levels() -> None:
    """What is played most comes first, solos last; a sound in no memory says so."""
    rows = table(sheet(make_rig(**BAND), "soundcheck"), "Each sound").rows
    assert [row[1] for row in rows] == ["crunch", "clean", "lost", "pad", "solo"]
    assert "set all others against its level" in rows[0][-2]
    assert rows[0][0] == "1/4"
    assert "stops silent" in rows[0][-2]
    assert "crunch" in rows[1][-2]
    assert (rows[2][0], rows[2][-2]) == ("-", "in no memory: you can't recall it tonight")
    assert "echoes in time" in rows[4][-2]


def test_solos_are_held_against_what_they_come_out_of() -> None:
    """From the songs of the evening, with what can be recalled; each song is named once."""
    rows = table(sheet(make_rig(**BAND), "soundcheck"), "Solo against rhythm").rows
    assert [row[:3] for row in rows] == [("1/1 solo", "1/4 crunch", "fen")]
    assert "3 to 6 dB" in rows[0][3]


def test_the_line_comes_first_and_the_way_round_the_board_last() -> None:
    """Amp alone, board, each loop with its pedals, what is outside; at the end gate and tap."""
    made = sheet(make_rig(**BAND), "soundcheck")
    line = [row[1] for row in table(made, "The line").rows]
    assert line == [
        "Old combo alone, guitar straight in", "The board between, all loops off",
        "Each loop alone: 1 drive; 2 gate; 3 echo", "Outside: tuner",
    ]  # fmt: skip
    end = [row[1] for row in table(made, "At the end").rows]
    assert end[0].startswith("gate, with the lights")
    assert end[1].startswith("Tap ")
    assert end[1].endswith("for fen: echo")
    assert end[-1].startswith("Once without the board")


def test_a_rig_with_nothing_has_a_card() -> None:
    """No songs, no switcher, no pedals: the amp and the guitar are left."""
    made = sheet(make_rig(), "soundcheck")
    assert len(table(made, "The line").rows) == 2
    assert "No song says" in str(made.parts)


@pytest.mark.parametrize("kind", ["soundcheck", "rehearsal"])
def test_cautions_name_their_source(kind: str) -> None:
    """Hearing and amp on the card; hearing on the rehearsal sheet: each with whose limit it is."""
    paras = [block.text for part in sheet(make_rig(**BAND), kind).parts for block in part.blocks
             if isinstance(block, Para)]  # fmt: skip
    assert any("NIOSH" in text and "85 dB(A)" in text for text in paras)
    if kind == "soundcheck":
        assert any(text.startswith("Valve amps: there are lethal voltages") for text in paras)
        assert any("98-126" in text and "common practice" in text for text in paras)


def packed(rig: Rig, setlist_id: str | None = None) -> dict[str, tuple[str, str]]:
    """How many of each thing are packed, and what for."""
    made = sheet(rig, "packing", setlist_id)
    return {
        row[0]: (row[1], row[2])
        for part in made.parts
        for block in part.blocks
        if isinstance(block, Table)
        for row in block.rows
    }


def test_what_is_packed_is_what_the_file_has() -> None:
    """Guitars of the songs, devices that come along, leads as wired and spares over them."""
    list_ = packed(make_rig(**BAND))
    assert list_["red one"] == ("1", "")
    assert list_["twelve"] == ("1", "tuned D A D G A D")
    assert list_["Sets of strings"][0] == "2"
    assert list_["Capo"] == ("1", "fret 2")
    assert list_["Footswitch of the amp, with its lead"][0] == "1"
    assert list_["echo"] == ("1", "loop 3")
    assert list_["tuner"] == ("1", "outside, before the amp")
    assert "old" not in list_  # it stays at home
    # Guitar, amp in, send, return; then tuner to switcher, and in and out of three loops.
    assert list_["Long leads"][0] == str(4 + 1)
    assert list_["Patch leads"][0] == str(1 + 2 * 3 + 2)
    assert "MIDI leads" not in list_


def test_an_evening_packs_its_own_guitars_and_names_what_it_does_not_need() -> None:
    """With a setlist only its songs count."""
    songs = [*BAND["songs"], song("wade", "clean", guitar="twelve")]
    rig = make_rig(**{**BAND, "songs": songs, "setlists": [setlist("short", "wade")]})
    list_ = packed(rig, "short")
    assert "red one" not in list_
    assert "Capo" not in list_
    assert "Not needed for short: drive, gate, echo" in str(sheet(rig, "packing", "short").parts)


@pytest.mark.parametrize(("kind", "most"), [("soundcheck", 1), ("packing", 2)])
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_they_stay_short(path: Path, kind: str, most: int) -> None:
    """A card is one page; a list that is ticked off twice is two at most."""
    assert pdf(sheet(load(path)[1], kind)).pages <= most
