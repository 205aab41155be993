"""Bars into seconds."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from rigtui.model.meter import default_beat
from rigtui.model.rig import Section, Song

__all__ = [
    "beat_of",
    "beat_seconds",
    "default_beat",
    "meter_of",
    "quarter_tempo",
    "section_seconds",
    "song_seconds",
    "tempo_of",
]


@lru_cache(maxsize=4096)
def _timing(meter: str, beat: str | None) -> tuple[Fraction, Fraction]:
    """Bar and beat, both as fractions of a whole note."""
    return Fraction(meter), Fraction(beat) if beat else default_beat(meter)


@lru_cache(maxsize=16384)
def _bars_to_seconds(bars: float, meter: str, beat: str | None, tempo: float) -> float:
    bar, pulse = _timing(meter, beat)
    return float(Fraction(bars) * bar / pulse * 60 / Fraction(tempo))


def tempo_of(song: Song, section: Section) -> float:
    """Beats per minute in a section."""
    return song.tempo if section.tempo is None else section.tempo


def meter_of(song: Song, section: Section) -> str:
    """Meter in a section."""
    return song.meter if section.meter is None else section.meter


def beat_of(song: Song, section: Section) -> Fraction:
    """The note that the tempo counts in a section, as a fraction of a whole note."""
    return _timing(meter_of(song, section), section.beat or song.beat)[1]


def section_seconds(song: Song, section: Section) -> float:
    """Return how long a section lasts: bars x bar / beat x 60 / tempo."""
    return _bars_to_seconds(
        section.bars,
        meter_of(song, section),
        section.beat or song.beat,
        tempo_of(song, section),
    )


def beat_seconds(song: Song, section: Section) -> float:
    """Return how long one beat of a section lasts."""
    return 60 / tempo_of(song, section)


def quarter_tempo(song: Song, section: Section) -> float:
    """Return quarter notes per minute, which is how other gear counts tempo."""
    return tempo_of(song, section) * float(beat_of(song, section) * 4)


def song_seconds(song: Song) -> float:
    """Return how long a song lasts."""
    return sum(section_seconds(song, section) for section in song.sections)
