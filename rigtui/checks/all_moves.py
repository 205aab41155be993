"""Moves of a rig all told, to weigh one rig against another."""

from __future__ import annotations

from collections.abc import Generator
from typing import NamedTuple, TypeVar

from rigtui.model import Rig
from rigtui.model.remembered import Remembered
from rigtui.moves import evening_as_written, extra_presses_as_written, moves_as_written

ResultT = TypeVar("ResultT")


class AllMoves(NamedTuple):
    """Over every setlist; over every song while there is no setlist."""

    in_songs: int
    set_up: int
    extra_presses: int


def all_moves(rig: Rig) -> AllMoves:
    """Count every setlist as written, or every song where there is no setlist."""
    return finished(all_moves_in_pieces(rig))


def all_moves_in_pieces(rig: Rig) -> Generator[None, None, AllMoves]:
    """Do the same step by step, so that a screen stays awake."""
    counted: list[AllMoves] = _counted.get((rig,), list)  # many rules weigh against the same rig
    if not counted:
        counted.append((yield from _counting(rig)))
    return counted[0]


_counted: Remembered[list[AllMoves]] = Remembered(4)


def _counting(rig: Rig) -> Generator[None, None, AllMoves]:
    played = {song_id for setlist in rig.setlists for song_id in setlist.song_ids}
    for song in rig.songs:
        if not rig.setlists or song.id in played:
            moves_as_written(rig, song)
            yield
    extra = {song.id: extra_presses_as_written(rig, song) for song in rig.songs}
    if not rig.setlists:
        moves = sum(moves_as_written(rig, song) for song in rig.songs)
        return AllMoves(moves, 0, sum(extra.values()))
    total = AllMoves(0, 0, 0)
    for setlist in rig.setlists:
        moves, set_up = evening_as_written(rig, setlist)
        extra_presses = sum(extra.get(song_id, 0) for song_id in setlist.song_ids)
        total = AllMoves(
            total.in_songs + moves, total.set_up + set_up, total.extra_presses + extra_presses
        )
        yield
    return total


def finished(pieces: Generator[None, None, ResultT]) -> ResultT:
    """Take all steps of some work at once; return what comes of it."""
    while True:
        try:
            next(pieces)
        except StopIteration as end:
            return end.value  # type: ignore[no-any-return]
