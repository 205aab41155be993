"""Moves of a rig all told, to weigh one rig against another."""

from __future__ import annotations

from collections.abc import Generator
from typing import NamedTuple, TypeVar

from rigtui.model import Rig
from rigtui.moves import evening_as_written, moves_as_written

ResultT = TypeVar("ResultT")


class AllMoves(NamedTuple):
    """Moves over every setlist; over every song while there is no setlist."""

    in_songs: int
    set_up: int


def all_moves(rig: Rig) -> AllMoves:
    """Count every setlist as written, or every song where there is no setlist."""
    return finished(all_moves_in_pieces(rig))


def all_moves_in_pieces(rig: Rig) -> Generator[None, None, AllMoves]:
    """Do the same step by step, so that a screen stays awake."""
    played = {song_id for setlist in rig.setlists for song_id in setlist.song_ids}
    for song in rig.songs:
        if not rig.setlists or song.id in played:
            moves_as_written(rig, song)
            yield
    if not rig.setlists:
        return AllMoves(sum(moves_as_written(rig, song) for song in rig.songs), 0)
    counts = []
    for setlist in rig.setlists:
        counts.append(evening_as_written(rig, setlist))
        yield
    return AllMoves(sum(moves for moves, _ in counts), sum(set_up for _, set_up in counts))


def finished(pieces: Generator[None, None, ResultT]) -> ResultT:
    """Take all steps of some work at once; return what comes of it."""
    while True:
        try:
            next(pieces)
        except StopIteration as end:
            return end.value  # type: ignore[no-any-return]
