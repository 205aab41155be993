"""Sections as cubes over loops: what a preset must be, what two of them could share.

Cubes that meet in pairs all meet in one point, so presets are the colours of a graph of clashes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.needs import ANY_CHANNEL, KEPT


def channels_part(first: Any, second: Any) -> Any:
    """Whether no preset can have both channels: numbers, or arrays of them.

    A section that stays on a kept preset shares it with those that want the preset's channel, and
    with none that stays on another.
    """
    named = (first != ANY_CHANNEL) & (second != ANY_CHANNEL)
    both_kept = (first >= KEPT) & (second >= KEPT)
    return named & ((first % KEPT != second % KEPT) | (both_kept & (first != second)))


class Cube(NamedTuple):
    """Loops wanted on, loops wanted off, and the channel."""

    on: int
    off: int
    channel: int

    def meets(self, other: Cube) -> bool:
        """Whether one preset can be both."""
        return not (
            self.on & other.off or self.off & other.on or channels_part(self.channel, other.channel)
        )

    def within(self, other: Cube) -> bool:
        """Whether being this preset is enough to be the other."""
        return self.meets(other) and self.met(other) == self

    def met(self, other: Cube) -> Cube:
        """What a preset must be to be both."""
        return Cube(self.on | other.on, self.off | other.off, max(self.channel, other.channel))


class SongCubes(NamedTuple):
    """The cubes of one song in order, and how often it is played."""

    times: int
    cubes: tuple[Cube, ...]
    cold: bool = False
    """Whether it starts from power-on, so that even its first preset has to be recalled."""


def longest(cubes: Sequence[Cube]) -> list[tuple[Cube, int]]:
    """Blocks of sections that share a preset, each as long as can be: its cube and its length."""
    blocks: list[tuple[Cube, int]] = []
    for cube in cubes:
        if blocks and blocks[-1][0].meets(cube):
            blocks[-1] = (blocks[-1][0].met(cube), blocks[-1][1] + 1)
        else:
            blocks.append((cube, 1))
    return blocks


def fewest_recalls(songs: Iterable[SongCubes]) -> int:
    """Recalls of the evening where presets are no object."""
    return sum(song.times * (len(longest(song.cubes)) - 1) for song in songs if song.cubes)


def coloured(kept: Sequence[Cube], cubes: Iterable[Cube], most: int) -> list[Cube] | None:
    """Gather cubes into at most so many classes that meet: next the one with the fewest ways to go.

    None where that does not work out (another order might).

    Source: D. Brelaz, "New Methods to Color the Vertices of a Graph", CACM 22 (1979).
    """
    counted = Counter(cube for cube in cubes if cube not in kept)
    every = Columns([*kept, *counted])
    clash = every.clashes()
    n, first = len(every.on), len(kept)
    if len(kept) > most:
        return None
    weight = clash.sum(axis=1) + np.array([0] * first + list(counted.values())) / (1 << 20)
    barred = np.zeros((n, most), dtype=bool)
    on, off = np.zeros(most, dtype=np.int64), np.zeros(most, dtype=np.int64)
    channel = np.full(most, ANY_CHANNEL, dtype=np.int64)
    left = np.ones(n, dtype=bool)
    used = 0
    for step in range(n):
        if step < first:
            at = step
        else:
            rank = barred[:, :used].sum(axis=1) * np.float64(1 << 12) + weight
            at = int(np.where(left, rank, -1.0).argmax())
        left[at] = False
        ways = np.flatnonzero(~barred[at, :used]) if step >= first else ()
        if len(ways):
            held = on[ways] | off[ways]
            more = np.bitwise_count(held | every.on[at] | every.off[at]) - np.bitwise_count(held)
            to = int(ways[int(more.argmin())])
        elif used == most:
            return None
        else:
            to, used = used, used + 1
        on[to] |= every.on[at]
        off[to] |= every.off[at]
        channel[to] = max(channel[to], every.channel[at])
        barred[:, to] = every.clash_with(int(on[to]), int(off[to]), int(channel[to]))
    return [Cube(*one) for one in zip(on.tolist(), off.tolist(), channel.tolist())][:used]


def narrowed(wide: Cube, cube: Cube) -> int:
    """How many loops a preset loses its freedom in."""
    met = wide.met(cube)
    return (met.on | met.off).bit_count() - (wide.on | wide.off).bit_count()


class Columns:
    """Cubes as arrays."""

    def __init__(self, cubes: Sequence[Cube]) -> None:
        table = np.array(cubes, dtype=np.int64).reshape(-1, 3)
        self.on, self.off, self.channel = table[:, 0], table[:, 1], table[:, 2]

    def clash_with(self, on: int, off: int, channel: int) -> npt.NDArray[np.bool_]:
        """Which of the cubes do not meet another."""
        apart: npt.NDArray[np.bool_] = ((self.on & off) | (self.off & on)) != 0
        apart |= channels_part(self.channel, channel)
        return apart

    def clashes(self) -> npt.NDArray[np.bool_]:
        """Which pairs of cubes do not meet."""
        on, off, channel = self.on, self.off, self.channel
        apart: npt.NDArray[np.bool_] = (
            (on[:, None] & off[None, :]) | (off[:, None] & on[None, :])
        ) != 0
        apart |= channels_part(channel[:, None], channel[None, :])
        return apart


def greedy_clique(cubes: Sequence[Cube], enough: int = 1 << 30) -> list[Cube]:
    """Cubes of which no two meet: as many as a greedy choice from a few starts finds.

    The search ends with the first that has more than `enough`.
    """
    if not cubes:
        return []
    clash = Columns(cubes).clashes()
    dense = clash.astype(np.float32)
    best: list[int] = []
    for start in np.argsort(-dense.sum(axis=1), kind="stable")[:6].tolist():
        clique, open_ = [start], dense[start].copy()
        row = np.flatnonzero(clash[start])
        while len(row):
            near = dense[np.ix_(row, row)].sum(axis=1) if len(row) < 64 else dense[row] @ open_
            at = int(row[int(near.argmax())])
            clique.append(at)
            row = row[clash[at, row]]
            open_[:] = 0
            open_[row] = 1
        if len(clique) > len(best):
            best = clique
        if len(best) > enough:
            break
    return [cubes[at] for at in best]


def bits_of(mask: int) -> Iterable[int]:
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low
