"""Sections of an evening whose sound no memory holds: the count takes them, no foot can."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.model.places import section_place
from rigtui.model.playable import unplayable_presets
from rigtui.model.rig import Rig
from rigtui.moves import count_song
from rigtui.plan.ask.evening import Evening


@dataclass(frozen=True, slots=True)
class Unstored:
    """What of an evening cannot be recalled on the switcher as it is programmed."""

    presets: tuple[str, ...]
    """Ids of the presets used that are in no memory that the switcher has, nor any that switches
    the same."""
    sections: tuple[str, ...]
    """The sections that use them, as "songs.low-fen.sections.3"."""
    songs: tuple[str, ...]
    """Ids of the songs that have such sections."""


def unstored(rig: Rig, evening: Evening) -> Unstored | None:
    """Find what an evening uses and no memory holds; None where all is held.

    The evening may have been made of another rig with the same songs and setlists.
    """
    loose = unplayable_presets(rig)
    users = [
        (song, at, section.preset)
        for song in rig.songs
        if song.id in evening.times
        for at, section in enumerate(song.sections)
        if section.preset in loose
    ]
    if not users:
        return None
    used = {preset for _, _, preset in users}
    return Unstored(
        tuple(preset.id for preset in rig.presets if preset.id in used),
        tuple(section_place(song.id, at) for song, at, _ in users),
        tuple(dict.fromkeys(song.id for song, _, _ in users)),
    )


def moves_without(rig: Rig, evening: Evening, gaps: Unstored) -> tuple[int, int]:
    """How many songs of the evening do without what is not held, and their moves as written."""
    songs = [song for song in rig.songs if song.id in evening.times and song.id not in gaps.songs]
    moves = sum(count_song(rig, song).moves * evening.times[song.id] for song in songs)
    return len(songs), moves
