"""Seconds of bars, notes and sections against published values and against mido.

Sources of the published values:

- hmt, module Music.Theory.Tempo_Marking (its documentation's own examples): `measure_duration`
  of (3,4) at quarter = 90 is 2, of (6,8) at quarter = 120 is 3/2; `pulse_duration` of (6,8) at
  quarter = 60 is 1/2.
- Standard MIDI File specification 1.1, meta-events FF 51 (tempo: microseconds per quarter note)
  and FF 58 (time signature: 24 MIDI clocks a quarter note, 36 a dotted quarter).
- mido 1.3, functions `bpm2tempo` and `tick2second`, as an independent reader of that format.
"""

from __future__ import annotations

from fractions import Fraction

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import make_rig, section, song

from rigtui.model import Song
from rigtui.moves.clock import beat_of, beat_seconds, quarter_tempo, section_seconds, song_seconds


def one_song(tempo: float, meter: str, beat: str | None = None, bars: float = 1) -> Song:
    given_beat = {} if beat is None else {"beat": beat}
    part = section(bars=bars)
    return make_rig(songs=[song("air", part, tempo=tempo, meter=meter, **given_beat)]).songs[0]


@pytest.mark.parametrize(
    ("meter", "beat", "tempo", "seconds"),
    [
        ("3/4", "1/4", 90, Fraction(2)),
        ("6/8", "1/4", 120, Fraction(3, 2)),
        ("1/8", "1/4", 60, Fraction(1, 2)),  # one pulse of 6/8 at quarter = 60
        ("1/4", "1/4", 90, Fraction(60, 90)),
    ],
)
def test_published_durations(meter: str, beat: str, tempo: float, seconds: Fraction) -> None:
    """A bar lasts as long as in the published examples (hmt, Tempo_Marking)."""
    assert song_seconds(one_song(tempo, meter, beat)) == pytest.approx(float(seconds), abs=1e-12)


# Note lengths in milliseconds; one row a tempo in quarters a minute. 60000 / tempo x note x 4,
# worked out apart from the program and rounded to a thousandth.
NOTES = ("1/1", "1/2", "3/8", "1/4", "3/16", "1/6", "1/8", "1/12", "1/16")
LENGTHS = {
    60: (4000, 2000, 1500, 1000, 750, 666.667, 500, 333.333, 250),
    80: (3000, 1500, 1125, 750, 562.5, 500, 375, 250, 187.5),
    90: (2666.667, 1333.333, 1000, 666.667, 500, 444.444, 333.333, 222.222, 166.667),
    100: (2400, 1200, 900, 600, 450, 400, 300, 200, 150),
    120: (2000, 1000, 750, 500, 375, 333.333, 250, 166.667, 125),
    128: (1875, 937.5, 703.125, 468.75, 351.5625, 312.5, 234.375, 156.25, 117.1875),
    140: (1714.286, 857.143, 642.857, 428.571, 321.429, 285.714, 214.286, 142.857, 107.143),
    160: (1500, 750, 562.5, 375, 281.25, 250, 187.5, 125, 93.75),
}


@pytest.mark.parametrize("tempo", LENGTHS)
@pytest.mark.parametrize("at", range(len(NOTES)), ids=NOTES)
def test_note_lengths(tempo: int, at: int) -> None:
    """A note's length at a tempo in quarters is that of the table, triplets as parts of a bar."""
    bars = float(Fraction(NOTES[at]) * 4)  # of one quarter each
    seconds = song_seconds(one_song(tempo, "1/4", "1/4", bars))
    assert seconds * 1000 == pytest.approx(LENGTHS[tempo][at], abs=1e-3)


@pytest.mark.parametrize(
    ("meter", "beat", "tempo", "bars", "seconds"),
    [
        ("4/4", "1/4", 120, 8, 16),
        ("3/4", "1/4", 90, 16, 32),
        ("6/8", "3/8", 80, 8, 12),
        ("6/8", "1/8", 180, 8, 16),
        ("7/8", "1/8", 210, 4, 8),
        ("12/8", "3/8", 60, 12, 48),
        ("5/4", "1/4", 150, 4, 8),
        ("2/4", "1/4", 120, 1, 1),
    ],
)
def test_sections(meter: str, beat: str, tempo: float, bars: float, seconds: float) -> None:
    """Sections last bars x quarters a bar / quarters a beat x 60 / tempo, named beat or default."""
    assert song_seconds(one_song(tempo, meter, beat, bars)) == seconds
    if (meter, beat) != ("6/8", "1/8"):
        assert song_seconds(one_song(tempo, meter, None, bars)) == seconds


def test_clocks_of_a_dotted_beat() -> None:
    """In 6/8 a beat is 36 MIDI clocks of 24 a quarter, and a bar is 72 (SMF 1.1, FF 58)."""
    air = one_song(80, "6/8")
    clock = 60 / quarter_tempo(air, air.sections[0]) / 24
    assert beat_seconds(air, air.sections[0]) == pytest.approx(36 * clock)
    assert section_seconds(air, air.sections[0]) == pytest.approx(72 * clock)


@pytest.mark.parametrize(
    ("meter", "beat", "tempo", "microseconds"),
    [
        ("4/4", None, 120, 500_000),
        ("6/8", None, 80, 500_000),  # dotted quarter = 80 is quarter = 120
        ("6/8", "1/8", 80, mido.bpm2tempo(80, (6, 8))),  # mido's bpm counts the lower number
        ("4/4", None, 90, 666_667),
        ("4/4", None, 174, 344_828),
    ],
)
def test_quarter_tempo(meter: str, beat: str | None, tempo: float, microseconds: int) -> None:
    """Quarters a minute, as a MIDI file counts, give mido's microseconds a quarter."""
    air = one_song(tempo, meter, beat)
    assert mido.bpm2tempo(quarter_tempo(air, air.sections[0])) == microseconds


TICKS = 960


@given(
    upper=st.integers(1, 64),
    lower=st.sampled_from((1, 2, 4, 8, 16)),
    quarters=st.sampled_from((60, 75, 80, 96, 100, 120, 125, 150, 160, 200)),
    bars=st.integers(1, 64),
)
def test_against_mido(upper: int, lower: int, quarters: int, bars: int) -> None:
    """Bars written as ticks and read back by mido last as long as the section does.

    These tempos are whole microseconds a quarter, so mido's rounding costs nothing.
    """
    meter = f"{upper}/{lower}"
    air = one_song(120, meter)
    tempo = float(quarters / (beat_of(air, air.sections[0]) * 4))
    air = one_song(tempo, meter, bars=bars)
    ticks = bars * upper * 4 * TICKS // lower
    seconds = mido.tick2second(ticks, TICKS, mido.bpm2tempo(quarters))
    assert song_seconds(air) == pytest.approx(seconds, rel=1e-9)
