"""Edits of several rows at once: songs and sections that move together. From Rig to Rig."""

from __future__ import annotations

from collections.abc import Collection

from rigtui.model.edits.setlists import move_in_set
from rigtui.model.edits.songs import reordered
from rigtui.model.edits.tables import in_range, place_of, with_table
from rigtui.model.rig import Rig


def moved_together(size: int, places: Collection[int], by: int) -> tuple[int, ...]:
    """Return the new order of rows of which some move up (by < 0) or down by one place each.

    What stands at the end already stays, and so does what would have to pass it.

    Args:
        size: How many rows there are.
        places: Those that move, from 0.
        by: -1 or 1.

    Returns:
        For each place the row that stands there then, by its place before.
    """
    order = list(range(size))
    for row in sorted(places, reverse=by > 0):
        here = order.index(row)
        past = here + by
        if 0 <= past < size and order[past] not in places:
            order[here], order[past] = order[past], order[here]
    return tuple(order)


def move_songs(rig: Rig, song_ids: Collection[str], by: int) -> Rig:
    """Move several songs by one place up (by < 0) or down in the list of songs."""
    places = {place_of(rig.songs, song_id, "song") for song_id in song_ids}
    order = moved_together(len(rig.songs), places, by)
    return with_table(rig, "songs", [rig.songs[at] for at in order])


def move_sections(rig: Rig, song_id: str, places: Collection[int], by: int) -> Rig:
    """Move the sections at some places (from 0) by one place up (by < 0) or down in their song."""
    sections = rig.songs[place_of(rig.songs, song_id, "song")].sections
    for at in places:
        in_range(sections, at, "section")
    order = moved_together(len(sections), places, by)
    return reordered(rig, song_id, None, lambda rows: tuple(rows[at] for at in order))


def move_several_in_sets(
    rig: Rig, setlist_id: str, places: Collection[tuple[int, int]], by: int
) -> Rig:
    """Move songs by one place up (by < 0) or down, over the ends of their sets.

    Args:
        rig: The rig.
        setlist_id: The setlist.
        places: (set, place in it) of each song, from 0.
        by: -1 or 1.
    """
    sets = rig.setlists[place_of(rig.setlists, setlist_id, "setlist")].sets
    for set_at, at in places:
        in_range(sets, set_at, "set")
        in_range(sets[set_at].songs, at, "song")
    order = [[(set_at, at) for at in range(len(part.songs))] for set_at, part in enumerate(sets)]
    for place in sorted(places, reverse=by > 0):
        set_at = next(row for row, songs in enumerate(order) if place in songs)
        songs = order[set_at]
        at, target = songs.index(place), set_at + by
        if 0 <= at + by < len(songs):
            if songs[at + by] in places:  # which could not move itself
                continue
            songs[at], songs[at + by] = songs[at + by], songs[at]
        elif 0 <= target < len(order):
            del songs[at]
            order[target].insert(0 if by > 0 else len(order[target]), place)
        else:
            continue
        rig = move_in_set(rig, setlist_id, set_at, at, by)
    return rig
