"""Songs out of another rig, whose presets are then mapped to those of this one."""

from __future__ import annotations

from collections.abc import Collection

from rigtui.model.base import RigTable
from rigtui.model.rig import Rig
from rigtui.model.text import did_you_mean
from rigtui.store.importing.draft import Draft, DraftSection, DraftSong, ImportFault


def rig_draft(rig: Rig) -> Draft:
    """Make a draft of all songs of a rig."""
    songs = []
    for song in rig.songs:
        sections = []
        for section in song.sections:
            more = _given(section, {"name", "bars", "preset"})
            was = section.preset
            sections.append(
                DraftSection(section.name, section.bars, was=was, mapped=was is None, more=more)
            )
        more = _given(song, {"id", "title", "tempo", "meter", "sections"})
        meter = song.meter if "meter" in song.model_fields_set else None
        songs.append(DraftSong(song.title, song.id, song.tempo, meter, tuple(sections), more))
    if not songs:
        raise ImportFault("this rig file has no songs")
    return Draft("rig", tuple(songs))


def _given(table: RigTable, without: set[str]) -> dict[str, object]:
    """The keys that the file gives, in the table's order, except some."""
    fields = type(table).model_fields
    return {
        key: getattr(table, key)
        for key in fields
        if key in table.model_fields_set and key not in without and getattr(table, key) is not None
    }


def only(draft: Draft, wanted: Collection[str]) -> Draft:
    """Return the draft with just the songs of these ids.

    Raises:
        ImportFault: one of them is not there.
    """
    ids = [song.id or "" for song in draft.songs]
    for song_id in wanted:
        if song_id not in ids:
            guess = did_you_mean(song_id, ids, f"it has {', '.join(ids[:8])}")
            raise ImportFault(f'it has no song with the id "{song_id}"; {guess}')
    songs = tuple(song for song in draft.songs if song.id in wanted)
    return Draft(draft.kind, songs, draft.notes)
