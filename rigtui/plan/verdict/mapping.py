"""Which sections a plan plays otherwise than now: with which preset, and which pedals on top."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigtui.model.lookup import Lookup, lookup
from rigtui.model.rig import Rig, Section, Song
from rigtui.model.text import count, visible

MAPPING = ("preset", "plus", "minus")
"""What says how a section is played."""


@dataclass(frozen=True, slots=True)
class Played:
    """How a section is played: its preset, and what is switched on top of it or out of it."""

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
    words: str
    """Both in words: "Clean Wide → Clean with Chorus"."""


@dataclass(frozen=True, slots=True)
class SongChange:
    """A song with sections that are played otherwise."""

    song: str
    title: str
    sections: tuple[SectionChange, ...]


def mapped_otherwise(was: Section, will: Section) -> bool:
    """Whether a section is played with another preset, or with other pedals on top."""
    return any(getattr(was, key) != getattr(will, key) for key in MAPPING)


def mapped_anew(now: Rig, then: Rig) -> list[SongChange]:
    """The sections that differ, song by song; songs that stay as they are are left out."""
    after = {song.id: song for song in then.songs}
    old, new = lookup(now), lookup(then)
    changes = []
    for song in now.songs:
        differ = _differ(song, after.get(song.id), old, new)
        if differ:
            changes.append(SongChange(song.id, song.label, tuple(differ)))
    return changes


def _differ(song: Song, other: Song | None, old: Lookup, new: Lookup) -> list[SectionChange]:
    if other is None or other is song:
        return []
    return [
        SectionChange(
            at,
            was.name,
            Played(was.preset, was.plus, was.minus),
            Played(will.preset, will.plus, will.minus),
            f"{_said(was, old)} → {_said(will, new)}",
        )
        for at, (was, will) in enumerate(zip(song.sections, other.sections))
        if mapped_otherwise(was, will)
    ]


def _said(section: Section, found: Lookup) -> str:
    preset = found.presets.get(section.preset or "")
    text = preset.label if preset is not None else section.preset or "no preset"
    if section.plus:
        text += f" with {', '.join(found.label(one) for one in section.plus)}"
    if section.minus:
        joint = ", but not" if section.plus else " but not"
        text += f"{joint} {', '.join(found.label(one) for one in section.minus)}"
    return visible(text)


def change_lines(change: SongChange) -> list[str]:
    """The sections of a song in words, those that change alike together.

    "2 Verse, 4 Verse: Clean Wide → Clean with Chorus".
    """
    alike: dict[str, list[str]] = {}
    for one in change.sections:
        alike.setdefault(one.words, []).append(visible(f"{one.section + 1} {one.name}"))
    return [f"{', '.join(names)}: {words}" for words, names in alike.items()]


def mapping_step(changes: Sequence[SongChange]) -> list[str]:
    """The one thing to do about them; the file itself is written for the player."""
    if not changes:
        return []
    sections = sum(len(one.sections) for one in changes)
    return [
        f"learn {count(sections, 'section')} of {count(len(changes), 'song')} anew, as listed "
        f"under sections mapped anew (accepting the plan writes them into the songs)"
    ]
