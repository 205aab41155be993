"""Sections as cubes over loops: what a preset must be, what two of them could share.

Cubes that meet in pairs all meet in one point, so presets are the colours of a graph of clashes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.channels import ANY_CHANNEL, KEPT

MOST_CLASHING = 3000
"""Cubes up to which a table of all pairs is made: 45 MB where it is largest."""
_CELLS = 1 << 21
"""Pairs that are looked at together."""
_OFTEN = 64
"""Cubes gathered between two looks at the clock."""


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


Blocks = list[tuple[Cube, int]]
"""Runs of sections that share a preset: what it must be, and how many they are."""


class SongCubes(NamedTuple):
    """The cubes of one song in order, how often it is played, and what its presses weigh."""

    times: int
    cubes: tuple[Cube, ...]
    cold: bool = False
    """Whether it starts from power-on, so that even its first preset has to be recalled."""
    prices: tuple[int, ...] = ()
    """What the first press on the way to each section weighs: more where another comes with it."""
    more: int = 1
    """What each further press of a change weighs."""

    @property
    def even(self) -> bool:
        """Whether a recall weighs the same wherever it comes."""
        return len(set(self.prices[1:])) <= 1

    def price(self, nth: int, presses: int = 1) -> int:
        """What presses on the way to a section weigh, the song played once."""
        return self.prices[nth] + (presses - 1) * self.more if presses else 0

    def blocks(self) -> Blocks:
        """Blocks of sections that share a preset, with recalls between them that weigh least.

        Of equals each is as long as can be, from the first on.
        """
        return longest(self.cubes) if self.even else _lightest(self.cubes, self.prices)

    def weight(self, blocks: Blocks) -> int:
        """What the recalls between blocks weigh, over the evening."""
        total = at = 0
        for _, length in blocks[:-1]:
            at += length
            total += self.prices[at]
        return self.times * total


def longest(cubes: Sequence[Cube]) -> Blocks:
    """Stretches that one preset can play, each as long as can be, from the first on."""
    blocks: Blocks = []
    for cube in cubes:
        if blocks and blocks[-1][0].meets(cube):
            blocks[-1] = (blocks[-1][0].met(cube), blocks[-1][1] + 1)
        else:
            blocks.append((cube, 1))
    return blocks


def lightest_from(cubes: Sequence[Cube], prices: Sequence[int]) -> tuple[list[int], list[int]]:
    """For each section the least that recalls after it weigh, and where its block then ends.

    The section's own preset is free to choose.
    """
    count = len(cubes)
    least, ends = [0] * (count + 1), [count] * (count + 1)
    for first in range(count - 1, -1, -1):
        met, end, best = cubes[first], first + 1, -1
        while True:
            weight = least[end] + prices[end] if end < count else 0
            if best < 0 or weight <= best:
                best, ends[first] = weight, end
            if end == count or not met.meets(cubes[end]):
                break
            met = met.met(cubes[end])
            end += 1
        least[first] = best
    return least, ends


def _lightest(cubes: Sequence[Cube], prices: Sequence[int]) -> Blocks:
    ends = lightest_from(cubes, prices)[1]
    blocks: Blocks = []
    first = 0
    while first < len(cubes):
        met = cubes[first]
        for cube in cubes[first + 1 : ends[first]]:
            met = met.met(cube)
        blocks.append((met, ends[first] - first))
        first = ends[first]
    return blocks


def least_recalls(songs: Iterable[SongCubes]) -> int:
    """What the recalls of the evening weigh where presets are no object."""
    return sum(song.weight(song.blocks()) for song in songs)


def coloured(
    kept: Sequence[Cube],
    cubes: Iterable[Cube],
    most: int,
    check: Callable[[], None] = lambda: None,
) -> list[Cube] | None:
    """Gather cubes into at most so many classes that meet: next the one with the fewest ways to go.

    None where that does not work out (another order might). `check` is called often; it may raise.

    Source: D. Brelaz, "New Methods to Color the Vertices of a Graph", CACM 22 (1979).
    """
    counted = Counter(cube for cube in cubes if cube not in kept)
    every = Columns([*kept, *counted])
    n, first = len(every.on), len(kept)
    if len(kept) > most:
        return None
    times = np.array([0] * first + list(counted.values()))
    rank = every.degrees(check) + times / (1 << 20)
    barred = np.zeros((n, most), dtype=bool)
    on, off = np.zeros(most, dtype=np.int64), np.zeros(most, dtype=np.int64)
    channel = np.full(most, ANY_CHANNEL, dtype=np.int64)
    used = 0
    for step in range(n):
        if step % _OFTEN == 0:
            check()
        at = step if step < first else int(rank.argmax())
        rank[at] = -np.inf
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
        bars = every.clash_with(int(on[to]), int(off[to]), int(channel[to]))
        rank += (bars & ~barred[:, to]) * np.float64(1 << 16)  # a class bars ever more
        barred[:, to] = bars
    return [Cube(*bits) for bits in zip(on.tolist(), off.tolist(), channel.tolist())][:used]


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

    def _clash_rows(self) -> Iterator[tuple[slice, npt.NDArray[np.bool_]]]:
        """Which pairs of cubes do not meet, some rows at a time."""
        on, off, channel = self.on, self.off, self.channel
        height = max(1, _CELLS // max(1, len(on)))
        for top in range(0, len(on), height):
            some = slice(top, top + height)
            apart: npt.NDArray[np.bool_] = (
                (on[some, None] & off[None, :]) | (off[some, None] & on[None, :])
            ) != 0
            apart |= channels_part(channel[some, None], channel[None, :])
            yield some, apart

    def clashes(self) -> npt.NDArray[np.bool_]:
        """Which pairs of cubes do not meet: a byte for each pair, so for a few thousand at most."""
        apart = np.empty((len(self.on), len(self.on)), dtype=bool)
        for some, rows in self._clash_rows():
            apart[some] = rows
        return apart

    def degrees(self, check: Callable[[], None]) -> npt.NDArray[np.int64]:
        """For each cube, how many others it does not meet."""
        degrees = np.zeros(len(self.on), dtype=np.int64)
        for some, rows in self._clash_rows():
            check()
            degrees[some] = rows.sum(axis=1)
        return degrees


def greedy_clique(
    cubes: Sequence[Cube], enough: int = 1 << 30, check: Callable[[], None] = lambda: None
) -> list[Cube]:
    """Cubes of which no two meet: as many as a greedy choice from a few starts finds.

    The search ends with the first that has more than `enough`. Of very many cubes it looks at
    those that leave least free. `check` is called often; it may raise.
    """
    if not cubes:
        return []
    if len(cubes) > MOST_CLASHING:
        settled = sorted(cubes, key=lambda cube: -(cube.on | cube.off).bit_count())
        cubes = settled[:MOST_CLASHING]
    clash = Columns(cubes).clashes()
    dense = clash.astype(np.float32)
    best: list[int] = []
    for start in np.argsort(-dense.sum(axis=1), kind="stable")[:6].tolist():
        clique = [start]
        row = np.flatnonzero(clash[start])
        near = dense[row].sum(axis=0)  # how many of those that are left each does not meet
        while len(row):
            check()
            at = int(row[int(near[row].argmax())])
            clique.append(at)
            stays = clash[at, row]
            near -= dense[row[~stays]].sum(axis=0)
            row = row[stays]
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
