"""Bars into seconds: the note that a tempo counts, and what a section may override."""

from __future__ import annotations

from fractions import Fraction

import pytest
from rigs_made import Data, make_rig, section, song

from rigtui.moves import count_song
from rigtui.moves.clock import beat_of, beat_seconds, default_beat, quarter_tempo, section_seconds


@pytest.mark.parametrize(
    ("meter", "beat"),
    [
        ("4/4", "1/4"),
        ("3/4", "1/4"),
        ("2/2", "1/2"),
        ("6/4", "1/4"),  # the lower number is under 8
        ("3/8", "1/8"),  # not above 3
        ("6/8", "3/8"),
        ("9/8", "3/8"),
        ("12/8", "3/8"),
        ("15/8", "3/8"),
        ("6/16", "3/16"),
        ("5/8", "1/8"),
        ("7/8", "1/8"),
        ("8/8", "1/8"),
        ("1/1", "1"),
    ],
)
def test_default_beat(meter: str, beat: str) -> None:
    """The lower number's note, or three of them in a compound meter (common practice)."""
    assert default_beat(meter) == Fraction(beat)


@pytest.mark.parametrize(
    ("of_song", "of_section", "seconds"),
    [
        # bars x (upper/lower) / beat x 60 / tempo, each by hand
        pytest.param({"tempo": 120}, {"bars": 4}, 8.0, id="plain"),
        pytest.param({"tempo": 120}, {"bars": 4, "tempo": 60}, 16.0, id="own tempo"),
        pytest.param({"tempo": 120}, {"bars": 4, "meter": "3/4"}, 6.0, id="own meter"),
        pytest.param({"tempo": 80, "meter": "6/8"}, {"bars": 8}, 12.0, id="dotted beat"),
        pytest.param(
            {"tempo": 180, "meter": "6/8", "beat": "1/8"}, {"bars": 8}, 16.0, id="song's beat"
        ),
        pytest.param(
            {"tempo": 180, "meter": "6/8"}, {"bars": 8, "beat": "1/8"}, 16.0, id="section's beat"
        ),
        pytest.param(
            {"tempo": 120, "beat": "1/4"},
            {"bars": 2, "meter": "6/8"},
            3.0,
            id="the song's beat holds when only the meter is overridden",
        ),
        pytest.param(
            {"tempo": 120}, {"bars": 2, "meter": "6/8"}, 2.0, id="no beat: the new meter's own"
        ),
        pytest.param({"tempo": 100}, {"bars": 0.5}, 1.2, id="half a bar"),
    ],
)
def test_section_seconds(of_song: Data, of_section: Data, seconds: float) -> None:
    """A section lasts bars x bar / beat x 60 / tempo, by its own figures or else the song's."""
    rig = make_rig(songs=[song("air", section(**of_section), **of_song)])
    (air,) = rig.songs
    assert section_seconds(air, air.sections[0]) == pytest.approx(seconds, abs=1e-12)
    assert count_song(rig, air).seconds == pytest.approx(seconds, abs=1e-12)


def test_song_seconds_is_the_sum() -> None:
    """A song lasts as long as its sections, unmapped ones and changes of tempo included."""
    sections = [section(bars=1), section(bars=2, tempo=60), section(bars=1, meter="7/8")]
    rig = make_rig(songs=[song("air", *sections)])
    # 4 beats of 0.5 s; 8 beats of 1 s; 7 eighths, each a beat of 0.5 s
    assert count_song(rig, rig.songs[0]).seconds == pytest.approx(2 + 8 + 3.5, abs=1e-12)


@pytest.mark.parametrize(
    ("meter", "beat", "tempo", "quarters"),
    [
        ("4/4", None, 120, 120),
        ("6/8", None, 80, 120),
        ("6/8", "1/8", 240, 120),
        ("2/2", None, 60, 120),
    ],
)
def test_quarter_tempo(meter: str, beat: str | None, tempo: float, quarters: float) -> None:
    """Other gear counts quarter notes, whatever the beat of the song is."""
    more = {} if beat is None else {"beat": beat}
    rig = make_rig(songs=[song("air", section(), tempo=tempo, meter=meter, **more)])
    (air,) = rig.songs
    assert quarter_tempo(air, air.sections[0]) == pytest.approx(quarters)
    assert beat_seconds(air, air.sections[0]) == pytest.approx(60 / tempo)
    assert beat_of(air, air.sections[0]) == Fraction(beat) if beat else default_beat(meter)


@pytest.mark.parametrize("tempo", [0.001, 1000])
def test_extreme_tempos_are_finite(tempo: float) -> None:
    """The longest section at the slowest tempo still has a length that can be written down."""
    long = section(bars=100_000, meter="64/1", beat="1/64")
    rig = make_rig(songs=[song("air", long, tempo=tempo)])
    assert 0 < count_song(rig, rig.songs[0]).seconds < 1e15
