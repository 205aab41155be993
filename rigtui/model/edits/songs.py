"""Edits of songs and their sections. Each takes a Rig and returns a new one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from rigtui.model.base import BY_FOOT
from rigtui.model.edits.setlists import with_songs
from rigtui.model.edits.tables import (
    changed,
    in_range,
    made,
    moved,
    place_of,
    put,
    swapped_in,
    taken,
    with_table,
)
from rigtui.model.edits.waivers import with_waivers_moved, with_waivers_placed
from rigtui.model.errors import EditError
from rigtui.model.limits import MAX_SECTIONS
from rigtui.model.lookup import lookup
from rigtui.model.places import place_at
from rigtui.model.rig import Rig, Section, Song
from rigtui.model.text import slug, visible


def set_song(rig: Rig, song_id: str, **fields: Any) -> Rig:
    """Change keys of a song: title, tempo, meter, beat, guitar, tuning, capo, gap_seconds, ..."""
    at = place_of(rig.songs, song_id, "song")
    row = changed(rig.songs[at], **fields)
    return with_table(rig, "songs", swapped_in(rig.songs, at, row))


def add_song(rig: Rig, title: str, tempo: float, at: int | None = None, **fields: Any) -> Rig:
    """Add a song; its id is made from its title."""
    row = made(Song, id=new_song_id(rig, title), title=title, tempo=tempo, **fields)
    return with_table(rig, "songs", put(rig.songs, at, row))


def new_song_id(rig: Rig, title: str) -> str:
    """The id that a song of this title would get."""
    return slug(title, {song.id for song in rig.songs})


def duplicate_song(rig: Rig, song_id: str) -> Rig:
    """Put a copy of a song behind it in the list of songs."""
    at = place_of(rig.songs, song_id, "song")
    title = f"{rig.songs[at].label} copy"
    row = changed(rig.songs[at], id=new_song_id(rig, title), title=title)
    return with_table(rig, "songs", put(rig.songs, at + 1, row))


def delete_song(rig: Rig, song_id: str) -> Rig:
    """Delete a song, also from every setlist."""
    at = place_of(rig.songs, song_id, "song")
    return _repointed(with_table(rig, "songs", taken(rig.songs, at)), song_id, None)


def move_song(rig: Rig, song_id: str, by: int) -> Rig:
    """Move a song by some places in the list of songs."""
    at = place_of(rig.songs, song_id, "song")
    return with_table(rig, "songs", moved(rig.songs, at, by))


def set_song_id(rig: Rig, song_id: str, new_id: str) -> Rig:
    """Give a song another id; setlists and waivers that name it follow."""
    if new_id != song_id and any(song.id == new_id for song in rig.songs):
        raise EditError(f'id "{new_id}" belongs to another song')
    renamed = _repointed(set_song(rig, song_id, id=new_id), song_id, new_id)
    return with_waivers_moved(renamed, place_at("songs", song_id), place_at("songs", new_id))


def _repointed(rig: Rig, old: str, new: str | None) -> Rig:
    """Let setlists play another song in a song's place, or none."""
    for setlist in rig.setlists:
        for at, part in enumerate(setlist.sets):
            if old in part.songs:
                order = partial(_played_instead, ids=part.songs, old=old, new=new)
                rig = with_songs(rig, setlist.id, at, order)
    return rig


def _played_instead(
    rows: Sequence[Any], ids: tuple[str, ...], old: str, new: str | None
) -> tuple[Any, ...]:
    if new is None:
        return tuple(row for row, song in zip(rows, ids) if song != old)
    return tuple(new if row == old else row for row in rows)


def _sections(rig: Rig, song_id: str, at: int | None = None) -> tuple[Section, ...]:
    sections = rig.songs[place_of(rig.songs, song_id, "song")].sections
    if at is not None:
        in_range(sections, at, "section")
    return sections


def _with_sections(rig: Rig, song_id: str, sections: tuple[Section, ...]) -> Rig:
    if len(sections) > MAX_SECTIONS:
        raise EditError(f"a song has at most {MAX_SECTIONS} sections")
    return set_song(rig, song_id, sections=sections)


def reordered(
    rig: Rig, song_id: str, at: int | None, order: Callable[[Sequence[Any]], tuple[Any, ...]]
) -> Rig:
    """Add, take or move sections; waivers follow theirs."""
    sections = _sections(rig, song_id, at)
    new = _with_sections(rig, song_id, order(sections))
    return with_waivers_placed(new, place_at("songs", song_id, "sections"), len(sections), order)


def set_section(rig: Rig, song_id: str, at: int, **fields: Any) -> Rig:
    """Change keys of the section at a place (from 0): name, bars, preset, hands, tempo, ..."""
    sections = _sections(rig, song_id, at)
    return _with_sections(rig, song_id, swapped_in(sections, at, changed(sections[at], **fields)))


def add_section(
    rig: Rig, song_id: str, name: str, bars: float, at: int | None = None, **fields: Any
) -> Rig:
    """Add a section at a place (from 0), at the end where none is given."""
    row = made(Section, name=name, bars=bars, **fields)
    return reordered(rig, song_id, None, lambda rows: put(rows, at, row))


def duplicate_section(rig: Rig, song_id: str, at: int) -> Rig:
    """Put a copy of a section behind it."""
    copy = _sections(rig, song_id, at)[at]
    return reordered(rig, song_id, at, lambda rows: put(rows, at + 1, copy))


def delete_section(rig: Rig, song_id: str, at: int) -> Rig:
    """Delete a section."""
    return reordered(rig, song_id, at, lambda rows: taken(rows, at))


def move_section(rig: Rig, song_id: str, at: int, by: int) -> Rig:
    """Move a section by some places in its song."""
    return reordered(rig, song_id, at, lambda rows: moved(rows, at, by))


def map_section(rig: Rig, song_id: str, at: int, preset_id: str | None) -> Rig:
    """Map a section to a preset, or to none."""
    if preset_id is not None:
        place_of(rig.presets, preset_id, "preset")
    return set_section(rig, song_id, at, **mapped_to(_sections(rig, song_id, at)[at], preset_id))


def mapped_to(section: Section, preset_id: str | None) -> dict[str, Any]:
    """Keys of a section mapped to a preset; what it said of its preset before is dropped."""
    if preset_id == section.preset:
        return {}
    return {"preset": preset_id, "preset_hands": "", "ignores": ()}


_NOT_BY_FOOT = {
    "always": "left on",
    "between": "only used between songs",
    "home": "not on the board tonight",
}


def step_pedal(rig: Rig, song_id: str, at: int, pedal_id: str) -> Rig:
    """Step a pedal on or off for one section, on top of its preset.

    An outside pedal with its own footswitch goes in or out of `plus`; a pedal in a loop, where
    the switcher can toggle single loops, in or out of `plus` or `minus`, as its preset needs.

    Raises:
        EditError: nothing can switch this pedal in a section, with the reason.
    """
    section = _sections(rig, song_id, at)[at]
    known = lookup(rig)
    pedal = known.pedals.get(pedal_id)
    if pedal is None:
        raise EditError(f'there is no pedal "{visible(pedal_id)}"')
    number = known.loop_of.get(pedal_id)
    key = "plus"
    if number is None and pedal.used not in BY_FOOT:
        use = _NOT_BY_FOOT[pedal.used]
        raise EditError(f"{visible(pedal.label)} is {use}, so a section can't switch it")
    if number is not None:
        if not known.toggling:
            raise EditError(
                f"{visible(pedal.label)} is in loop {number}, and the switcher can't "
                "toggle single loops: choose a preset that has it on"
            )
        preset = known.presets.get(section.preset or "")
        key = "minus" if preset and number in preset.loops else "plus"
    listed: tuple[str, ...] = getattr(section, key)
    new = tuple(p for p in listed if p != pedal_id) if pedal_id in listed else (*listed, pedal_id)
    return set_section(rig, song_id, at, **{key: new})
