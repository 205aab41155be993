"""The guitars of an evening: which one, in which tuning and with which capo, and what a swap takes.

A song that names no guitar, tuning or capo is played with what the song before left. Every guitar
keeps its own tuning and capo; one that comes up for the first time is ready as its song wants it,
without a capo unless that is said. That takes no time of a gap, but has to be thought of.
"""

from __future__ import annotations

from typing import NamedTuple

from rigtui.model.rig import Player, Song
from rigtui.model.text import visible
from rigtui.model.tunings import is_standard
from rigtui.moves.tunings import strings_in_words, strings_to_retune


class Swap(NamedTuple):
    """What has to be done to the guitar before a song."""

    words: tuple[str, ...] = ()
    """What is done in the gap."""
    seconds: float = 0.0
    ready: tuple[str, ...] = ()
    """What is done before the set, or before anybody waits for it."""

    @property
    def said(self) -> tuple[str, ...]:
        """All of it, in words."""
        return (*self.words, *self.ready)


class GuitarLeft(NamedTuple):
    """What the songs before leave for one that says nothing itself; None where nobody said it."""

    guitar: str | None = None
    tuning: str | None = None
    capo: int | None = None


class Guitars:
    """The guitars of an evening as they stand."""

    def __init__(self) -> None:
        self.in_hand: str | None = None
        self._tunings: dict[str | None, str] = {}
        self._capos: dict[str | None, int] = {}
        self._told: set[str | None] = set()
        """Guitars whose capo left on has been said; it is the same thing until one is named."""

    def left(self) -> GuitarLeft:
        """What a song is played with that says nothing itself."""
        guitar = self.in_hand
        return GuitarLeft(guitar, self._tunings.get(guitar), self._capos.get(guitar))

    def swap_to(self, song: Song, player: Player, at_start: bool) -> tuple[Swap, bool, int]:
        """Make ready for a song; return the work, whether the guitar is another, a capo left on."""
        words: list[str] = []
        ready: list[str] = []
        seconds = 0.0
        old, guitar = self.in_hand, song.guitar or self.in_hand
        changes_guitar = old is not None and guitar != old
        if changes_guitar:
            words.append(f"change to {visible(guitar or '')}")
            seconds += player.guitar_seconds
        self.in_hand = guitar
        tuning = self._tunings.get(guitar)
        if song.tuning and tuning is not None and song.tuning != tuning:
            strings = strings_to_retune(tuning, song.tuning)
            if strings != ():  # two ways to write one tuning are nothing to do
                words.append(f"retune {strings_in_words(strings, song.tuning)}")
                seconds += player.retune_seconds * (1 if strings is None else len(strings))
        elif song.tuning and tuning is None and not is_standard(song.tuning):
            ready.append(f"tune {'it ' if changes_guitar else ''}to {visible(song.tuning)}")
        if song.tuning:
            self._tunings[guitar] = song.tuning
        fresh = guitar not in self._capos
        capo = self._capos.get(guitar, 0)
        untouched = fresh and (at_start or changes_guitar)
        if song.capo is not None and song.capo != capo:
            put = f"put the capo on {song.capo}" if song.capo else "take the capo off"
            (ready if untouched else words).append(put)
            seconds += 0 if untouched else player.capo_seconds
        left = 0
        if song.capo is not None:
            self._capos[guitar] = song.capo
            self._told.discard(guitar)
        else:
            self._capos[guitar] = capo
            left = 0 if guitar in self._told else capo
            self._told.add(guitar)
        return Swap(tuple(words), seconds, tuple(ready)), changes_guitar, left
