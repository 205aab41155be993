"""Counting foot moves: as written, on the beat, between songs, and the least there could be."""

from __future__ import annotations

from rigtui.moves.board import Board, Target, board_of
from rigtui.moves.count import (
    Change,
    SetlistCount,
    SetUp,
    SongCount,
    count_setlist,
    count_song,
    evening_as_written,
    moves_as_written,
)

__all__ = [
    "Board",
    "Change",
    "SetUp",
    "SetlistCount",
    "SongCount",
    "Target",
    "board_of",
    "count_setlist",
    "count_song",
    "evening_as_written",
    "moves_as_written",
]
