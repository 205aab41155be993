"""Good data becomes a rig as it stands, with the format's own defaults for what is left out."""

from __future__ import annotations

import datetime
import tomllib
from typing import Any

import pytest
from pydantic import ValidationError
from rigs_made import make_data, make_rig, section

from rigtui.model import Chain, Rig, rig_from_data, rig_to_data

# A rig with every key of the format, as a player would write it.
EVERYTHING = """
format = 1
name = "Quay Street function rig"
note = "two\\nlines"
deputy_note = "the third song ends twice"
[amp]
name = "Two-channel valve combo"
fx_loop = true
send_level = "line"
channels = ["clean", "drive"]
channel_switch = "foot"
drive_channels = ["drive"]
[switcher]
name = "Six-loop floor switcher"
memories = 8
bank_size = 4
bank_buttons = "up"
bank_wrap = true
loop_switches = true
switch_spacing_mm = 60
between_loops = true
tuner_out = true
display_chars = 12
[[pedals]]
id = "echo"
name = "Long echo"
kind = "delay"
side = "fx"
use = "always"
delay_ms = 375
feedback = 0.4
max_delay_ms = 800
tap = true
subdivision = "3/16"
decay_seconds = 2.4
trails = true
low_impedance = false
line_level = true
buffered = true
price = 2.5
note = "set by ear"
[[loops]]
number = 1
side = "front"
pedals = ["boost"]
[chain]
front = ["tuner", 1]
fx = ["echo"]
[[presets]]
id = "verse-clean"
name = "Verse clean"
role = "clean"
loops = [1]
memory = 1
copies = [5, 9]
channel = "clean"
guitar_volume = 4
pickup = "neck"
hands = "brush with the thumb"
note = ""
midi = [ { device = "echo", bank_msb = 1, bank_lsb = 2, program = 12, sends = 11, controls = [
  { number = 80, value = 127 } ] } ]
[[songs]]
id = "low-fen"
title = "Low Fen"
tempo = 118.5
meter = "6/8"
beat = "3/8"
guitar = "main"
tuning = "E A D G B E"
capo = 2
gap_seconds = 4
click = false
note = "starts on a count"
[[songs.sections]]
name = "Solo"
bars = 16
preset = "lead"
plus = ["wah"]
minus = ["boost"]
may = ["reverb"]
early = ["wah"]
wanted = { pedals = ["chorus"], channel = "clean" }
hands = "bridge pickup"
hands_seconds = 1.5
preset_hands = "dig in"
ignores = ["guitar_volume", "hands"]
tempo = 120
meter = "4/4"
beat = "1/4"
rest_beats = 4
guitar_volume = 6
pickup = "bridge"
cue = "after 'harbour'"
until = "cue word"
[[setlists]]
id = "friday"
name = "Friday at the boathouse"
date = 2027-03-05
note = "load in at six"
sets = [ { name = "First set", songs = ["low-fen"], slot_minutes = 45 } ]
[player]
press_seconds = 0.4
extra_press_seconds = 0.6
far_press_seconds = 1.1
pickup_seconds = 0.3
volume_seconds = 0.5
hands_seconds = 1
capo_seconds = 8
retune_seconds = 10
guitar_seconds = 30
gap_seconds = 15
lead_in_beats = 2
moves_allowed = 3
tail_floor_db = 30
extra_press_weight = 2
click = true
shoe_mm = 105
[[waivers]]
rule = "gate-on-clean"
where = "presets.verse-clean"
reason = "set for it"
[[midi]]
id = "echo"
name = "Echo box"
channel = 3
counts_from = 0
shared = true
load_ms = 120
note = "right of the tuner"
[[printed]]
sheet = "floor"
setlist = "friday"
revision = "3f09c2a"
date = 2027-03-01
[bench]
width_mm = 600
depth_mm = 400
thickness_mm = 12
cable_mm = 5.5
bend_diameters = 8
straight_mm = 12
clearance_mm = 4
slack_mm = 25
strain_loop_mm = 15
step_mm = 5
kerf_mm = 1
trim_mm = 20
keep_mm = 200
shapes = ["narrow", "straight"]
cut_minutes = 1
strip_minutes = 2
solder_minutes = 3
test_minutes = 1.5
[[places]]
device = "echo"
x_mm = 10
y_mm = 20.5
width_mm = 70
depth_mm = 115
turn = 90
row = "top"
pitch_mm = 18
jacks = [ { jack = "in", side = "right", at_mm = 60 } ]
[[holes]]
x_mm = 300
y_mm = 200
[[plugs]]
shape = "flat"
width_mm = 24
depth_mm = 12
strip_mm = 14
have = 6
[[reels]]
left_mm = 10000
name = "black reel"
count = 2
[[patch_leads]]
out = "Switcher send 1"
into = "boost in"
route_mm = 210
length_mm = 250
tip = "closed"
sleeve = "closed"
across = "open"
ohms = 0.2
date = 2027-03-02
"""


def test_format_and_name_are_enough() -> None:
    """A rig of nothing but its format and name is a valid rig, all else being optional."""
    rig = rig_from_data({"format": 1, "name": "Bare"})
    assert (rig.name, rig.note, rig.switcher, rig.chain) == ("Bare", "", None, Chain())
    tables = (rig.pedals, rig.loops, rig.presets, rig.songs, rig.setlists, rig.waivers)
    assert (*tables, rig.printed, rig.midi) == ((),) * 8
    assert rig_to_data(rig) == {"format": 1, "name": "Bare"}


def test_every_key_there_is() -> None:
    """Every key of the format is kept, and comes back out just as it went in."""
    data = tomllib.loads(EVERYTHING)
    rig = rig_from_data(data)
    assert rig_to_data(rig) == data
    for table, rows in (
        (rig, [data]),
        (rig.amp, [data["amp"]]),
        (rig.switcher, [data["switcher"]]),
        (rig.pedals[0], data["pedals"]),
        (rig.loops[0], data["loops"]),
        (rig.chain, [data["chain"]]),
        (rig.presets[0], data["presets"]),
        (rig.songs[0], data["songs"]),
        (rig.songs[0].sections[0], data["songs"][0]["sections"]),
        (rig.songs[0].sections[0].wanted, [data["songs"][0]["sections"][0]["wanted"]]),
        (rig.setlists[0], data["setlists"]),
        (rig.setlists[0].sets[0], data["setlists"][0]["sets"]),
        (rig.player, [data["player"]]),
        (rig.waivers[0], data["waivers"]),
        (rig.midi[0], data["midi"]),
        (rig.presets[0].midi[0], data["presets"][0]["midi"]),
        (rig.presets[0].midi[0].controls[0], data["presets"][0]["midi"][0]["controls"]),
        (rig.printed[0], data["printed"]),
        (rig.bench, [data["bench"]]),
        (rig.places[0], data["places"]),
        (rig.places[0].jacks[0], data["places"][0]["jacks"]),
        (rig.holes[0], data["holes"]),
        (rig.plugs[0], data["plugs"]),
        (rig.reels[0], data["reels"]),
        (rig.patch_leads[0], data["patch_leads"]),
    ):
        # so that a key added to the model is added here too
        assert set(type(table).model_fields) == set(rows[0])


@pytest.mark.parametrize(
    ("table", "row", "defaults"),
    [
        ("amp", {}, {"name": "", "fx_loop": True, "channels": (), "channel_switch": "preset"}),
        (
            "switcher",
            {"memories": 1, "bank_size": 1},
            {
                "bank_buttons": "up-down",
                "bank_wrap": True,
                "loop_switches": False,
                "between_loops": False,
            },
        ),
        ("pedals", {"id": "a", "kind": "eq", "side": "fx"}, {"label": "a", "use": None}),
        ("loops", {"number": 1, "side": "fx"}, {"pedals": ()}),
        (
            "presets",
            {"id": "a"},
            {"label": "a", "role": "other", "loops": (), "memory": None, "channel": None},
        ),
        ("songs", {"id": "a", "tempo": 90}, {"label": "a", "meter": "4/4", "sections": ()}),
        ("setlists", {"id": "a"}, {"label": "a", "date": None, "sets": (), "song_ids": ()}),
        ("waivers", {"rule": "r", "where": "w"}, {"reason": ""}),
        ("printed", {"sheet": "floor", "revision": "a"}, {"setlist": None, "date": None}),
    ],
)
def test_defaults(table: str, row: dict[str, Any], defaults: dict[str, Any]) -> None:
    """What is left out has the default that the format names."""
    single = table in ("amp", "switcher")
    made = getattr(make_rig(**{table: row if single else [row]}), table)
    made = made if single else made[0]
    assert {key: getattr(made, key) for key in defaults} == defaults


def test_section_defaults() -> None:
    """A section needs a name and its bars; it is then unmapped and overrides nothing."""
    rig = make_rig(songs=[{"id": "a", "tempo": 90, "sections": [{"name": "A", "bars": 0.5}]}])
    (part,) = rig.songs[0].sections
    assert (part.preset, part.plus, part.minus, part.may) == (None, (), (), ())
    assert (part.tempo, part.meter, part.beat, part.rest_beats) == (None, None, None, 0)


def test_wrong_references_do_not_stop_a_rig() -> None:
    """Names of nothing, clashing and distant memories are for the checks: the rig opens."""
    rig = make_rig(
        switcher={"memories": 4, "bank_size": 4},
        loops=[{"number": 1, "side": "fx", "pedals": ["ghost", "ghost"]}],
        chain={"front": ["ghost", 1, 1, 42]},
        presets=[
            {"id": "a", "loops": [7, 7], "memory": 4},
            {"id": "b", "memory": 4},
            {"id": "c", "memory": 99, "channel": "none such"},
        ],
        songs=[{"id": "a", "tempo": 90, "sections": [section("nowhere", plus=["ghost"])]}],
        setlists=[{"id": "n", "sets": [{"songs": ["lost"]}]}],
        waivers=[{"rule": "no-such-rule", "where": "nowhere"}],
    )
    assert rig.setlists[0].song_ids == ("lost",)


@pytest.mark.parametrize(
    ("memories", "bank_size", "banks"),
    [(1, 1, 1), (4, 4, 1), (5, 4, 2), (8, 4, 2), (128, 1, 128), (3, 128, 1)],
)
def test_banks(memories: int, bank_size: int, banks: int) -> None:
    """Banks are memories by switches, a part-filled one included."""
    rig = make_rig(switcher={"memories": memories, "bank_size": bank_size})
    assert rig.switcher is not None
    assert rig.switcher.banks == banks


def test_text_is_kept_as_it_is() -> None:
    """Text is data: markup, emoji and control characters pass through unchanged."""
    odd = "[red]\x1b[31m \u202eX \U0001f3b8\t\u65e5"
    rig = make_rig(songs=[{"id": "a", "tempo": 90, "title": odd}])
    assert rig.songs[0].title == odd
    assert rig_to_data(rig)["songs"][0]["title"] == odd


def test_whole_numbers_are_written_without_a_point() -> None:
    """A tempo of 118.0 goes back into the file as 118, and one of 118.5 as it is."""
    data = make_data(songs=[{"id": "a", "tempo": 118.0}, {"id": "b", "tempo": 118.5}])
    tempos = [song["tempo"] for song in rig_to_data(rig_from_data(data))["songs"]]
    assert tempos == [118, 118.5]
    assert isinstance(tempos[0], int)


def test_dates_stay_dates() -> None:
    """A setlist's date is a date in the rig and in plain data."""
    rig = make_rig(setlists=[{"id": "a", "date": datetime.date(2027, 3, 5)}])
    assert rig.setlists[0].date == datetime.date(2027, 3, 5)
    assert rig_to_data(rig)["setlists"] == [{"id": "a", "date": datetime.date(2027, 3, 5)}]


def test_rigs_are_values() -> None:
    """A rig cannot be changed in place, and equal data makes equal rigs."""
    data = tomllib.loads(EVERYTHING)
    rig = rig_from_data(data)
    assert rig == rig_from_data(tomllib.loads(EVERYTHING))
    with pytest.raises(ValidationError, match="frozen"):
        rig.name = "other"  # type: ignore[misc]
    assert isinstance(rig, Rig)
