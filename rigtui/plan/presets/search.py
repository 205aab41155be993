"""Presets by search: all songs played section by section, presets opened as they are needed."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Sequence
from functools import cached_property

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.control import Control
from rigtui.plan.ask.needs import ANY_CHANNEL, KEPT, named
from rigtui.plan.presets.cubes import Columns, Cube, SongCubes, bits_of, narrowed


def _blocks_from(cubes: Sequence[Cube]) -> list[int]:
    """From each section on, how few blocks of sections that share a preset there are."""
    count = [0] * (len(cubes) + 1)
    for first in range(len(cubes) - 1, -1, -1):
        met, end = cubes[first], first + 1
        while end < len(cubes) and met.meets(cubes[end]):
            met = met.met(cubes[end])
            end += 1
        count[first] = 1 + count[end]
    return count


class PresetSearch:
    """Plays all songs section by section, opening presets as they are needed; exact in the end."""

    def __init__(
        self,
        songs: Sequence[SongCubes],
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
            blocks = _blocks_from([cube for cube, _ in merged])
            for place, (cube, _) in enumerate(merged):
                self.rows.append((at, song.times, cube, place == 0))
                self.after.append(song.times * (blocks[place] - 1))
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
        fitting: dict[Cube, list[int]] = {}
        for song in self.songs:
            ways = self._play(song, points, fitting)
            if ways is None:
                return
            cost += ways[0]
            used.append(ways[1])
        if self.best is None or cost < self.best[0]:
            self.best = (cost, points, tuple(used))

    def _settled(self, cube: Cube) -> Cube:
        """A preset as most of the sections that could use it would have it."""
        heard = self._heard
        fits = np.flatnonzero(~heard.clash_with(cube.on, cube.off, cube.channel))
        times = self._times[fits]
        on, off = cube.on, cube.off
        for bit in bits_of(int(np.bitwise_or.reduce(heard.on[fits] | heard.off[fits], initial=0))):
            if not (on | off) >> bit & 1:
                wanted = (heard.on[fits] >> bit & 1) - (heard.off[fits] >> bit & 1)
                if int((wanted * times).sum()) > 0:
                    on |= 1 << bit
                else:
                    off |= 1 << bit
        channel = cube.channel
        if channel == ANY_CHANNEL:
            channels: Counter[int] = Counter()
            for one, often in zip(heard.channel[fits].tolist(), times.tolist()):
                channels[named(one)] += often
            channels.pop(ANY_CHANNEL, None)
            channel = channels.most_common(1)[0][0] if channels else ANY_CHANNEL
        return Cube(on, off, channel)

    @cached_property
    def _heard(self) -> Columns:
        """Every section of every song."""
        return Columns([cube for song in self.songs for cube in song.cubes])

    @cached_property
    def _times(self) -> npt.NDArray[np.int64]:
        """How often each of them is played."""
        return np.array([song.times for song in self.songs for _ in song.cubes], dtype=np.int64)

    def _play(
        self, song: SongCubes, points: Sequence[Cube], fitting: dict[Cube, list[int]]
    ) -> tuple[int, tuple[int, ...]] | None:
        """The fewest recalls of a song on fixed presets."""
        layers: list[dict[int, tuple[int, int]]] = []
        for nth, cube in enumerate(song.cubes):
            fits = fitting.get(cube)
            if fits is None:
                fits = [at for at, point in enumerate(points) if point.within(cube)]
                fitting[cube] = fits
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
        if self.left < 0 or (self.left % 64 == 0 and self.control and self.control.over):
            return False
        _, times, cube, first = self.rows[row]
        price = 0 if first else times
        if not first and presets[now].within(cube):
            return self._take(row, cost, presets, now)  # staying narrows nothing: never worse
        stays = cube.channel >= KEPT  # on its own preset, and no other made like that one
        ways = range(len(presets)) if not stays else [cube.channel // KEPT - 1]
        fits = [at for at in ways if presets[at].meets(cube)]
        fits.sort(key=lambda at: (at != now or first, narrowed(presets[at], cube)))
        for at in fits:
            met = presets[at].met(cube)
            new = presets if met == presets[at] else [*presets[:at], met, *presets[at + 1 :]]
            if not self._take(row, cost + (0 if at == now and not first else price), new, at):
                return False
        if len(presets) < self.most and not stays:
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
