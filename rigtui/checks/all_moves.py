"""The total moves of a rig, to weigh one rig against another."""

from __future__ import annotations

from collections.abc import Generator
from typing import TypeVar

from rigtui.model import Rig
from rigtui.model.remembered import Remembered
from rigtui.moves import AskedOfFeet, asked_as_written, board_of, moves_as_written

ResultT = TypeVar("ResultT")


def all_moves(rig: Rig) -> AskedOfFeet:
    """Count every setlist as written, or every song where there is no setlist."""
    return finished(all_moves_in_pieces(rig))


def all_moves_in_pieces(rig: Rig) -> Generator[None, None, AskedOfFeet]:
    """Do the same step by step, so that a screen stays awake."""
    parts = (board_of(rig), rig.songs, rig.setlists)
    counted: list[AskedOfFeet] = _counted.get(parts, list)  # many rules weigh against the same rig
    if not counted:
        counted.append((yield from _counting(rig)))
    return counted[0]


# As many as there are boards: a check tries each pedal outside.
_counted: Remembered[list[AskedOfFeet]] = Remembered(24)


def _counting(rig: Rig) -> Generator[None, None, AskedOfFeet]:
    played = {song_id for setlist in rig.setlists for song_id in setlist.song_ids}
    for song in rig.songs:
        if not rig.setlists or song.id in played:
            moves_as_written(rig, song)
            yield
    if not rig.setlists:
        return asked_as_written(rig, ())
    total = AskedOfFeet(0, 0, 0, 0)
    for setlist in rig.setlists:
        total = AskedOfFeet(*map(sum, zip(total, asked_as_written(rig, [setlist]))))
        yield
    return total


def finished(pieces: Generator[None, None, ResultT]) -> ResultT:
    """Run all steps of some work at once and return its result."""
    while True:
        try:
            next(pieces)
        except StopIteration as end:
            return end.value  # type: ignore[no-any-return]
