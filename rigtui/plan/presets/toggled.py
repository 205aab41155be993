"""Presets where single loops can be toggled on top: a section may be a preset plus a press or two.

Then any number of presets will do; too few cost extra presses instead of being impossible.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.channels import ANY_CHANNEL, KEPT, named
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.result import Stopped
from rigtui.plan.presets.cubes import Cube, SongCubes, least_recalls, longest
from rigtui.plan.presets.packing import Packing, TooMany

_UNLIKE = 1 << 20
"""More toggles than there are: the preset will not do."""
_FAR = 1 << 34
"""What it weighs to get to such a preset."""
_INSIDE = 1 << 16
"""What a move inside a song weighs where toggles between songs decide among equals."""
_NEVER = 1 << 52
"""The price of songs that cannot be played."""
_MOST_COMBINATIONS = 1200
_MOST_STEPS = 2e10
"""Of the choice one by one: sections times the third power of the presets to choose from."""
_CELLS = 1 << 20
"""Presets times choices of them that are priced together: 8 MB a table."""

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
    left_out: int = 0
    """Sounds that were too many to be weighed as presets of their own."""

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
    paths = [concrete(song.cubes) for song in songs]
    control = control or Control()
    heard = _heard(songs, paths)
    points = [*kept, *(point for point in heard if point not in kept)]
    worth = _most_heard(kept, heard, _most_points(paths, most))
    left_out = len(points) - len(worth)
    if left_out > 0:
        points = worth
    table = _PresetPrices(songs, paths, points, kept, control)
    chosen = np.ones(len(points), dtype=bool)
    try:
        settled = all(_settled(cube, loops) for song in songs for cube in song.cubes)
        if settled and loops <= 4 and len(points) > most:
            exact = _exactly(songs, paths, points, kept, most, loops, control)
            if exact is not None:
                return exact
        chosen = _one_by_one(table, most)
    except Stopped:
        control.stop_if_cancelled()
        enough = _most_heard(kept, heard, most)
        chosen = np.array([point in enough for point in points])
    table.control = control.without_deadline()  # one choice is soon played
    best = table.best(chosen[None, :], bound, proved=False)
    return best if best is None else replace(best, left_out=left_out)


def _heard(songs: Sequence[SongCubes], paths: Sequence[Sequence[Cube]]) -> dict[Cube, int]:
    """The sounds of the evening that presets could be, each with how often it is heard."""
    heard: dict[Cube, int] = {}
    for song, path in zip(songs, paths):
        for point in path:
            if point.channel < KEPT:
                heard[point] = heard.get(point, 0) + song.times
    return heard


def _most_points(paths: Sequence[Sequence[Cube]], most: int) -> int:
    """How many presets are weighed to choose from, so that time and memory suffice."""
    sections = max(1, sum(map(len, paths)))
    return max(most, int((_MOST_STEPS / sections) ** (1 / 3)))


def _most_heard(kept: Sequence[Cube], heard: Mapping[Cube, int], most: int) -> list[Cube]:
    """The presets kept, and those heard most, one of each channel first: so many in all."""
    ranked = sorted((point for point in heard if point not in kept), key=lambda its: -heard[its])
    first = {named(point.channel): point for point in reversed(ranked)}
    covered = {named(point.channel) for point in kept}
    needed = [first[channel] for channel in first if channel not in covered]
    return list(dict.fromkeys([*kept, *needed, *ranked]))[:most]


def _one_by_one(table: _PresetPrices, most: int) -> npt.NDArray[np.bool_]:
    """Leave out the preset that is missed least, over and over, until so many are left."""
    chosen = np.ones(len(table.points), dtype=bool)
    while chosen.sum() > most:
        out = [at for at in np.flatnonzero(chosen).tolist() if at not in table.kept]
        costs = np.concatenate(
            [
                table.costs(_without(chosen, out[at : at + table.together]))
                for at in range(0, len(out), table.together)
            ]
        )
        chosen[out[int(costs.argmin())]] = False
    return chosen


def _without(chosen: npt.NDArray[np.bool_], out: Sequence[int]) -> npt.NDArray[np.bool_]:
    trials = np.repeat(chosen[None, :], len(out), axis=0)
    trials[np.arange(len(out)), out] = False
    return trials


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
    free = [at for at, choice in enumerate(every) if choice not in kept]
    room = min(most - len(kept), len(free))
    if math.comb(len(free), room) > _MOST_COMBINATIONS:
        return None
    table = _PresetPrices(songs, paths, every, kept, control)
    trials = np.zeros((math.comb(len(free), room), len(every)), dtype=bool)
    trials[:, [at for at, choice in enumerate(every) if choice in kept]] = True
    for row, extra in enumerate(itertools.combinations(free, room)):
        trials[row, list(extra)] = True
    return table.best(trials, 0, proved=True)


def concrete(cubes: Sequence[Cube]) -> list[Cube]:
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
        self.kept = {self.points.index(point) for point in kept}
        self.together = max(1, _CELLS // max(1, len(self.points)))
        """Choices of presets that are priced together."""
        self.far: dict[Cube, npt.NDArray[np.int32]] = {}
        for path in paths:
            for cube in path:
                if cube not in self.far:
                    control.stop_if_cancelled()
                    self.far[cube] = self._distances(cube)

    def _distances(self, cube: Cube) -> npt.NDArray[np.int32]:
        """Loops to toggle from each preset; `_UNLIKE` where it names another channel."""
        toggles: npt.NDArray[np.int32] = np.bitwise_count(self._on ^ cube.on).astype(np.int32)
        if cube.channel >= KEPT:  # on that preset and no other
            toggles[self._channel != cube.channel] = _UNLIKE
        elif cube.channel != ANY_CHANNEL:
            toggles[self._named != cube.channel] = _UNLIKE
        return toggles

    def costs(self, trials: npt.NDArray[np.bool_]) -> Costs:
        """Moves of the evening for each choice of presets (rows of `trials`).

        `_NEVER` where a song cannot be played.
        """
        total = np.zeros(len(trials), dtype=np.int64)
        barred = np.where(trials, 0, _FAR)
        for song, path in zip(self.songs, self.paths):
            if path:
                last = barred
                for layer in self._layers(song, path, barred):
                    self.control.stop_if_over()
                    last = layer
                least = last.min(axis=1)
                total += np.where(least < _FAR, song.times * least, _NEVER)
        return np.minimum(total, _NEVER)

    def _layers(
        self, song: SongCubes, path: Sequence[Cube], barred: Costs, inside: int = 1
    ) -> Iterator[Costs]:
        """What the way to each section costs, preset by preset.

        What a move inside the song weighs is taken `inside` times. Where that is more than 1,
        each toggle that sets the song up costs 1; else none.
        """
        first = self.far[path[0]].astype(np.int64)
        if not song.cold:  # already set up on the first section, toggles and all
            first = np.where(first >= _UNLIKE, _FAR, first if inside > 1 else 0)
        else:
            first = np.where(first >= _UNLIKE, _FAR, first * song.more) * inside
        last = barred + first
        yield last
        for nth in range(1, len(path)):
            stay, again = self._ways(song, path, nth)
            change = last.min(axis=1)[:, None] + (again * inside)[None, :]
            last = np.minimum(last + (stay * inside)[None, :], change) + barred
            yield last

    def _ways(self, song: SongCubes, path: Sequence[Cube], nth: int) -> tuple[Costs, Costs]:
        """What it weighs to reach a section from the same preset, and by a recall, of each."""
        again = 1 + self.far[path[nth]].astype(np.int64)
        toggles = (path[nth - 1].on ^ path[nth].on).bit_count()
        price, more = song.prices[nth], song.more
        recall = price + more * (again - 1)
        stay = np.where(toggles <= again, song.price(nth, toggles), recall)
        far = again > _UNLIKE
        return np.where(far, _FAR, stay), np.where(far, _FAR, recall)

    def best(self, trials: npt.NDArray[np.bool_], bound: int, *, proved: bool) -> Toggled | None:
        """The cheapest choice, with the preset of every section.

        Another way to play the songs on the same presets goes with it, which spares toggles that
        set songs up.
        """
        costs = np.concatenate(
            [
                self.costs(trials[at : at + self.together])
                for at in range(0, len(trials), self.together)
            ]
        )
        at = int(costs.argmin())
        cost = int(costs[at])
        if cost >= _NEVER:
            return None
        bound = cost if proved else bound
        plain = self._played(trials[at], cost, bound)
        kept = np.zeros(len(self.points), dtype=bool)
        kept[[self.points.index(point) for point in plain.presets]] = True
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
        layers = list(self._layers(song, path, barred, inside))
        at = int(layers[-1][0].argmin())
        row = [at]
        for nth in range(len(path) - 1, 0, -1):
            stay = int(self._ways(song, path, nth)[0][at]) * inside
            if layers[nth - 1][0][at] + stay > layers[nth][0][at]:
                at = int(layers[nth - 1][0].argmin())
            row.append(at)
        row.reverse()
        return row
