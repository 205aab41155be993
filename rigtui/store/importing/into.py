"""A draft with nothing open becomes songs of a rig."""

from __future__ import annotations

from typing import Any

from rigtui.model.edits.tables import changed, made, swapped_in, with_table
from rigtui.model.errors import EditError
from rigtui.model.rig import Rig, Section, Song
from rigtui.model.text import count, slug, visible
from rigtui.store.importing.answers import FilledDraft, existing
from rigtui.store.importing.draft import DraftSection, DraftSong, ImportFault


def put_in(rig: Rig, filled: FilledDraft) -> tuple[Rig, tuple[str, ...]]:
    """Put a draft's songs into a rig.

    Args:
        rig: The rig.
        filled: A draft with no question open.

    Returns:
        The new rig, and a line on each song for the player.

    Raises:
        ImportFault: a value that no rig can hold; all are listed.
    """
    assert not filled.questions
    lines: list[str] = []
    faults: list[str] = []
    songs = list(rig.songs)
    ids = {song.id for song in songs}
    for draft in filled.draft.songs:
        old = existing(rig, draft)
        name = visible(draft.name)
        if old is not None and filled.same == "skip":
            lines.append(f"{name}: there already, left as it is")
            continue
        try:
            if old is not None and filled.same == "replace":
                song = _replaced(old, draft, filled.draft.says_all)
                songs = list(swapped_in(songs, [known.id for known in songs].index(old.id), song))
                lines.append(f"{name}: replaced, {_size(song)}")
            else:
                song = made(Song, **_keys(draft, _new_id(draft, ids)))
                ids.add(song.id)
                songs.append(song)
                lines.append(f"{name}: added, {_size(song)}")
        except EditError as error:
            faults.append(f"{name}: {error}")
    if faults:
        raise ImportFault("\n".join(faults))
    try:
        return with_table(rig, "songs", songs), tuple(lines)
    except EditError as error:
        raise ImportFault(str(error)) from None


def _new_id(draft: DraftSong, taken: set[str]) -> str:
    if draft.id and draft.id not in taken:
        return draft.id
    return slug(draft.title or draft.id or "song", taken)


def _replaced(old: Song, draft: DraftSong, says_all: bool) -> Song:
    keys = _keys(draft, old.id)
    # A lyric sheet or a MIDI file knows nothing of guitars and tunings: what it cannot say stays.
    return made(Song, **keys) if says_all else changed(old, **keys)


def _keys(draft: DraftSong, song_id: str) -> dict[str, Any]:
    keys: dict[str, Any] = {"id": song_id}
    if draft.title:
        keys["title"] = draft.title
    for key, value in (("tempo", draft.tempo), ("meter", draft.meter)):
        if value is not None:
            keys[key] = value
    keys.update(draft.more)
    sections = tuple(_section(section) for section in draft.sections if section.bars != 0)
    if sections:
        keys["sections"] = sections
    return keys


def _section(draft: DraftSection) -> Section:
    preset = {} if draft.preset is None else {"preset": draft.preset}
    try:
        return made(Section, name=draft.name, bars=draft.bars, **preset, **draft.more)
    except EditError as error:
        raise EditError(f"{visible(draft.name)}: {error}") from None


def _size(song: Song) -> str:
    unmapped = sum(section.preset is None for section in song.sections)
    size = count(len(song.sections), "section")
    return f"{size}, {unmapped} without a preset" if unmapped else size
