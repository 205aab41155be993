"""Turn a complete draft into songs of a rig."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from rigtui.model.edits.setlists import add_set, add_setlist, add_songs_to_set
from rigtui.model.edits.tables import changed, made, place_of, swapped_in, with_table
from rigtui.model.errors import EditError
from rigtui.model.rig import Rig, Section, Song
from rigtui.model.text import clock_time, count, slug, visible
from rigtui.store.importing.answers import FilledDraft, existing
from rigtui.store.importing.draft import DraftSection, DraftSong, ImportFault


class Slot(NamedTuple):
    """Where in an evening songs are to be played."""

    setlist_id: str
    set_at: int
    """The set, from 0; a setlist without sets gets a first one."""
    at: int
    """Before which of its songs, from 0."""


FIRST_EVENING = Slot("evening", 0, 0)
"""The beginning of a setlist that is made for the songs, where the file has none yet."""


Lasting = Callable[[Song], float]
"""How many seconds a song lasts."""
_ABOUT = 10
"""Seconds by which a song may differ from the length that a list gives without a word of it."""


def put_in(
    rig: Rig, filled: FilledDraft, slot: Slot | None = None, lasting: Lasting = lambda song: 0
) -> tuple[Rig, tuple[str, ...]]:
    """Put a draft's songs into a rig.

    Args:
        rig: The rig.
        filled: A draft with no question open.
        slot: Where they are to be played, if anywhere. Songs that the source lists under the name
            of a set go to the end of the set of that name, which is made where there is none.
        lasting: Says how long a song lasts, to compare with the length that the source gives.

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
    order: list[str] = []
    for draft in filled.draft.songs:
        old = existing(rig, draft)
        name = visible(draft.name)
        if old is not None and filled.same == "skip":
            lines.append(f"{name}: already there, unchanged")
            order.append(old.id)
            continue
        try:
            if old is not None and filled.same == "replace":
                song = _replaced(old, draft, filled.draft.says_all)
                songs = list(swapped_in(songs, [known.id for known in songs].index(old.id), song))
                lines.append(f"{name}: replaced, {_size(song)}{_compared(draft, song, lasting)}")
            else:
                song = made(Song, **_keys(draft, _new_id(draft, ids)))
                ids.add(song.id)
                songs.append(song)
                lines.append(f"{name}: added, {_size(song)}{_compared(draft, song, lasting)}")
            order.append(song.id)
        except EditError as error:
            faults.append(f"{name}: {error}")
    if faults:
        raise ImportFault("\n".join(faults))
    try:
        new = with_table(rig, "songs", songs)
        if slot is not None:
            if slot == FIRST_EVENING and not rig.setlists:
                new = add_setlist(new, "Evening", sets=())
            new = _played(new, slot, [song.part for song in filled.draft.songs], order)
    except EditError as error:
        raise ImportFault(str(error)) from None
    return new, tuple(lines)


def lengths_compared(draft: DraftSong, lasting: Lasting) -> str:
    """The length that a source gives and that of its sections; "" where it gives none.

    Also where they are about the same, or where the song's tempo or sections are not known yet.
    """
    open_yet = draft.tempo is None or any(row.bars is None for row in draft.sections)
    if draft.length_seconds is None or open_yet:
        return ""
    try:
        return _compared(draft, made(Song, **_keys(draft, "song")), lasting)
    except EditError:
        return ""


def _compared(draft: DraftSong, song: Song, lasting: Lasting) -> str:
    given = draft.length_seconds
    if given is None or not song.sections or abs(lasting(song) - given) < _ABOUT:
        return ""
    return f", given {clock_time(given)}, the sections last {clock_time(lasting(song))}"


def _played(rig: Rig, slot: Slot, parts: Sequence[str], song_ids: Sequence[str]) -> Rig:
    """Play songs in a setlist, those of each part in the set of its name."""
    by_part: dict[str, list[str]] = {}
    for part, song_id in zip(parts, song_ids):
        by_part.setdefault(part, []).append(song_id)
    for part, ids in by_part.items():
        set_at, at = slot.set_at, slot.at
        sets = rig.setlists[place_of(rig.setlists, slot.setlist_id, "setlist")].sets
        if part or not sets:
            named = [
                row for row, known in enumerate(sets) if known.name.casefold() == part.casefold()
            ]
            set_at = named[0] if named else len(sets)
            if not named:
                rig = add_set(rig, slot.setlist_id, part or "First set")
            at = len(sets[set_at].songs) if named else 0
        rig = add_songs_to_set(rig, slot.setlist_id, set_at, ids, at)
    return rig


def _new_id(draft: DraftSong, taken: set[str]) -> str:
    if draft.id and draft.id not in taken:
        return draft.id
    return slug(draft.title or draft.id or "song", taken)


def _replaced(old: Song, draft: DraftSong, says_all: bool) -> Song:
    keys = _keys(draft, old.id)
    if not says_all and old.note and "note" in keys:
        lines = dict.fromkeys((*old.note.split("\n"), *keys["note"].split("\n")))
        keys["note"] = "\n".join(lines)
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
