"""Map many sections at once: all of a name, like another song, or fill down.

A section's mapping is its preset with the pedals stepped on or off on top of it. Everything else
(bars, cue, hands, rests) stays its own.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import Any

from rigtui.model.edits.songs import mapped_to
from rigtui.model.edits.tables import changed, in_range, place_of, swapped_in, with_table
from rigtui.model.edits.waivers import with_waivers_placed
from rigtui.model.errors import EditError
from rigtui.model.limits import MAX_SECTIONS
from rigtui.model.places import place_at
from rigtui.model.rig import Rig, Section, Song
from rigtui.model.song_line.parts import base_and_number
from rigtui.model.text import visible


def same_name(name: str) -> str:
    """What sections of one name have in common, their number aside: "chorus" of "Chorus 2"."""
    return base_and_number(name)[0].casefold()


def mapped_like(section: Section, other: Section) -> Section:
    """A section with the mapping of another."""
    keys: dict[str, Any] = mapped_to(section, other.preset)
    for key in ("plus", "minus"):
        if getattr(section, key) != getattr(other, key):
            keys[key] = getattr(other, key)
    return changed(section, **keys) if keys else section


def others_of_name(rig: Rig, section: Section, song_ids: Collection[str]) -> int:
    """How many sections of a section's name in some songs are mapped otherwise than it is."""
    name = same_name(section.name)
    return sum(
        mapped_like(row, section) is not row
        for song in rig.songs
        if song.id in song_ids
        for row in song.sections
        if same_name(row.name) == name
    )


def map_all_of_name(rig: Rig, song_id: str, at: int, song_ids: Collection[str]) -> Rig:
    """Give all sections of one name in some songs the mapping of the section at a place."""
    sections = rig.songs[place_of(rig.songs, song_id, "song")].sections
    in_range(sections, at, "section")
    section, name = sections[at], same_name(sections[at].name)

    def mapped(song: Song) -> Song:
        rows = tuple(
            mapped_like(row, section) if same_name(row.name) == name else row
            for row in song.sections
        )
        return song if rows == song.sections else changed(song, sections=rows)

    songs = [mapped(song) if song.id in song_ids else song for song in rig.songs]
    return with_table(rig, "songs", songs)


def fill_down(rig: Rig, song_id: str, places: Sequence[int]) -> Rig:
    """Give sections of a song (places from 0) the mapping of the first of them."""
    song_at = place_of(rig.songs, song_id, "song")
    rows = list(rig.songs[song_at].sections)
    for at in places:
        in_range(rows, at, "section")
    for at in places[1:]:
        rows[at] = mapped_like(rows[at], rows[places[0]])
    song = changed(rig.songs[song_at], sections=tuple(rows))
    return with_table(rig, "songs", swapped_in(rig.songs, song_at, song))


def shared_names(song: Song, other: Song) -> int:
    """How many sections of a song have a namesake in another."""
    names = {same_name(row.name) for row in other.sections}
    return sum(same_name(row.name) in names for row in song.sections)


def map_like_song(rig: Rig, song_id: str, other_id: str) -> Rig:
    """Map a song's sections as another song maps those of the same names.

    The second Chorus goes by the other's second one; where that has fewer, by its last.

    Raises:
        EditError: no section of the two has a name in common.
    """
    song_at = place_of(rig.songs, song_id, "song")
    song, other = rig.songs[song_at], rig.songs[place_of(rig.songs, other_id, "song")]
    if not shared_names(song, other):
        raise EditError(
            f"no section of {visible(song.label)} has the same name as one of "
            f"{visible(other.label)}"
        )
    models: dict[str, list[Section]] = {}
    for row in other.sections:
        models.setdefault(same_name(row.name), []).append(row)
    seen: dict[str, int] = {}
    rows = []
    for row in song.sections:
        name = same_name(row.name)
        seen[name] = seen.get(name, 0) + 1
        of_name = models.get(name)
        rows.append(
            mapped_like(row, of_name[min(seen[name], len(of_name)) - 1]) if of_name else row
        )
    song = changed(song, sections=tuple(rows))
    return with_table(rig, "songs", swapped_in(rig.songs, song_at, song))


def put_sections(rig: Rig, song_id: str, new: Sequence[Section], at: int) -> Rig:
    """Put copies of sections into a song, from a place (from 0) on."""
    song_at = place_of(rig.songs, song_id, "song")
    sections = rig.songs[song_at].sections
    if len(sections) + len(new) > MAX_SECTIONS:
        raise EditError(f"a song has at most {MAX_SECTIONS} sections")
    rows = (*sections[:at], *new, *sections[at:])
    song = changed(rig.songs[song_at], sections=rows)
    return with_waivers_placed(
        with_table(rig, "songs", swapped_in(rig.songs, song_at, song)),
        place_at("songs", song_id, "sections"),
        len(sections),
        lambda places: (*places[:at], *("" for _ in new), *places[at:]),
    )


def delete_sections(rig: Rig, song_id: str, places: Iterable[int]) -> Rig:
    """Delete the sections at some places (from 0)."""
    gone = set(places)
    song_at = place_of(rig.songs, song_id, "song")
    sections = rig.songs[song_at].sections
    for at in gone:
        in_range(sections, at, "section")
    song = changed(
        rig.songs[song_at], sections=tuple(s for at, s in enumerate(sections) if at not in gone)
    )
    return with_waivers_placed(
        with_table(rig, "songs", swapped_in(rig.songs, song_at, song)),
        place_at("songs", song_id, "sections"),
        len(sections),
        lambda rows: tuple(row for at, row in enumerate(rows) if at not in gone),
    )
