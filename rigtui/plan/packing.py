"""Presets for a given set of loops: the fewest recalls with no more presets than there is room.

A section is a cube: loops that it wants on, loops that it wants off, the rest free. Sections can
share a preset if their cubes meet, and cubes that meet in pairs all meet in one point, so presets
are the colours of a graph of conflicts. Without a limit, staying on a preset as long as the
sections allow needs the fewest recalls.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from rigtui.plan.control import Control
from rigtui.plan.needs import ANY_CHANNEL


class Cube(NamedTuple):
    """Loops wanted on, loops wanted off, and the channel."""

    on: int
    off: int
    channel: int

    def meets(self, other: Cube) -> bool:
        """Whether one preset can be both."""
        return not (self.on & other.off or self.off & other.on) and (
            self.channel == other.channel or ANY_CHANNEL in (self.channel, other.channel)
        )

    def within(self, other: Cube) -> bool:
        """Whether being this preset is enough to be the other."""
        return self.meets(other) and self.met(other) == self

    def met(self, other: Cube) -> Cube:
        """What a preset must be to be both."""
        return Cube(self.on | other.on, self.off | other.off, max(self.channel, other.channel))


class Walk(NamedTuple):
    """The cubes of one song in order, and how often it is played."""

    times: int
    cubes: tuple[Cube, ...]
    cold: bool = False
    """Whether it starts from power-on, so that even its first preset has to be recalled."""


@dataclass(frozen=True, slots=True)
class Packing:
    """Presets, and which of them each section uses."""

    recalls: int
    bound: int
    """No packing for these loops needs fewer recalls."""
    presets: tuple[Cube, ...]
    used: tuple[tuple[int, ...], ...]
    """For each song, the preset of each of its sections."""

    def presses(self, song: int, nth: int) -> int:
        """Presses on the way to a section, outside pedals aside; from power-on for the first."""
        row = self.used[song]
        return int(nth == 0 or row[nth] != row[nth - 1])


@dataclass(frozen=True, slots=True)
class TooMany:
    """Proof that more presets are needed: cubes of which no two can share one."""

    clique: tuple[Cube, ...]


def pack(
    songs: Sequence[Walk],
    kept: Sequence[Cube],
    most: int,
    *,
    nodes: int = 0,
    control: Control | None = None,
) -> Packing | TooMany | None:
    """Choose presets.

    Args:
        songs: The songs of the evening.
        kept: Presets that there must be.
        most: How many presets can be stored.
        nodes: How far to search for the best where the quick ways do not prove it.
        control: Stops the search.

    Returns:
        A packing; proof that there is none; or None where neither was found.
    """
    stays = [_longest(song.cubes) for song in songs]
    bound = sum(song.times * (len(blocks) - 1) for song, blocks in zip(songs, stays) if song.cubes)
    blocks = [cube for song in stays for cube, _ in song]
    every = list(dict.fromkeys([*kept, *(cube for song in songs for cube in song.cubes)]))
    clique = greedy_clique(every, most)
    if len(clique) > most:
        return TooMany(tuple(clique))
    classes = _coloured(kept, blocks, most)
    if classes is not None:
        return _assembled(songs, stays, classes, bound)
    search = _Search(songs, kept, most, nodes, bound, control)
    classes = _coloured(kept, [cube for song in songs for cube in song.cubes], most)
    if classes is not None:
        search.try_presets(classes)
    finished = search.run() if nodes else False
    if search.best is None:
        return TooMany(()) if finished else None
    cost, presets, used = search.best
    return Packing(cost, cost if finished else bound, tuple(presets), used)


def _longest(cubes: Sequence[Cube]) -> list[tuple[Cube, int]]:
    """Blocks of sections that share a preset, each as long as can be: its cube and its length."""
    blocks: list[tuple[Cube, int]] = []
    for cube in cubes:
        if blocks and blocks[-1][0].meets(cube):
            blocks[-1] = (blocks[-1][0].met(cube), blocks[-1][1] + 1)
        else:
            blocks.append((cube, 1))
    return blocks


def fewest_recalls(songs: Iterable[Walk]) -> int:
    """Recalls of the evening where presets are no object."""
    return sum(song.times * (len(_longest(song.cubes)) - 1) for song in songs if song.cubes)


def _coloured(kept: Sequence[Cube], cubes: Iterable[Cube], most: int) -> list[Cube] | None:
    """Gather cubes into at most so many classes that meet: next the one with the fewest ways to go.

    None where that does not work out (another order might).

    Source: D. Brelaz, "New Methods to Color the Vertices of a Graph", CACM 22 (1979).
    """
    counted = Counter(cubes)
    every = _Columns([*kept, *counted])
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


def _narrowed(wide: Cube, cube: Cube) -> int:
    """How many loops a preset loses its freedom in."""
    met = wide.met(cube)
    return (met.on | met.off).bit_count() - (wide.on | wide.off).bit_count()


class _Columns:
    """Cubes as arrays."""

    def __init__(self, cubes: Sequence[Cube]) -> None:
        table = np.array(cubes, dtype=np.int64).reshape(-1, 3)
        self.on, self.off, self.channel = table[:, 0], table[:, 1], table[:, 2]

    def clash_with(self, on: int, off: int, channel: int) -> npt.NDArray[np.bool_]:
        """Which of the cubes do not meet another."""
        apart: npt.NDArray[np.bool_] = ((self.on & off) | (self.off & on)) != 0
        if channel != ANY_CHANNEL:
            apart |= (self.channel != channel) & (self.channel != ANY_CHANNEL)
        return apart

    def clashes(self) -> npt.NDArray[np.bool_]:
        """Which pairs of cubes do not meet."""
        on, off, channel = self.on, self.off, self.channel
        apart: npt.NDArray[np.bool_] = (
            (on[:, None] & off[None, :]) | (off[:, None] & on[None, :])
        ) != 0
        named = channel != ANY_CHANNEL
        apart |= (channel[:, None] != channel[None, :]) & named[:, None] & named[None, :]
        return apart


def greedy_clique(cubes: Sequence[Cube], enough: int = 1 << 30) -> list[Cube]:
    """Cubes of which no two meet: as many as a greedy choice from a few starts finds.

    The search ends with the first that has more than `enough`.
    """
    if not cubes:
        return []
    clash = _Columns(cubes).clashes()
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


def _bits(mask: int) -> Iterable[int]:
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def _assembled(
    songs: Sequence[Walk],
    stays: Sequence[Sequence[tuple[Cube, int]]],
    classes: Sequence[Cube],
    recalls: int,
) -> Packing:
    used = []
    for blocks in stays:
        row: list[int] = []
        for cube, length in blocks:
            row += [_home(classes, cube)] * length
        used.append(tuple(row))
    return Packing(recalls, recalls, tuple(classes), tuple(used))


def _home(classes: Sequence[Cube], cube: Cube) -> int:
    """The class that a cube was gathered into: one that is within it."""
    for at, one in enumerate(classes):
        if one.within(cube):
            return at
    raise AssertionError("every block is in a class")


class _Search:
    """Plays all songs section by section, opening presets as they are needed; exact in the end."""

    def __init__(
        self,
        songs: Sequence[Walk],
        kept: Sequence[Cube],
        most: int,
        nodes: int,
        bound: int,
        control: Control | None,
    ) -> None:
        self.songs, self.kept, self.most, self.left = songs, list(kept), most, nodes
        self.bound, self.control = bound, control
        self.best: tuple[int, list[Cube], tuple[tuple[int, ...], ...]] | None = None
        order = sorted(range(len(songs)), key=lambda at: -songs[at].times * len(songs[at].cubes))
        self.rows: list[tuple[int, int, Cube, bool]] = []
        """Song, times, cube, whether it is the song's first."""
        self.after: list[int] = []
        """Fewest recalls from a row on, the preset at that row free to choose."""
        for at in order:
            song = songs[at]
            merged = [
                (cube, nth) for nth, cube in enumerate(song.cubes)
                if not nth or song.cubes[nth - 1] != cube
            ]  # fmt: skip
            for place, (cube, _) in enumerate(merged):
                rest = [one for one, _ in merged[place:]]
                self.rows.append((at, song.times, cube, place == 0))
                self.after.append(song.times * (len(_longest(rest)) - 1))
        total = 0
        for row in range(len(self.rows) - 1, -1, -1):
            mine = self.after[row]
            self.after[row] += total
            if self.rows[row][3]:
                total += mine
        self.after.append(0)
        self.chosen: list[int] = []

    def try_presets(self, classes: Sequence[Cube]) -> None:
        """Play all songs on given presets, their free loops settled by what most sections want."""
        points = [self._settled(one) for one in classes]
        cost, used = 0, []
        for song in self.songs:
            ways = self._play(song, points)
            if ways is None:
                return
            cost += ways[0]
            used.append(ways[1])
        if self.best is None or cost < self.best[0]:
            self.best = (cost, points, tuple(used))

    def _settled(self, cube: Cube) -> Cube:
        weight: Counter[int] = Counter()
        channels: Counter[int] = Counter()
        for song in self.songs:
            for one in song.cubes:
                if one.meets(cube):
                    for bit in _bits(one.on):
                        weight[bit] += song.times
                    for bit in _bits(one.off):
                        weight[bit] -= song.times
                    channels[one.channel] += song.times
        on, off = cube.on, cube.off
        for bit, sum_ in weight.items():
            if not (on | off) >> bit & 1:
                if sum_ > 0:
                    on |= 1 << bit
                else:
                    off |= 1 << bit
        channel = cube.channel
        if channel == ANY_CHANNEL:
            channels.pop(ANY_CHANNEL, None)
            channel = channels.most_common(1)[0][0] if channels else ANY_CHANNEL
        return Cube(on, off, channel)

    def _play(self, song: Walk, points: Sequence[Cube]) -> tuple[int, tuple[int, ...]] | None:
        """The fewest recalls of a song on fixed presets."""
        layers: list[dict[int, tuple[int, int]]] = []
        for nth, cube in enumerate(song.cubes):
            fits = [at for at, point in enumerate(points) if point.within(cube)]
            if not fits:
                return None
            if not nth:
                layers.append({at: (0, at) for at in fits})
                continue
            last = layers[-1]
            near = min(last, key=lambda at: last[at][0])
            layer = {}
            for at in fits:
                stay = last[at][0] if at in last else 1 << 40
                change = last[near][0] + song.times
                layer[at] = (stay, at) if stay <= change else (change, near)
            layers.append(layer)
        if not layers:
            return 0, ()
        at = min(layers[-1], key=lambda one: layers[-1][one][0])
        cost, row = layers[-1][at][0], []
        for layer in reversed(layers):
            row.append(at)
            at = layer[at][1]
        return cost, tuple(reversed(row))

    def run(self) -> bool:
        """Search on; return whether it came to its end."""
        old = sys.getrecursionlimit()
        sys.setrecursionlimit(max(old, len(self.rows) * 2 + 1000))
        try:
            return self._go(0, 0, self.kept, -1)
        finally:
            sys.setrecursionlimit(old)

    def _go(self, row: int, cost: int, presets: list[Cube], now: int) -> bool:
        if self.best is not None and cost + self.after[row] >= self.best[0]:
            return True
        if row == len(self.rows):
            self.best = (cost, presets, self._used(presets))
            return True
        self.left -= 1
        if self.left < 0 or (self.left % 256 == 0 and self.control and self.control.over):
            return False
        _, times, cube, first = self.rows[row]
        price = 0 if first else times
        if not first and presets[now].within(cube):
            return self._take(row, cost, presets, now)  # staying narrows nothing: never worse
        fits = [at for at, one in enumerate(presets) if one.meets(cube)]
        fits.sort(key=lambda at: (at != now or first, _narrowed(presets[at], cube)))
        for at in fits:
            met = presets[at].met(cube)
            new = presets if met == presets[at] else [*presets[:at], met, *presets[at + 1 :]]
            if not self._take(row, cost + (0 if at == now and not first else price), new, at):
                return False
        if len(presets) < self.most:
            return self._take(row, cost + price, [*presets, cube], len(presets))
        return True

    def _take(self, row: int, cost: int, presets: list[Cube], at: int) -> bool:
        self.chosen.append(at)
        done = self._go(row + 1, cost, presets, at)
        self.chosen.pop()
        return done

    def _used(self, presets: Sequence[Cube]) -> tuple[tuple[int, ...], ...]:
        """The preset of every section, those left out as repeats included."""
        per_song: dict[int, list[int]] = {}
        for (song, _, _, _), at in zip(self.rows, self.chosen):
            per_song.setdefault(song, []).append(at)
        used = []
        for place, walk in enumerate(self.songs):
            row, nth = [], -1
            for at, cube in enumerate(walk.cubes):
                nth += not at or walk.cubes[at - 1] != cube
                row.append(per_song[place][nth])
            used.append(tuple(row))
        return tuple(used)
