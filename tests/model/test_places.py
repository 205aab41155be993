"""A finding's path is said in titles and names, and sections are counted from 1."""

from __future__ import annotations

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.model.place_words import place_in_words
from rigtui.model.places import place_at, section_place, set_place, steps_below, taken_apart

RIG = make_rig(
    switcher=switcher(),
    pedals=[pedal("wah", name="Rocker wah"), pedal("drive"), pedal("boost", name="Lift")],
    loops=[loop(1, "drive", "boost"), loop(2)],
    presets=[preset("lead", 1, name="Lead")],
    songs=[song("low-fen", section("lead", name="Intro"), section(name="Solo"), title="Low Fen")],
    setlists=[setlist("friday", "low-fen", "gone", name="Friday")],
    waivers=[{"rule": "crowded-change", "where": "songs.low-fen.sections.1"}],
    midi=[{"id": "echo", "name": "Echo box", "channel": 1}],
    printed=[
        {"sheet": "floor", "setlist": "friday", "revision": "3f09c2a"},
        {"sheet": "wiring", "revision": "3f09c2a"},
    ],
)


@pytest.mark.parametrize(
    ("where", "words"),
    [
        ("", "the rig"),
        ("switcher", "the switcher"),
        ("chain.fx", "the chain in the amp's effects loop"),
        ("presets.lead", "preset Lead"),
        ("presets.lead.memory", "preset Lead, memory"),
        ("pedals.wah", "pedal Rocker wah"),
        ("pedals.drive", "pedal drive"),
        ("loops.1", "loop 1 (drive and Lift)"),
        ("loops.2", "loop 2"),
        ("songs.low-fen", "Low Fen"),
        ("songs.low-fen.sections.1", "Low Fen, section 2 (Solo)"),
        ("songs.low-fen.sections.1.plus", "Low Fen, section 2 (Solo), plus"),
        ("setlists.friday", "setlist Friday"),
        ("setlists.friday.sets.0", "setlist Friday, Set"),
        ("setlists.friday.sets.0.songs.0", "setlist Friday, Set, song 1 (Low Fen)"),
        ("setlists.friday.sets.0.songs.1", "setlist Friday, Set, song 2"),
        ("waivers.0", "waiver 1 (of crowded-change)"),
        ("midi.echo", "MIDI device Echo box"),
        ("printed.0", "printed sheet 1 (floor, Friday)"),
        ("printed.1", "printed sheet 2 (wiring)"),
    ],
)
def test_a_place_is_said_as_a_player_would(where: str, words: str) -> None:
    """Every kind of place has words of its own."""
    assert place_in_words(RIG, where) == words


@pytest.mark.parametrize(
    "where",
    [
        "presets.gone",
        "songs.low-fen.sections.9",
        "songs.low-fen.sections.x",
        "setlists.friday.sets.4",
        "setlists.friday.sets.0.songs.7",
        "loops.x",
        "waivers.3",
        "midi.gone",
        "printed.2",
        "nowhere.at.all",
        "songs",
    ],
)
def test_a_place_that_leads_nowhere_stays_as_it_is(where: str) -> None:
    """A path that names nothing in the rig is shown as it stands."""
    assert place_in_words(RIG, where) == where


def test_a_place_shows_what_the_terminal_would_act_on() -> None:
    """Control characters in a title come out as pictures."""
    rig = make_rig(songs=[song("a", title="\x1b[31mred")])
    assert place_in_words(rig, "songs.a") == "␛[31mred"


@pytest.mark.parametrize(
    ("where", "section", "set_at", "song_at"),
    [
        (section_place("low-fen", 3), 3, None, None),
        (place_at(section_place("low-fen", 3), "plus"), 3, None, None),
        (set_place("friday", 1), None, 1, None),
        (place_at(set_place("friday", 1), "songs", 4), None, 1, 4),
        ("songs.low-fen", None, None, None),
        ("songs.low-fen.sections.x", None, None, None),
        ("presets.sections.3", None, None, None),
    ],
)
def test_a_path_is_taken_apart(
    where: str, section: int | None, set_at: int | None, song_at: int | None
) -> None:
    """What is made of steps comes apart into them again, with the places that lists count."""
    place = taken_apart(where)
    assert place_at(place.table, place.row, *place.steps) == where
    assert (place.section, place.set_at, place.song_at) == (section, set_at, song_at)


@pytest.mark.parametrize(
    ("where", "above", "steps"),
    [
        ("songs.low-fen.sections.3", "songs.low-fen", ("sections", "3")),
        ("songs.low-fen", "songs.low-fen", ()),
        ("songs.low-fen-two", "songs.low-fen", None),
        ("songs.low-fen", "", ("songs", "low-fen")),
        ("", "", ()),
        ("songs", "songs.low-fen", None),
    ],
)
def test_what_lies_below_a_place(where: str, above: str, steps: tuple[str, ...] | None) -> None:
    """A place is in itself and in those above it, and in no other that begins alike."""
    assert steps_below(where, above) == steps
