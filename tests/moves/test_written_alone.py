"""Moves as written, counted without the rest, are those of the whole count."""

from __future__ import annotations

from examples import examples
from hypothesis import given
from moves.rigs_drawn import Data, rigs

from rigtui.model import rig_from_data
from rigtui.moves import (
    AskedOfFeet,
    asked_as_written,
    count_setlist,
    count_song,
    count_songs,
    evening_as_written,
    moves_as_written,
)


@examples(30)
@given(rigs())
def test_songs_and_evenings_as_written(data: Data) -> None:
    """Before and after the whole count is known, the figures are the same."""
    rig = rig_from_data(data)
    alone = [moves_as_written(rig, song) for song in rig.songs]
    evening = evening_as_written(rig, rig.setlists[0])
    assert alone == [count_song(rig, song).moves for song in rig.songs]
    counted = count_setlist(rig, rig.setlists[0])
    assert evening == (counted.moves, counted.set_up_moves)
    assert alone == [moves_as_written(rig, song) for song in rig.songs]
    assert evening == evening_as_written(rig, rig.setlists[0])


@examples(30)
@given(rigs())
def test_what_evenings_ask_together(data: Data) -> None:
    """Every setlist added up, a song as often as it is played; all songs where there is none."""
    rig = rig_from_data(data)
    asked, alone = asked_as_written(rig, rig.setlists), asked_as_written(rig, ())
    counts = [count_setlist(rig, setlist) for setlist in rig.setlists]
    assert asked == AskedOfFeet(
        sum(count.unplayable for count in counts),
        sum(count.extra_presses for count in counts),
        sum(count.moves for count in counts),
        sum(count.set_up_moves for count in counts),
    )
    songs = count_songs(rig, rig.songs)
    assert alone == AskedOfFeet(
        sum(count.unplayable for count in songs),
        sum(count.extra_presses for count in songs),
        sum(count.moves for count in songs),
        0,
    )
