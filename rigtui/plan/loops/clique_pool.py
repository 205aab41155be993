"""Sounds that have clashed pairwise before, to rule out many sets of pedals at once.

Two sounds that differ in a pedal that is in a loop need two presets, whoever shares that loop. A
set of pedals falls if more sounds than there are memories clash in every pair. Sounds that made
such cliques tend to make the next one, so they are kept in pools of 64: each set of pedals then
is a graph of 64 words of 64 bits, and a greedy clique in it takes a few microseconds.

What it is worth, measured on evenings of 20 pedals, 8 loops and 540 sections: with a fifth of the
pedals left free the search is done in about a second with 8 or 16 memories (1877 and 1597 moves,
every set settled); without the pools it was stopped after a minute at 1960 and 1768, with 2,538 of
119,849 and 5,952 of 26,696 sets looked at. With no pedal left free they make no difference.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.needs import Needs, Sound
from rigtui.plan.memories.banks import Ints
from rigtui.plan.presets.cubes import channels_part

_SIZE = 64
_MOST_POOLS = 6
_CHUNK = 128


class CliquePool:
    """Pools of sounds; they grow with every clique that is learnt."""

    def __init__(self, needs: Needs, memories: int) -> None:
        self.memories = memories
        self.switched = needs.ever_on & needs.ever_off
        self._members: list[dict[tuple[int, int, int], None]] = []
        self._tables: list[Ints] = []
        self.version = 0

    def learn(self, sounds: Sequence[Sound]) -> None:
        """Put the sounds of a clique in a pool: the last, or a new one where that is full."""
        if len(sounds) <= self.memories or self.memories >= _SIZE:
            return
        keys = {(sound.loops_on, sound.loops_off, sound.channel): None for sound in sounds[:_SIZE]}
        if not self._members or len(self._members[-1] | keys) > _SIZE:
            if len(self._members) >= _MOST_POOLS:
                return
            self._members.append({})
            self._tables.append(np.zeros((0, 0), dtype=np.int64))
        pool = self._members[-1]
        if all(key in pool for key in keys):
            return
        pool |= keys
        self._tables[-1] = self._table(list(pool))
        self.version += 1

    def _table(self, sounds: list[tuple[int, int, int]]) -> Ints:
        """For each pair of sounds, the pedals that they clash in; all pedals for the channel."""
        on = np.array([loops_on for loops_on, _, _ in sounds], dtype=np.int64)
        off = np.array([loops_off for _, loops_off, _ in sounds], dtype=np.int64)
        channel = np.array([channel_ for _, _, channel_ in sounds], dtype=np.int64)
        table = np.zeros((len(sounds), _SIZE), dtype=np.int64)
        clash = (on[:, None] & off[None, :]) | (off[:, None] & on[None, :])
        apart = channels_part(channel[:, None], channel[None, :])
        # Bit 62 stands for the channel: every set is taken to hold it.
        table[:, : len(sounds)] = clash | np.where(apart, np.int64(1) << 62, 0)
        return table

    def rules_out(self, sets: Ints, wanted: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
        """Which sets need more presets than can be stored, as far as the pools can tell."""
        fallen = np.zeros(len(sets), dtype=bool)
        for table in self._tables:
            left = np.flatnonzero(wanted & ~fallen)
            for at in range(0, len(left), _CHUNK):
                some = left[at : at + _CHUNK]
                fallen[some] = self._cliques(table, sets[some]) > self.memories
        return fallen

    def _cliques(self, table: Ints, sets: Ints) -> Ints:
        """The size of a greedy clique for each set (no larger than is needed to fall)."""
        held = sets | (np.int64(1) << 62)
        apart = (table[None, :, :] & held[:, None, None]) != 0
        rows = np.packbits(apart, axis=2, bitorder="little").view("<u8")[:, :, 0]
        n = rows.shape[1]
        bits = np.uint64(1) << np.arange(n, dtype=np.uint64)
        open_ = np.full(len(sets), (1 << n) - 1 if n < 64 else 0xFFFFFFFFFFFFFFFF, dtype=np.uint64)
        size = np.zeros(len(sets), dtype=np.int64)
        every = np.arange(len(sets))
        for _ in range(self.memories + 1):
            alive = open_ != 0
            if not alive.any():
                break
            degree = np.bitwise_count(rows & open_[:, None]).astype(np.int16)
            degree[(open_[:, None] & bits[None, :]) == 0] = -1
            pick = degree.argmax(axis=1)
            size += alive
            open_ &= rows[every, pick]
        return size
