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
    classes = _coloured(kept, blocks)
    if len(classes) <= most:
        return _assembled(songs, stays, classes, bound)
    every = list(dict.fromkeys([*kept, *(cube for song in songs for cube in song.cubes)]))
    clique = greedy_clique(every)
    if len(clique) > most:
        return TooMany(tuple(clique))
    search = _Search(songs, kept, most, nodes, bound, control)
    classes = _coloured(kept, [cube for song in songs for cube in song.cubes])
    if len(classes) <= most:
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


def _coloured(kept: Sequence[Cube], cubes: Iterable[Cube]) -> list[Cube]:
    """Gather cubes into classes that meet: next always the one with the fewest ways to go.

    Source: D. Brelaz, "New Methods to Color the Vertices of a Graph", CACM 22 (1979).
    """
    classes = list(kept)
    counted = Counter(cubes)
    left = list(counted)
    degree = {one: sum(not one.meets(other) for other in left) for one in left}
    barred = {one: {at for at, c in enumerate(classes) if not one.meets(c)} for one in left}
    while left:
        cube = max(left, key=lambda one: (len(barred[one]), degree[one], counted[one]))
        left.remove(cube)
        ways = [at for at in range(len(classes)) if at not in barred[cube]]
        if ways:
            at = min(ways, key=lambda w: _narrowed(classes[w], cube))
            classes[at] = classes[at].met(cube)
        else:
            at = len(classes)
            classes.append(cube)
        for one in left:
            if not one.meets(classes[at]):
                barred[one].add(at)
    return classes


def _narrowed(wide: Cube, cube: Cube) -> int:
    """How many loops a preset loses its freedom in."""
    met = wide.met(cube)
    return (met.on | met.off).bit_count() - (wide.on | wide.off).bit_count()


def greedy_clique(cubes: Sequence[Cube]) -> list[Cube]:
    """Cubes of which no two meet: as many as a greedy choice from a few starts finds."""
    if not cubes:
        return []
    clash = [sum(1 << b for b, other in enumerate(cubes) if not one.meets(other)) for one in cubes]
    best: list[int] = []
    starts = sorted(range(len(cubes)), key=lambda at: -clash[at].bit_count())[:24]
    for start in starts:
        clique, open_ = [start], clash[start]
        while open_:
            at = max(_bits(open_), key=lambda one: (clash[one] & open_).bit_count())
            clique.append(at)
            open_ &= clash[at]
        if len(clique) > len(best):
            best = clique
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
