"""Counting a long evening in small pieces, so that a screen can take a key in between."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig, Setlist
from rigtui.moves.boards import board_of
from rigtui.moves.count import count_song, walk
from rigtui.moves.machine import power_on

AT_ONCE = 40
"""How many songs are counted at once while somebody waits for a key."""


def counting(rig: Rig, setlist: Setlist | None, first: Iterable[str] = ()) -> Iterator[None]:
    """Do all that `count_setlist`, or `count_song` of each song, would have to do, step by step.

    Args:
        rig: The rig.
        setlist: One of its setlists; None for all songs.
        first: Ids of songs to begin with.
    """
    board, songs = board_of(rig), lookup(rig).songs
    played = songs if setlist is None else setlist.song_ids
    for song_id in dict.fromkeys((*first, *played)):
        song = songs.get(song_id)
        if song is not None and id(song) not in board.counts:
            count_song(rig, song)
            yield
    state = power_on(board)
    for song_id in setlist.song_ids if setlist is not None else ():
        if song_id in songs:
            state, _ = walk(board, state, songs[song_id])
            yield


def soon_counted(rig: Rig, song_ids: Iterable[str]) -> bool:
    """Whether so few of some songs are yet to be counted that somebody can wait for it."""
    counts, songs = board_of(rig).counts, lookup(rig).songs
    waiting = (
        song for song_id in dict.fromkeys(song_ids) if (song := songs.get(song_id)) is not None
    )
    return sum(id(song) not in counts for song in waiting) <= AT_ONCE
