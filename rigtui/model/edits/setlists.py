"""Edits of setlists and their sets. Each takes a Rig and returns a new one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

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
from rigtui.model.places import place_at, set_place
from rigtui.model.rig import Rig, Set, Setlist
from rigtui.model.text import slug


def set_setlist(rig: Rig, setlist_id: str, **fields: Any) -> Rig:
    """Change keys of a setlist: name, date, sets, note."""
    at = place_of(rig.setlists, setlist_id, "setlist")
    row = changed(rig.setlists[at], **fields)
    return with_table(rig, "setlists", swapped_in(rig.setlists, at, row))


def add_setlist(rig: Rig, name: str, at: int | None = None, **fields: Any) -> Rig:
    """Add a setlist with one empty set; its id is made from its name."""
    values = {"sets": (Set(name="First set", songs=()),), **fields}
    row = made(
        Setlist, id=slug(name, {setlist.id for setlist in rig.setlists}), name=name, **values
    )
    return with_table(rig, "setlists", put(rig.setlists, at, row))


def duplicate_setlist(rig: Rig, setlist_id: str) -> Rig:
    """Put a copy of a setlist behind it."""
    at = place_of(rig.setlists, setlist_id, "setlist")
    name = f"{rig.setlists[at].label} copy"
    row = changed(rig.setlists[at], id=slug(name, {s.id for s in rig.setlists}), name=name)
    return with_table(rig, "setlists", put(rig.setlists, at + 1, row))


def delete_setlist(rig: Rig, setlist_id: str) -> Rig:
    """Delete a setlist and the record of its sheets; its songs stay in the file."""
    at = place_of(rig.setlists, setlist_id, "setlist")
    rest = with_table(rig, "setlists", taken(rig.setlists, at))
    if all(sheet.setlist != setlist_id for sheet in rig.printed):
        return rest
    kept = [sheet for sheet in rig.printed if sheet.setlist != setlist_id]
    return with_table(rest, "printed", kept)


def move_setlist(rig: Rig, setlist_id: str, by: int) -> Rig:
    """Move a setlist by some places."""
    at = place_of(rig.setlists, setlist_id, "setlist")
    return with_table(rig, "setlists", moved(rig.setlists, at, by))


def set_setlist_id(rig: Rig, setlist_id: str, new_id: str) -> Rig:
    """Give a setlist another id; waivers and printed sheets that name it follow."""
    if new_id != setlist_id and any(setlist.id == new_id for setlist in rig.setlists):
        raise EditError(f'id "{new_id}" belongs to another setlist')
    renamed = set_setlist(rig, setlist_id, id=new_id)
    if any(sheet.setlist == setlist_id for sheet in rig.printed):
        rows = [changed(p, setlist=new_id) if p.setlist == setlist_id else p for p in rig.printed]
        renamed = with_table(renamed, "printed", rows)
    return with_waivers_moved(
        renamed, place_at("setlists", setlist_id), place_at("setlists", new_id)
    )


def _sets(rig: Rig, setlist_id: str, at: int | None = None) -> tuple[Set, ...]:
    sets = rig.setlists[place_of(rig.setlists, setlist_id, "setlist")].sets
    if at is not None:
        in_range(sets, at, "set")
    return sets


def _with_sets(
    rig: Rig, setlist_id: str, at: int | None, order: Callable[[Sequence[Any]], tuple[Any, ...]]
) -> Rig:
    """Add, take or move sets; waivers follow theirs."""
    sets = _sets(rig, setlist_id, at)
    new = set_setlist(rig, setlist_id, sets=order(sets))
    return with_waivers_placed(new, place_at("setlists", setlist_id, "sets"), len(sets), order)


def with_songs(
    rig: Rig, setlist_id: str, at: int, order: Callable[[Sequence[Any]], tuple[Any, ...]]
) -> Rig:
    """Add, take or move songs of a set; waivers follow theirs."""
    songs = _sets(rig, setlist_id, at)[at].songs
    new = set_set(rig, setlist_id, at, songs=order(songs))
    return with_waivers_placed(new, _songs_path(setlist_id, at), len(songs), order)


def _songs_path(setlist_id: str, at: int) -> str:
    return place_at(set_place(setlist_id, at), "songs")


def set_set(rig: Rig, setlist_id: str, at: int, **fields: Any) -> Rig:
    """Change keys of the set at a place (from 0): name, songs, slot_minutes."""
    sets = _sets(rig, setlist_id, at)
    return set_setlist(rig, setlist_id, sets=swapped_in(sets, at, changed(sets[at], **fields)))


def add_set(rig: Rig, setlist_id: str, name: str, at: int | None = None) -> Rig:
    """Add an empty set to a setlist."""
    row = made(Set, name=name, songs=())
    return _with_sets(rig, setlist_id, None, lambda rows: put(rows, at, row))


def duplicate_set(rig: Rig, setlist_id: str, at: int) -> Rig:
    """Put a copy of a set behind it."""
    copy = _sets(rig, setlist_id, at)[at]
    return _with_sets(rig, setlist_id, at, lambda rows: put(rows, at + 1, copy))


def delete_set(rig: Rig, setlist_id: str, at: int) -> Rig:
    """Delete a set; its songs stay in the file."""
    return _with_sets(rig, setlist_id, at, lambda rows: taken(rows, at))


def move_set(rig: Rig, setlist_id: str, at: int, by: int) -> Rig:
    """Move a set by some places in its setlist."""
    return _with_sets(rig, setlist_id, at, lambda rows: moved(rows, at, by))


def add_to_set(rig: Rig, setlist_id: str, set_at: int, song_id: str, at: int | None = None) -> Rig:
    """Play a song in a set, at a place (from 0) or at the end."""
    place_of(rig.songs, song_id, "song")
    return with_songs(rig, setlist_id, set_at, lambda rows: put(rows, at, song_id))


def add_songs_to_set(
    rig: Rig, setlist_id: str, set_at: int, song_ids: Sequence[str], at: int
) -> Rig:
    """Play songs in a set, one after the other from a place (from 0) on."""
    for song_id in song_ids:
        place_of(rig.songs, song_id, "song")
    new = tuple(song_ids)
    return with_songs(rig, setlist_id, set_at, lambda rows: (*rows[:at], *new, *rows[at:]))


def remove_from_set(rig: Rig, setlist_id: str, set_at: int, at: int) -> Rig:
    """Take the song at a place out of a set; it stays in the file."""
    songs = _sets(rig, setlist_id, set_at)[set_at].songs
    in_range(songs, at, "song")
    return with_songs(rig, setlist_id, set_at, lambda rows: taken(rows, at))


def move_in_set(rig: Rig, setlist_id: str, set_at: int, at: int, by: int) -> Rig:
    """Move a song by one place up (by < 0) or down, over the end of its set into the next one."""
    sets = _sets(rig, setlist_id, set_at)
    songs = sets[set_at].songs
    in_range(songs, at, "song")
    target = set_at + (1 if by > 0 else -1)
    if 0 <= at + by < len(songs) or not 0 <= target < len(sets):
        return with_songs(rig, setlist_id, set_at, lambda rows: moved(rows, at, by))
    place = 0 if by > 0 else len(sets[target].songs)
    on_the_way = place_at("setlists", setlist_id, "moving")  # waivers rest there meanwhile
    rig = with_waivers_moved(rig, place_at(_songs_path(setlist_id, set_at), at), on_the_way)
    rig = with_songs(rig, setlist_id, set_at, lambda rows: taken(rows, at))
    rig = with_songs(rig, setlist_id, target, lambda rows: put(rows, place, songs[at]))
    return with_waivers_moved(rig, on_the_way, place_at(_songs_path(setlist_id, target), place))


def split_set(rig: Rig, setlist_id: str, set_at: int, at: int, name: str) -> Rig:
    """Make the songs of a set from a place (from 0) on a set of their own behind it.

    The minutes that the venue gives stay with the first of the two.

    Raises:
        EditError: there is no song before the place, or none at it.
    """
    songs = _sets(rig, setlist_id, set_at)[set_at].songs
    in_range(songs, at, "song")
    if at == 0:
        raise EditError("no song stands before this one in its set: there is nothing to split")
    rig = add_set(rig, setlist_id, name, set_at + 1)
    for last in range(len(songs) - 1, at - 1, -1):
        rig = move_in_set(rig, setlist_id, set_at, last, 1)
    return rig


def join_set(rig: Rig, setlist_id: str, set_at: int) -> Rig:
    """Put the songs of the next set at the end of this one, and take that set away.

    The minutes that the venue gives them add up.

    Raises:
        EditError: no set comes after it.
    """
    sets = _sets(rig, setlist_id, set_at)
    if set_at + 1 >= len(sets):
        raise EditError("no set comes after this one")
    first, second = sets[set_at], sets[set_at + 1]
    for _ in second.songs:
        rig = move_in_set(rig, setlist_id, set_at + 1, 0, -1)
    rig = delete_set(rig, setlist_id, set_at + 1)
    slot = (first.slot_minutes or 0) + (second.slot_minutes or 0)
    return set_set(rig, setlist_id, set_at, slot_minutes=slot or None)
