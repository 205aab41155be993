"""A plain list: one title a line, what stands behind it, and the song's sections in one line."""

from __future__ import annotations

import contextlib

import pytest
from rigs_made import make_rig, pedal, preset, section, song

from rigtui.model import Rig
from rigtui.model.edits import add_setlist, song_line
from rigtui.moves.clock import song_seconds
from rigtui.store.importing.answers import FilledDraft, fill
from rigtui.store.importing.draft import ImportFault
from rigtui.store.importing.into import Slot, put_in
from rigtui.store.importing.questions import Answer
from rigtui.store.importing.title_list import read_list

RIG = make_rig(
    pedals=[pedal("wah", use="foot"), pedal("boost")],
    presets=[preset("clean-chop", name="Clean Chop"), preset("crunch", name="Crunch")],
    songs=[song("old-one", section("crunch"), title="Old One", tempo=90, note="bring the slide")],
)


def read(text: str, rig: Rig = RIG, same: str | None = None, tempo: str = "") -> FilledDraft:
    """A list with nothing answered but, perhaps, one tempo for all."""
    given = [Answer("tempo", None, "*", tempo)] if tempo else []
    return fill(read_list(text), given, rig, same)


@pytest.mark.parametrize(
    ("line", "title", "tempo", "meter", "more"),
    [
        ("Low Fen", "Low Fen", None, None, {}),
        ("1. Low Fen, 118", "Low Fen", 118, None, {}),
        ("12) Low Fen - 118 bpm - Em - 3:42", "Low Fen", 118, None,
         {"note": "Key: Em\nLength: 3:42"}),
        ("Low Fen\t118\tF# minor\t4:05", "Low Fen", 118, None,
         {"note": "Key: F# minor\nLength: 4:05"}),
        ("- Low Fen (118, Bb)", "Low Fen", 118, None, {"note": "Key: Bb"}),
        ("Low Fen  92.5  7/8", "Low Fen", 92.5, "7/8", {}),
        ("Low Fen 118 bpm", "Low Fen", 118, None, {}),
        ("Low Fen 3:42", "Low Fen", None, None, {"note": "Length: 3:42"}),
        ("Low Fen, 118 Em capo 2", "Low Fen", 118, None, {"capo": 2, "note": "Key: Em"}),
        ("Low Fen, ♩.=88, 6/8", "Low Fen", 88, "6/8", {"beat": "3/8"}),
        ("Low Fen, 1/8=264", "Low Fen", 264, None, {"beat": "1/8"}),
        ("Low Fen, @118", "Low Fen", 118, None, {}),
        ("Low Fen, 118, drop D", "Low Fen", 118, None, {"tuning": "drop D"}),
        ("Low Fen Drop C#, 118", "Low Fen", 118, None, {"tuning": "Drop C#"}),
        ("Low Fen tuned to drop D", "Low Fen", None, None, {"tuning": "drop D"}),
        ("Low Fen 118 bpm DADGAD capo 2", "Low Fen", 118, None, {"tuning": "DADGAD", "capo": 2}),
        ("Low Fen, 118, half step down", "Low Fen", 118, None, {"tuning": "half step down"}),
        ("Low Fen, Eb tuning, 118", "Low Fen", 118, None, {"tuning": "Eb"}),
        ("Low Fen (118, tuning D A D G B E)", "Low Fen", 118, None, {"tuning": "D A D G B E"}),
        ("Low Fen - 118 - open Gm", "Low Fen", 118, None, {"tuning": "open Gm"}),
        ("Low Fen, standard, no capo", "Low Fen", None, None, {"tuning": "standard", "capo": 0}),
        # A key, and titles.
        ("Low Fen, 118, Eb", "Low Fen", 118, None, {"note": "Key: Eb"}),
        ("Seven Steps Down", "Seven Steps Down", None, None, {}),
        ("One Half Step Down", "One Half Step Down", None, None, {}),
        ("Gold Standard", "Gold Standard", None, None, {}),
        ("Fine tuning it", "Fine tuning it", None, None, {}),
        ("The door is open a", "The door is open a", None, None, {}),
        ("Drop D", "Drop D", None, None, {}),
        # What is not set off is the title's.
        ("Highway 118", "Highway 118", None, None, {}),
        ("Blues in E", "Blues in E", None, None, {}),
        ("Harbour Blues (slow)", "Harbour Blues (slow)", None, None, {}),
        ("Harbour, Sea and Sky, 96", "Harbour, Sea and Sky", 96, None, {}),
        ("(No Way) Home - 140", "(No Way) Home", 140, None, {}),
        ("Night of 1912, 1912", "Night of 1912, 1912", None, None, {}),
        ('"Blues, 120, 3:00", 96', "Blues, 120, 3:00", 96, None, {}),
        ("Fens: the return", "Fens: the return", None, None, {}),
        ("7/8 Dance, 132, 7/8", "7/8 Dance", 132, "7/8", {}),
    ],
)  # fmt: skip
def test_a_line_is_a_title_with_what_stands_behind_it(line, title, tempo, meter, more) -> None:
    """Values count where they stand apart, or say what they are."""
    (drafted,) = read_list(line).songs
    assert (drafted.title, drafted.tempo, drafted.meter, dict(drafted.more)) == (
        title, tempo, meter, more,
    )  # fmt: skip


def test_a_capo_and_a_tuning_hold_for_their_own_song_only() -> None:
    """In a rig file a song that says nothing is played with what the song before left."""
    songs = read_list(
        "Low Fen, 118, capo 2\nTin Roof, 96, drop D\nGrey Mare, 90, drop D, capo 1\n"
        "Set 2\nHarbour, 100\nSalt, 99\n"
    ).songs
    assert [dict(row.more) for row in songs] == [
        {"capo": 2}, {"capo": 0, "tuning": "drop D"}, {"tuning": "drop D", "capo": 1},
        {"capo": 0, "tuning": "standard"}, {},
    ]  # fmt: skip


def test_a_songs_line_follows_behind_a_colon_or_below_it() -> None:
    """Form and mapping come in as the line says; the rig is asked for nothing more."""
    done = read(
        "Low Fen, 118: Intro 4 cr, Verse 16 cc, Chorus 8 cr +wah, Verse, Chorus x2\n"
        "Tin Roof, 96\n    Verse 8 cc,\n    Chorus 8 ?\n"
    )
    assert done.questions == ()
    new, lines = put_in(RIG, done)
    assert [song_line(row) for row in new.songs[1:]] == [
        "Intro 4 crunch, Verse 16 clean-chop, Chorus 8 crunch +wah, Verse, Chorus x2",
        "Verse 8 clean-chop, Chorus 8",
    ]
    assert lines[1] == "Tin Roof: added, 2 sections, 1 without a preset"


def test_a_length_before_the_sections_is_compared_with_theirs() -> None:
    """A bar of 4/4 at 120 lasts two seconds; what is nearly as long is not worth a word."""
    done = read(
        "Low Fen, 120, 3:30: Intro 4 cr | Verse 16 cc\n"
        "Tin Roof, 120, 0:45: Verse 16 cc, Chorus 8 ?\nGrey Mare, 120, 4:00\n"
    )
    _, lines = put_in(RIG, done, lasting=song_seconds)
    assert lines == (
        "Low Fen: added, 2 sections, given 3:30, the sections last 0:40",
        "Tin Roof: added, 2 sections, 1 without a preset",
        "Grey Mare: added, 0 sections",
    )


def test_a_fault_in_a_line_names_line_and_column_and_all_are_listed() -> None:
    """So that it can be found in what was pasted."""
    with pytest.raises(ImportFault) as fault:
        read(
            "Low Fen, 118: Intro 4 cr, Verse 16 zzz\nTin Roof, 96\n  Verse 8 cc,\n  Chorus 8 -xyz\n"
        )
    first, second = str(fault.value).splitlines()
    assert first.startswith('line 1, column 36 (Low Fen): "zzz" fits no preset')
    assert second.startswith('line 4, column 12 (Tin Roof): "xyz" fits no pedal')


def test_tempo_is_asked_for_each_song_that_has_none_and_the_beat_in_eighths() -> None:
    """Nothing is guessed; a meter that is not written is 4/4."""
    done = read("Low Fen\nTin Roof, 132, 7/8")
    assert [(row.what, row.song) for row in done.questions] == [
        ("tempo", "Low Fen"), ("beat", "Tin Roof"),
    ]  # fmt: skip
    assert [row.what for row in read("Low Fen\nTin Roof, 132", tempo="120").questions] == []


def test_a_number_that_may_be_a_tempo_is_pointed_at() -> None:
    """The title keeps it, and a note says how to write a tempo."""
    assert "for a tempo write 118 bpm" in read_list("Highway 118").notes[0]
    assert read_list("Highway 118, 96").notes == ()


def test_sets_are_made_and_filled_as_the_list_has_them() -> None:
    """Songs before any heading go where the cursor is; each heading is a set of the evening."""
    rig = add_setlist(RIG, "Friday")
    done = read(
        "Low Fen, 100\nSet 2\n1. Tin Roof, 100\nOld One, 90\nEncore:\nHarbour, 100\n", rig, "skip"
    )
    new, _ = put_in(rig, done, Slot("friday", 0, 0))
    assert [(part.name, part.songs) for part in new.setlists[0].sets] == [
        ("First set", ("low-fen",)), ("Set 2", ("tin-roof", "old-one")), ("Encore", ("harbour",)),
    ]  # fmt: skip


def test_replacing_keeps_what_the_list_does_not_say() -> None:
    """Sections and notes stay where the list has none."""
    new, _ = put_in(RIG, read("Old One, 96, Am", same="replace"))
    assert (new.songs[0].tempo, new.songs[0].sections) == (96, RIG.songs[0].sections)
    assert new.songs[0].note == "bring the slide\nKey: Am"


@pytest.mark.parametrize("text", ["[{}#", "= x{}#", "Low Fen{}b", "Low Fen{}118"])
def test_many_blanks_take_no_time(text: str) -> None:
    """Each read of a line goes over its blanks once; over each of them for each it takes hours."""
    with contextlib.suppress(ImportFault):
        assert read_list(text.format(" " * 100_000)).songs[0].title.startswith("Low Fen")


def test_heads_and_empty_lines_are_passed_over_and_a_list_of_nothing_is_refused() -> None:
    """A table from a spreadsheet brings its column names along."""
    assert [row.title for row in read_list("Title\tTempo\n\n Low Fen\t118\n\n").songs] == [
        "Low Fen"
    ]
    for empty in ("\n\n", "Set 1\n"):
        with pytest.raises(ImportFault, match="one title a line"):
            read_list(empty)
    with pytest.raises(ImportFault, match="line 1: a title is missing"):
        read_list("118 bpm")
    with pytest.raises(ImportFault, match="line 1: this looks like ChordPro"):
        read_list("{title: Low Fen}")
    with pytest.raises(ImportFault, match="1000 songs"):
        read_list("a\n" * 1001)
