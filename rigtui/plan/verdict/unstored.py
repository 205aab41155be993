"""Presets that an evening leans on and that no memory holds: the count takes them, no foot can."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.model.places import section_place
from rigtui.model.presets_used import held_presets
from rigtui.model.rig import Rig
from rigtui.model.text import count, first_few, visible
from rigtui.moves import count_song
from rigtui.plan.ask.evening import Evening

_MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class Unstored:
    """What of an evening cannot be recalled on the switcher as it is programmed."""

    presets: tuple[str, ...]
    """Ids of the presets used that have no memory, none that the switcher has, or a shared one."""
    sections: tuple[str, ...]
    """The sections that use them, as "songs.low-fen.sections.3"."""
    songs: tuple[str, ...]
    """Ids of the songs that have such sections."""


def unstored(rig: Rig, evening: Evening) -> Unstored | None:
    """Find what an evening uses and no memory holds; None where all is held.

    The evening may have been made of another rig with the same songs and setlists.
    """
    if rig.switcher is None:
        return None
    loose = {preset.id for preset in rig.presets} - held_presets(rig)
    found = [
        (song, at, section.preset)
        for song in rig.songs
        if song.id in evening.times
        for at, section in enumerate(song.sections)
        if section.preset in loose
    ]
    if not found:
        return None
    used = {preset for _, _, preset in found}
    return Unstored(
        tuple(preset.id for preset in rig.presets if preset.id in used),
        tuple(section_place(song.id, at) for song, at, _ in found),
        tuple(dict.fromkeys(song.id for song, _, _ in found)),
    )


def moves_without(rig: Rig, evening: Evening, gaps: Unstored) -> tuple[int, int]:
    """How many songs of the evening do without what is not held, and their moves as written."""
    songs = [song for song in rig.songs if song.id in evening.times and song.id not in gaps.songs]
    moves = sum(count_song(rig, song).moves * evening.times[song.id] for song in songs)
    return len(songs), moves


def unstored_today(now: Rig, then: Rig | None, evening: Evening, moves: int) -> str | None:
    """Say that today's figure cannot be played, and what of it can.

    Args:
        now: The rig as it stands.
        then: The rig as planned, if there is a plan.
        evening: The songs that count.
        moves: Today's figure.
    """
    gaps = unstored(now, evening)
    if gaps is None:
        return None
    rest, kept = moves_without(now, evening, gaps)
    said = f"Today's {moves} leans on {_named(now, gaps)}; {_counted(gaps)} cannot be recalled"
    if not rest:
        return f"{said}. No song of the evening does without"
    does = "song that does" if rest == 1 else f"{rest} songs that do"
    said += f". The {does} without: {count(kept, 'move')} today"
    if then is not None:
        _, planned = moves_without(then, evening, gaps)
        said += f", {planned} as planned"
    return said


def unstored_then(then: Rig, evening: Evening) -> str | None:
    """Say what no memory holds with the plan either."""
    gaps = unstored(then, evening)
    if gaps is None:
        return None
    return f"The plan leans on {_named(then, gaps)}; {_counted(gaps)} cannot be recalled"


def _named(rig: Rig, gaps: Unstored) -> str:
    labels = [visible(preset.label) for preset in rig.presets if preset.id in gaps.presets]
    who = "with no memory of their own" if len(labels) > 1 else "with no memory of its own"
    return f"{count(len(labels), 'preset')} {who} ({first_few(labels, _MOST_NAMED)})"


def _counted(gaps: Unstored) -> str:
    return f"{count(len(gaps.sections), 'section')} of {count(len(gaps.songs), 'song')}"
