"""Presets where single loops can be toggled on top: a section may be a preset plus a press or two.

Then any number of presets will do; too few cost extra presses instead of being impossible.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.control import Control
from rigtui.plan.ask.needs import ANY_CHANNEL, KEPT, named
from rigtui.plan.presets.cubes import Cube, SongCubes, least_recalls, longest
from rigtui.plan.presets.packing import Packing, TooMany

_FAR = 1 << 20
_INSIDE = 1 << 16
"""What a move inside a song weighs where toggles between songs decide among equals."""
_MOST_COMBINATIONS = 1200

Costs = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Toggled:
    """Presets, and the loops that each section toggles on top of its own."""

    recalls: int
    """What recalls and toggles weigh together."""
    bound: int
    presets: tuple[Cube, ...]
    used: tuple[tuple[int, ...], ...]
    masks: tuple[tuple[int, ...], ...]
    """Loops on in each section of each song."""
    calm: Toggled | None = None
    """As few moves on the same presets, with fewer toggles that set the songs up."""

    def presses(self, song: int, nth: int) -> int:
        """Presses on the way to a section, outside pedals aside; from power-on for the first."""
        row, masks = self.used[song], self.masks[song]
        again = 1 + (self.presets[row[nth]].on ^ masks[nth]).bit_count()
        if nth and row[nth] == row[nth - 1]:
            return min((masks[nth] ^ masks[nth - 1]).bit_count(), again)
        return again


def with_toggles(
    songs: Sequence[SongCubes],
    kept: Sequence[Cube],
    most: int,
    loops: int,
    control: Control | None = None,
) -> Packing | Toggled | TooMany | None:
    """Choose presets where loops can be toggled.

    Source of the price of a change: the rig file's rules of counting, "moves as written".
    """
    if len(kept) > most:
        return TooMany(tuple(kept))
    bound = least_recalls(songs)
    paths = [_concrete(song.cubes) for song in songs]
    heard = (point for path in paths for point in path if point.channel < KEPT)
    points = list(dict.fromkeys([*kept, *heard]))
    control = control or Control()
    table = _PresetPrices(songs, paths, points, kept, control)
    if len(points) <= most:
        return table.best(np.ones((1, len(points)), dtype=bool), bound, proved=False)
    settled = all(_settled(cube, loops) for song in songs for cube in song.cubes)
    if settled and loops <= 4:
        exact = _exactly(songs, paths, points, kept, most, loops, control)
        if exact is not None:
            return exact
    chosen = np.ones(len(points), dtype=bool)
    while chosen.sum() > most:
        control.stop_if_over()
        out = [at for at in np.flatnonzero(chosen) if points[at] not in kept]
        trials = np.repeat(chosen[None, :], len(out), axis=0)
        trials[np.arange(len(out)), out] = False
        costs = table.costs(trials)
        chosen = trials[int(costs.argmin())]
    if table.costs(chosen[None, :])[0] >= _FAR:
        return None
    return table.best(chosen[None, :], bound, proved=False)


def _settled(cube: Cube, loops: int) -> bool:
    return (cube.on | cube.off) == (1 << loops) - 1


def _exactly(
    songs: Sequence[SongCubes],
    paths: Sequence[Sequence[Cube]],
    points: Sequence[Cube],
    kept: Sequence[Cube],
    most: int,
    loops: int,
    control: Control,
) -> Toggled | None:
    """Try every choice of presets there is, where that is quick."""
    everything = (1 << loops) - 1
    channels = {named(point.channel) for point in points}
    every = list(
        dict.fromkeys(
            [
                *kept,
                *(
                    Cube(mask, everything ^ mask, channel)
                    for channel in sorted(channels)
                    for mask in range(everything + 1)
                ),
            ]
        )
    )
    free = [at for at, one in enumerate(every) if one not in kept]
    room = min(most - len(kept), len(free))
    if math.comb(len(free), room) > _MOST_COMBINATIONS:
        return None
    table = _PresetPrices(songs, paths, every, kept, control)
    trials = np.zeros((math.comb(len(free), room), len(every)), dtype=bool)
    trials[:, [at for at, one in enumerate(every) if one in kept]] = True
    for row, extra in enumerate(itertools.combinations(free, room)):
        trials[row, list(extra)] = True
    return table.best(trials, 0, proved=True)


def _concrete(cubes: Sequence[Cube]) -> list[Cube]:
    """Settle what is free: blocks as long as can be, loops left as they were."""
    path: list[Cube] = []
    before = Cube(0, 0, ANY_CHANNEL)
    for cube, length in longest(cubes):
        on = cube.on | (before.on & ~cube.off)
        before = Cube(on, before.off | before.on | cube.off | cube.on, cube.channel)
        before = Cube(on, before.off & ~on, cube.channel)
        path += [before] * length
    return path


class _PresetPrices:
    """Prices every choice of presets over all songs at once."""

    def __init__(
        self,
        songs: Sequence[SongCubes],
        paths: Sequence[Sequence[Cube]],
        points: Sequence[Cube],
        kept: Sequence[Cube],
        control: Control,
    ) -> None:
        self.songs, self.paths, self.points = songs, paths, list(points)
        self.control = control
        self._on = np.array([point.on for point in points], dtype=np.int64)
        self._channel = np.array([point.channel for point in points], dtype=np.int64)
        self._named = np.array([named(point.channel) for point in points], dtype=np.int64)
        self.kept = {self.points.index(one) for one in kept}
        self.far: dict[Cube, Costs] = {}
        for path in paths:
            for cube in path:
                if cube not in self.far:
                    control.stop_if_over()
                    self.far[cube] = self._distances(cube)

    def _distances(self, cube: Cube) -> Costs:
        """Loops to toggle from each preset; too many where it names another channel."""
        toggles: Costs = np.bitwise_count(self._on ^ cube.on).astype(np.int64)
        if cube.channel >= KEPT:  # on that preset and no other
            toggles[self._channel != cube.channel] = _FAR
        elif cube.channel != ANY_CHANNEL:
            toggles[self._named != cube.channel] = _FAR
        return toggles

    def costs(self, trials: npt.NDArray[np.bool_]) -> Costs:
        """Moves of the evening for each choice of presets (rows of `trials`)."""
        total = np.zeros(len(trials), dtype=np.int64)
        barred = np.where(trials, 0, _FAR)
        for song, path in zip(self.songs, self.paths):
            if path:
                self.control.stop_if_over()
                total += song.times * self._layers(song, path, barred)[-1].min(axis=1)
        return total

    def _layers(
        self, song: SongCubes, path: Sequence[Cube], barred: Costs, inside: int = 1
    ) -> list[Costs]:
        """What the way to each section costs, preset by preset.

        What a move inside the song weighs is taken `inside` times. Where that is more than 1,
        each toggle that sets the song up costs 1; else none.
        """
        first = self.far[path[0]]
        if not song.cold:  # already set up on the first section, toggles and all
            first = np.where(first >= _FAR, _FAR, first if inside > 1 else 0)
        else:
            first = first * song.more * inside
        layers = [barred + first]
        for nth in range(1, len(path)):
            stay, again = self._ways(song, path, nth)
            last = layers[-1]
            change = last.min(axis=1)[:, None] + (again * inside)[None, :]
            layers.append(np.minimum(last + (stay * inside)[None, :], change) + barred)
        return layers

    def _ways(self, song: SongCubes, path: Sequence[Cube], nth: int) -> tuple[Costs, Costs]:
        """What it weighs to reach a section from the same preset, and by a recall, of each."""
        again = 1 + self.far[path[nth]]
        toggles = (path[nth - 1].on ^ path[nth].on).bit_count()
        price, more = song.prices[nth], song.more
        recall = price + more * (again - 1)
        stay = np.where(toggles <= again, song.price(nth, toggles), recall)
        far = again > _FAR
        return np.where(far, _FAR, stay), np.where(far, _FAR, recall)

    def best(self, trials: npt.NDArray[np.bool_], bound: int, *, proved: bool) -> Toggled | None:
        """The cheapest choice, with the preset of every section.

        Another way to play the songs on the same presets goes with it, which spares toggles that
        set songs up.
        """
        costs = self.costs(trials)
        at = int(costs.argmin())
        cost = int(costs[at])
        if cost >= _FAR:
            return None
        bound = cost if proved else bound
        plain = self._played(trials[at], cost, bound)
        kept = np.zeros(len(self.points), dtype=bool)
        kept[[self.points.index(one) for one in plain.presets]] = True
        calm = self._played(kept, cost, bound, _INSIDE)
        return plain if calm.used == plain.used else replace(plain, calm=calm)

    def _played(
        self, chosen: npt.NDArray[np.bool_], cost: int, bound: int, inside: int = 1
    ) -> Toggled:
        """The songs played on chosen presets; those that they can do without are left out."""
        barred = np.where(chosen, 0, _FAR * inside)[None, :]
        used = [
            tuple(self._back(song, path, barred, inside))
            for song, path in zip(self.songs, self.paths)
        ]
        needed = sorted({preset for row in used for preset in row} | self.kept)
        place = {preset: nth for nth, preset in enumerate(needed)}
        return Toggled(
            cost,
            bound,
            tuple(self.points[preset] for preset in needed),
            tuple(tuple(place[preset] for preset in row) for row in used),
            tuple(tuple(cube.on for cube in path) for path in self.paths),
        )

    def _back(self, song: SongCubes, path: Sequence[Cube], barred: Costs, inside: int) -> list[int]:
        if not path:
            return []
        layers = self._layers(song, path, barred, inside)
        at = int(layers[-1][0].argmin())
        row = [at]
        for nth in range(len(path) - 1, 0, -1):
            stay = int(self._ways(song, path, nth)[0][at]) * inside
            if layers[nth - 1][0][at] + stay > layers[nth][0][at]:
                at = int(layers[nth - 1][0].argmin())
            row.append(at)
        row.reverse()
        return row
