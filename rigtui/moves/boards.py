"""The board of a rig, cached by the tables it reads."""

from __future__ import annotations

from typing import Any

from rigtui.model.remembered import Remembered
from rigtui.model.rig import Rig
from rigtui.moves.board import Board
from rigtui.moves.carried import carry_over

# A check tries each pedal outside: rigs on trial must not push out the rig itself.
_boards: Remembered[Board] = Remembered(24)


def board_of(rig: Rig) -> Board:
    """Return the rig's board, the very same object as long as the tables it reads are the same."""
    parts = (rig.amp, rig.switcher, rig.pedals, rig.loops, rig.presets)
    return _boards.get(parts, lambda: _new_board(rig, parts))


def _new_board(rig: Rig, parts: tuple[Any, ...]) -> Board:
    board = Board(rig)
    latest = _boards.latest(parts[:-1])
    if latest is not None:
        (*_, presets), old = latest
        carry_over(rig.songs, board, rig.presets, old, presets)
    return board
