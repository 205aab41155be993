"""An evening, song by song: the guitar for each, and the time to swap."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigtui.checks.finding import RigView
from rigtui.model import Player, Setlist, Song
from rigtui.model.places import place_at, set_place
from rigtui.model.remembered import Remembered
from rigtui.moves import Presses, set_ups_before
from rigtui.moves.guitars import Guitars, Swap


class Stop(NamedTuple):
    """One song as it comes up in an evening."""

    where: str
    set_at: int
    song: Song
    before: Song | None
    """The song before it in the same set."""
    gap_seconds: float | None
    """Seconds since the song before in the same set."""
    swap: Swap
    new_guitar: bool
    capo_left: int
    """Fret of a capo that the guitar still has and of which the song is the first to say nothing;
    0 if there is none."""
    presses: Presses
    """Set-up moves."""


def stops(view: RigView, setlist: Setlist) -> tuple[Stop, ...]:
    """Return the songs of an evening as they come up; songs that do not exist are passed over."""
    return _evenings.get((view.rig, setlist), lambda: tuple(_stops(view, setlist)))


_evenings: Remembered[tuple[Stop, ...]] = Remembered(4)


def _stops(view: RigView, setlist: Setlist) -> Iterator[Stop]:
    guitars, player = Guitars(), view.player
    songs = view.known.songs
    evening = (songs[song] for song in setlist.song_ids if song in songs)
    set_ups = set_ups_before(view.rig, evening)
    at_start = True
    for set_at, part in enumerate(setlist.sets):
        before: Song | None = None
        for place, song_id in enumerate(part.songs):
            song = view.known.songs.get(song_id)
            if song is None:
                continue
            swap, new_guitar, capo_left = guitars.swap_to(song, player, at_start)
            yield Stop(
                where=place_at(set_place(setlist.id, set_at), "songs", place),
                set_at=set_at,
                song=song,
                before=before,
                gap_seconds=None if before is None else gap_after(player, before),
                swap=swap,
                new_guitar=new_guitar,
                capo_left=capo_left,
                presses=next(set_ups).presses,
            )
            before, at_start = song, False


def gap_after(player: Player, song: Song) -> float:
    """Seconds from the end of a song to the next."""
    return player.gap_seconds if song.gap_seconds is None else song.gap_seconds
