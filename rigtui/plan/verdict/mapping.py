"""Which sections a plan plays otherwise than now: with which preset, and which pedals on top."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.model.rig import Rig, Section, Song

MAPPING = ("preset", "plus", "minus")
"""What says how a section is played."""


@dataclass(frozen=True, slots=True)
class Played:
    """How a section is played: its preset, and what is switched on or out on top."""

    preset: str | None
    plus: tuple[str, ...]
    minus: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SectionChange:
    """A section that is played otherwise."""

    section: int
    """From 0."""
    name: str
    now: Played
    then: Played

    @property
    def is_to_learn(self) -> bool:
        """Whether there is more to it than a pedal that need not be stepped on any more."""
        was, will = self.now, self.then
        falls_away = set(will.plus) <= set(was.plus) and will.minus == was.minus
        return will.preset != was.preset or not falls_away


@dataclass(frozen=True, slots=True)
class SongChange:
    """A song with sections that are played otherwise."""

    song: str
    title: str
    sections: tuple[SectionChange, ...]

    @property
    def to_learn(self) -> int:
        """How many of its sections are to be learnt."""
        return sum(section.is_to_learn for section in self.sections)


def mapped_otherwise(was: Section, will: Section) -> bool:
    """Whether a section is played with another preset, or with other pedals on top."""
    return any(getattr(was, key) != getattr(will, key) for key in MAPPING)


def mapped_anew(now: Rig, then: Rig) -> list[SongChange]:
    """The sections that differ, song by song; songs that stay as they are are left out."""
    after = {song.id: song for song in then.songs}
    changes = []
    for song in now.songs:
        differ = _differ(song, after.get(song.id))
        if differ:
            changes.append(SongChange(song.id, song.label, tuple(differ)))
    return changes


def _differ(song: Song, other: Song | None) -> list[SectionChange]:
    if other is None or other is song:
        return []
    return [
        SectionChange(
            at,
            was.name,
            Played(was.preset, was.plus, was.minus),
            Played(will.preset, will.plus, will.minus),
        )
        for at, (was, will) in enumerate(zip(song.sections, other.sections))
        if mapped_otherwise(was, will)
    ]
