"""Counting in pieces does all the work of counting, each piece once, in the order asked for."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from moves.rigs_drawn import rigs

from rigtui.model import rig_from_data
from rigtui.moves import count, count_setlist, count_song
from rigtui.moves.in_pieces import AT_ONCE, counting, soon_counted


def counted_now(patch: pytest.MonkeyPatch, *names: str) -> list[str]:
    """A list that fills with the names of the functions that do the work when they do it."""
    seen: list[str] = []
    for name in names:
        real = getattr(count, name)
        patch.setattr(
            count, name, lambda *given, real=real, name=name: seen.append(name) or real(*given)
        )
    return seen


@given(rigs(most_songs=4))
def test_after_the_last_piece_nothing_is_left_to_count(drawn: dict[str, Any]) -> None:
    """Neither of the songs nor of the ways between them; and a setlist counts its own songs."""
    rig = rig_from_data(drawn)
    (night,) = rig.setlists
    for _ in counting(rig, night):
        pass
    with pytest.MonkeyPatch.context() as patch:
        seen = counted_now(patch, "_count_song", "step", "_alone")
        count_setlist(rig, night)
        assert seen == []
    for _ in counting(rig, None):
        pass
    with pytest.MonkeyPatch.context() as patch:
        seen = counted_now(patch, "_count_song")
        assert [count_song(rig, song).song_id for song in rig.songs] == [
            song.id for song in rig.songs
        ]
        assert seen == []


def test_songs_on_the_screen_come_first() -> None:
    """Then the others in their order; names of no song are passed over."""
    songs = [{"id": f"s{at}", "tempo": 100, "sections": []} for at in range(AT_ONCE + 3)]
    rig = rig_from_data({"format": 1, "name": "x", "songs": songs})
    every = [song.id for song in rig.songs]
    assert not soon_counted(rig, every)
    assert soon_counted(rig, [*every[:AT_ONCE], "s0", "ghost"])
    with pytest.MonkeyPatch.context() as patch:
        order: list[str] = []
        real = count._count_song
        patch.setattr(
            count, "_count_song", lambda rig, board, song: order.append(song.id) or real(
                rig, board, song
            )
        )  # fmt: skip
        pieces = counting(rig, None, ["s7", "ghost", "s3"])
        for _ in range(3):
            next(pieces)
        assert order == ["s7", "s3", "s0"]
    assert soon_counted(rig, every)
