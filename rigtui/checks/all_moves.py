"""Moves of a rig all told, to weigh one rig against another."""

from __future__ import annotations

from typing import NamedTuple

from rigtui.model import Rig
from rigtui.moves import evening_as_written, moves_as_written


class AllMoves(NamedTuple):
    """Moves over every setlist; over every song while there is no setlist."""

    in_songs: int
    set_up: int


def all_moves(rig: Rig) -> AllMoves:
    """Count every setlist as written, or every song where there is no setlist."""
    if not rig.setlists:
        return AllMoves(sum(moves_as_written(rig, song) for song in rig.songs), 0)
    counts = [evening_as_written(rig, setlist) for setlist in rig.setlists]
    return AllMoves(sum(moves for moves, _ in counts), sum(set_up for _, set_up in counts))
