"""Presets by search: all songs played section by section, presets opened as they are needed."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Sequence
from functools import cached_property
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.channels import ANY_CHANNEL, KEPT, named
from rigtui.plan.ask.control import Control
from rigtui.plan.presets.cubes import (
    Columns,
    Cube,
    SongCubes,
    bits_of,
    lightest_from,
    narrowed,
)

Rows = tuple[tuple[int, ...], ...]
"""For each song, the preset of each of its sections."""


class _Stretch(NamedTuple):
    """A section, or several alike in a row, of a song."""

    song: int
    price: int
    """What a recall on the way to it weighs, over the evening."""
    cube: Cube
    first: bool
    """Whether the song begins with it."""
    steady: bool
    """Whether a recall that can wait had better wait: none later in the song weighs more."""
    sections: int
    """How many sections it stands for."""


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
        self.best: tuple[int, list[Cube], Rows] | None = None
        self.cut = 1 << 60
        """What is looked for weighs less than this."""
        self._offer: Callable[[int, Sequence[Cube], Rows], int] | None = None
        order = sorted(range(len(songs)), key=lambda at: -songs[at].times * len(songs[at].cubes))
        self.rows: list[_Stretch] = []
        self.after: list[int] = []
        """What recalls after a row weigh at least, the preset at that row free to choose."""
        for at in order:
            song = songs[at]
            rows: list[_Stretch] = []
            dearest = 0
            for nth in range(len(song.cubes) - 1, -1, -1):
                cube, price = song.cubes[nth], song.times * song.prices[nth]
                steady = price >= dearest
                if rows and rows[-1].cube == cube and rows[-1].steady:
                    rows[-1] = rows[-1]._replace(
                        price=price, steady=steady, sections=rows[-1].sections + 1
                    )
                else:
                    rows.append(_Stretch(at, price, cube, False, steady, 1))
                dearest = max(dearest, price)
            rows.reverse()
            if rows:
                rows[0] = rows[0]._replace(first=True)
            self.rows += rows
            self.after += lightest_from([r.cube for r in rows], [r.price for r in rows])[0][:-1]
        cubes = {cube for song in songs for cube in song.cubes}
        self._loops = 0
        """Loops that any section wants on or off."""
        for cube in cubes:
            self._loops |= cube.on | cube.off
        self._named = any(cube.channel != ANY_CHANNEL for cube in cubes)
        total = 0
        for row in range(len(self.rows) - 1, -1, -1):
            mine = self.after[row]
            self.after[row] += total
            if self.rows[row].first:
                total += mine
        self.after.append(0)
        self.chosen: list[int] = []

    def try_presets(self, classes: Sequence[Cube]) -> None:
        """Play all songs on given presets, their free loops settled by what most sections want."""
        points = [self._settled(gathered) for gathered in classes]
        cost, used = 0, []
        fitting: dict[Cube, list[int]] = {}
        for song in self.songs:
            ways = self._play(song, points, fitting)
            if ways is None:
                return
            cost += ways[0]
            used.append(ways[1])
        if cost < self.cut:
            self.best, self.cut = (cost, points, tuple(used)), cost

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
            for heard_on, often in zip(heard.channel[fits].tolist(), times.tolist()):
                channels[named(heard_on)] += often
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
                stay = last[at][0] if at in last else 1 << 60
                change = last[near][0] + song.times * song.prices[nth]
                layer[at] = (stay, at) if stay <= change else (change, near)
            layers.append(layer)
        if not layers:
            return 0, ()
        at = min(layers[-1], key=lambda state: layers[-1][state][0])
        cost, row = layers[-1][at][0], []
        for layer in reversed(layers):
            row.append(at)
            at = layer[at][1]
        return cost, tuple(reversed(row))

    def every(self, limit: int, offer: Callable[[int, Sequence[Cube], Rows], int]) -> bool:
        """Go through all ways to play the songs whose recalls weigh at most so much.

        Ways that are worse than another in every respect, bank steps included, are left out: a
        song stays on its preset where that will do, and nothing later weighs more.

        Args:
            limit: What recalls may weigh.
            offer: Called with what a way weighs, its presets, and the preset of each section; it
                returns the new limit.

        Returns:
            Whether the search came to its end.
        """
        self.best, self._offer, self.cut = None, offer, limit + 1
        return self.run()

    def run(self) -> bool:
        """Search on; return whether it came to its end."""
        old = sys.getrecursionlimit()
        sys.setrecursionlimit(max(old, len(self.rows) * 2 + 1000))
        try:
            return self._go(0, 0, self.kept, -1)
        finally:
            sys.setrecursionlimit(old)

    def _go(self, row: int, cost: int, presets: list[Cube], now: int) -> bool:
        if cost + self.after[row] >= self.cut:
            return True
        if row == len(self.rows):
            if self._offer is not None and self._twins(presets):
                return True
            used = self._used(presets)
            if self._offer is not None:
                self.cut = self._offer(cost, presets, used) + 1
            else:
                self.best, self.cut = (cost, presets, used), cost
            return True
        self.left -= 1
        if self.left < 0 or (self.left % 64 == 0 and self.control and self.control.over):
            return False
        _, price, cube, first, steady, _ = self.rows[row]
        price = 0 if first else price
        if not first and steady and presets[now].within(cube):
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
        twin = self._full(cube) and cube in presets  # the same again would be a copy
        if len(presets) < self.most and not stays and not twin:
            return self._take(row, cost + price, [*presets, cube], len(presets))
        return True

    def _full(self, cube: Cube) -> bool:
        """Whether a cube leaves nothing open, so that any other like it is the same preset."""
        named = cube.channel != ANY_CHANNEL or not self._named
        return named and cube.on | cube.off == self._loops

    def _twins(self, presets: Sequence[Cube]) -> bool:
        full = [cube for cube in presets if self._full(cube)]
        return len(set(full)) < len(full)

    def _take(self, row: int, cost: int, presets: list[Cube], at: int) -> bool:
        self.chosen.append(at)
        done = self._go(row + 1, cost, presets, at)
        self.chosen.pop()
        return done

    def _used(self, presets: Sequence[Cube]) -> tuple[tuple[int, ...], ...]:
        """The preset of every section, those left out as repeats included."""
        used: list[list[int]] = [[] for _ in self.songs]
        for row, at in zip(self.rows, self.chosen):
            used[row.song] += [at] * row.sections
        return tuple(map(tuple, used))
