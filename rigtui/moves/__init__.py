"""Counting foot moves: as written, on the beat, between songs, and the least there could be."""

from __future__ import annotations

from rigtui.moves.board import Board, Target
from rigtui.moves.boards import board_of
from rigtui.moves.count import (
    asked_as_written,
    asked_of_a_song,
    changes_as_written,
    count_setlist,
    count_song,
    count_songs,
    evening_as_written,
    moves_as_written,
    set_ups_before,
)
from rigtui.moves.figures import AskedOfFeet, Change, SetlistCount, SetUp, SongCount
from rigtui.moves.press import Press, Presses, count_kind, on_the_beat

__all__ = [
    "AskedOfFeet",
    "Board",
    "Change",
    "Press",
    "Presses",
    "SetUp",
    "SetlistCount",
    "SongCount",
    "Target",
    "asked_as_written",
    "asked_of_a_song",
    "board_of",
    "changes_as_written",
    "count_kind",
    "count_setlist",
    "count_song",
    "count_songs",
    "evening_as_written",
    "moves_as_written",
    "on_the_beat",
    "set_ups_before",
]
