"""Note lengths in milliseconds against 60000 / tempo x the note, worked out by hand."""

from __future__ import annotations

import pytest

from rigtui.model import Section, Song
from rigtui.moves.clock import beat_of, quarter_tempo
from rigtui.moves.notes import NOTES, QUARTER, nearest_note, note_of

# A tempo counts quarter notes a minute (Standard MIDI Files 1.0, Set Tempo): a quarter note at 120
# is 500 ms. Columns: whole, half, dotted quarter, quarter, dotted eighth, quarter triplet, eighth,
# eighth triplet, sixteenth.
GRID = [
    (60, (4000, 2000, 1500, 1000, 750, 666.667, 500, 333.333, 250)),
    (80, (3000, 1500, 1125, 750, 562.5, 500, 375, 250, 187.5)),
    (90, (2666.667, 1333.333, 1000, 666.667, 500, 444.444, 333.333, 222.222, 166.667)),
    (100, (2400, 1200, 900, 600, 450, 400, 300, 200, 150)),
    (120, (2000, 1000, 750, 500, 375, 333.333, 250, 166.667, 125)),
    (128, (1875, 937.5, 703.125, 468.75, 351.5625, 312.5, 234.375, 156.25, 117.1875)),
    (140, (1714.286, 857.143, 642.857, 428.571, 321.429, 285.714, 214.286, 142.857, 107.143)),
    (160, (1500, 750, 562.5, 375, 281.25, 250, 187.5, 125, 93.75)),
]


@pytest.mark.parametrize(("tempo", "lengths"), GRID)
def test_note_lengths(tempo: float, lengths: tuple[float, ...]) -> None:
    """Each note is its share of a quarter of 60000 / tempo ms."""
    assert [note.ms(tempo) for note in NOTES] == pytest.approx(lengths, abs=0.001)


@pytest.mark.parametrize(
    ("ms", "tempo", "name"),
    [
        (500, 118, "quarter note"),
        (500, 90, "dotted eighth"),
        (500, 80, "quarter-note triplet"),
        (500, 60, "eighth note"),
        (375, 120, "dotted eighth"),
        (20, 120, "eighth note"),
        (9000, 120, "quarter note"),
    ],
)
def test_the_nearest_note_is_the_least_off_in_proportion(
    ms: float, tempo: float, name: str
) -> None:
    """A time is compared with what echoes are set to: quarter, dotted eighth, triplet, eighth."""
    assert nearest_note(ms, tempo).name == name


def test_compound_meters_count_dotted_beats_of_quarter_note_lengths() -> None:
    """A dotted quarter at 80 in 6/8 is 120 quarters a minute, 750 ms; an eighth is 250.

    Source: Standard MIDI Files 1.0: 6/8 has 36 clocks for a dotted quarter, 24 for a quarter.
    """
    song = Song(id="jig", tempo=80, meter="6/8", sections=[Section(name="A", bars=8)])
    tempo = quarter_tempo(song, song.sections[0])
    beat = note_of(beat_of(song, song.sections[0]))
    assert tempo == 120
    assert (beat.name, beat.ms(tempo)) == ("dotted quarter", 750)
    assert QUARTER.ms(tempo) == 500


def test_an_unusual_beat_is_named_by_its_fraction() -> None:
    """A beat that no table row has is still a note of the right length."""
    beat = note_of(beat_of(Song(id="a", tempo=60, beat="5/8"), Section(name="A", bars=1)))
    assert (str(beat), float(beat.quarters)) == ("a 5/8 note", 2.5)
