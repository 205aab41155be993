"""Which sounds to keep, and what giving up the others buys: the frontier.

For each price the fewest sections that cannot be played, then the fewest extra presses. With the
sounds to keep given, every song is a shortest path and the songs are added up; which to keep is
tried through where the choices are few, else searched by exchange.

A choice of sounds is passed over where a Lagrangian bound shows that it can lower no step: for
weights w, price + w x level is at least the sum of each song's own least.
Source of the bound: M. L. Fisher, The Lagrangian relaxation method for solving integer programming
problems, Management Science 27 (1981).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import combinations
from math import comb
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from rigtui.advice.giving_up.one_song import Level, SongPaths, SongStairs
from rigtui.advice.giving_up.ways import SongWays, Sounds
from rigtui.model.playable import in_range
from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.result import PlanError, Stopped

MOST_CHOICES = 5000
"""Choices of sounds that are all looked at: 4 of 20 given up are 4845."""
MOST_ADDED = 240
"""Choices for which the songs are added up to the end."""
_BATCH = 16
_ROWS = 256
_ROUNDS = 4
_REMEMBERED = 4
_MOST_CASES = 600
_MOST_BYTES = 150_000_000
_SHARE = 0.5
"""Of the time, for exchanges."""
_WEIGHTS = tuple((u, e) for u in (1.0, 8.0, 64.0, 1e4) for e in (0.0, 0.5, 2.0, 8.0, 32.0))
"""What a section left out, and an extra press, may weigh against the price, for the bound."""
_EXCHANGED_FOR = ((64.0, 8.0),)
_BIG = 1_000_000
"""A level as one number: sections that cannot be played times this, and extra presses."""


Weights = tuple[float, float]
"""What a section left out, and an extra press, weigh against the price."""
Bounds = npt.NDArray[np.float64]


class FrontierStep(NamedTuple):
    """One step of the frontier."""

    price: float
    level: Level
    kept: tuple[int, ...]
    """The sounds kept."""


@dataclass(frozen=True)
class Frontier:
    """What giving up sounds buys, from every sound kept to the best that can be had."""

    steps: tuple[FrontierStep, ...]
    """Dearer and better from step to step."""
    looked_at: int
    """Choices of sounds to keep that were looked at."""
    choices: int
    """Choices that there are."""
    proved: bool
    """Whether no choice of sounds has a better step."""
    least: tuple[FrontierStep, ...]
    """What no choice can better: the steps with room for every sound."""


class Search:
    """The search of one rig, for one evening."""

    def __init__(
        self,
        rig: Rig,
        evening: Evening,
        keep: Collection[str] = (),
        control: Control | None = None,
    ) -> None:
        """Set it up.

        Args:
            rig: The rig, its loops and chain as they stay.
            evening: The songs that count.
            keep: Ids of presets whose sections and memories stay.
            control: Progress out, cancel in.

        Raises:
            Stopped: the time is up.
        """
        self.rig, self.evening, self.keep = rig, evening, frozenset(keep)
        self.control = control or Control()
        self.sounds = Sounds(rig, evening.songs, self.control)
        every = [SongWays(self.sounds, song, self.keep) for song in evening.songs]
        self.songs = [song for song in every if song.sections]
        """The songs that have a section with a preset."""
        self._paths = [SongPaths(song) for song in self.songs]
        self._times = [evening.times[song.song.id] for song in self.songs]
        kept = {self.sounds.of(preset) for preset in sorted(self.keep)}
        self._kept_stairs: dict[tuple[int, ...], list[SongStairs]] = {}
        self._ways_known: dict[tuple[str, tuple[int, ...], Level], list[int]] = {}
        self._dearest = 1.0 + sum(
            times * max(price for price in row.price if price < np.inf)
            for times, song in zip(self._times, self.songs)
            for row in song.sections
        )
        self._fixed = frozenset(sound for sound in kept if sound is not None)
        self._room = self._memories(kept)

    def _memories(self, kept: Collection[int | None]) -> int:
        """How many sounds the memories hold beside presets that are kept and not needed."""
        if self.rig.switcher is None:
            return len(self.sounds)
        presets, most = self.sounds.known.presets, self.rig.switcher.memories
        aside = sum(
            len(in_range(presets[preset], most))
            for preset in self.keep
            if self.sounds.of(preset) is None
        )
        return max(len(self._fixed), min(len(self.sounds), self.rig.switcher.memories - aside))

    @property
    def given_up(self) -> int:
        """How many sounds no memory is left for."""
        return len(self.sounds) - self._room

    def frontier(self) -> Frontier:
        """Find the frontier; where the time is up, as far as it was found.

        Raises:
            Stopped: the time is up, and nothing was found.
            PlanError: the songs are too long.
        """
        if not self.songs:
            nothing = (FrontierStep(0.0, Level(0, 0), ()),)
            return Frontier(nothing, 1, 1, True, nothing)
        size = len(self.sounds)
        free = [sound for sound in range(size) if sound not in self._fixed]
        given_up = self.given_up
        choices = comb(len(free), given_up)
        whole = np.ones((1, size), bool)
        least = self._added(self._stairs(whole), 0, whole[0])
        every = choices <= MOST_CHOICES
        if every:
            keeps = np.ones((choices, size), bool)
            for row, gone in zip(keeps, combinations(free, given_up)):
                row[list(gone)] = False
        else:
            keeps = self._exchanged(free, given_up)
        steps, settled = self._best(keeps)
        proved = every and settled
        least = steps if proved else least
        self.control = self.sounds.control = self.control.without_deadline()  # for the points
        return Frontier(tuple(steps), len(keeps), choices, proved, tuple(least))

    def _stairs(self, keeps: npt.NDArray[np.bool_]) -> list[SongStairs]:
        """The stairs of each song.

        Raises:
            Stopped: the time is up.
            PlanError: they take too much memory.
        """
        room, stairs = _MOST_BYTES, []
        for paths in self._paths:
            self.control.stop_if_over()
            room -= paths.bytes_for(keeps)
            if room < 0:
                raise PlanError("the songs are too long for this: name a setlist with fewer songs")
            stairs.append(SongStairs(paths, keeps))
        return stairs

    def _exchanged(self, free: Sequence[int], given_up: int) -> npt.NDArray[np.bool_]:
        """Choices found by leaving out one sound after another, then by exchanging two."""
        tried: dict[bytes, npt.NDArray[np.bool_]] = {}
        left = self.control.seconds_left
        end = self.control if left is None else self.control.within(left * _SHARE)
        with suppress(Stopped):
            for weights in _EXCHANGED_FOR:
                self._exchange(free, given_up, weights, tried, end)
        kept = [row for row in tried.values() if row.sum() == self._room]
        if not kept:
            raise Stopped
        return np.stack(kept)

    def _exchange(
        self, free: Sequence[int], given_up: int, weights: Weights,
        tried: dict[bytes, npt.NDArray[np.bool_]], control: Control,
    ) -> None:  # fmt: skip
        now = np.ones(len(self.sounds), bool)
        for nth in range(given_up):
            control.tell("choosing what to give up", nth / given_up)
            now = self._least(now, [(at,) for at in free if now[at]], weights, tried)
        for _ in range(_ROUNDS):
            control.stop_if_over()
            pairs = [(a, b) for a in free if now[a] for b in free if not now[b]]
            better = self._least(now, [(), *pairs], weights, tried)
            if (better == now).all():
                break
            now = better

    def _least(
        self, now: npt.NDArray[np.bool_], flips: Sequence[tuple[int, ...]],
        weights: Weights, tried: dict[bytes, npt.NDArray[np.bool_]],
    ) -> npt.NDArray[np.bool_]:  # fmt: skip
        """The best of some sounds flipped; the best few are remembered."""
        keeps = np.repeat(now[None], len(flips), axis=0)
        for row, flipped in zip(keeps, flips):
            row[list(flipped)] ^= True
        bounds = self._bounds(self._stairs(keeps), (weights,))[0]
        for at in np.argsort(bounds, kind="stable")[:_REMEMBERED]:
            tried.setdefault(keeps[at].tobytes(), keeps[at])
        best: npt.NDArray[np.bool_] = keeps[int(np.argmin(bounds))]
        return best

    def _bounds(
        self, stairs: Sequence[SongStairs], all_weights: Sequence[Weights] = _WEIGHTS
    ) -> Bounds:
        """For each weights, for each choice: the least of price + weights x level, song by song."""
        whole = np.zeros((len(all_weights), len(stairs[0].prices)))
        for times, song in zip(self._times, stairs):
            for row, weights in zip(whole, all_weights):
                row += times * (song.prices + np.array(song.levels) @ np.array(weights)).min(axis=1)
        return whole

    def _bounds_soon(self, keeps: npt.NDArray[np.bool_]) -> Bounds:
        """The same from below, and quickly: a song does without the sounds that it uses now.

        Every other sound is taken to be kept, so that only few cases of each song are worked out.
        """
        whole = np.zeros((len(_WEIGHTS), len(keeps)))
        for times, paths in zip(self._times, self._paths):
            gone = ~keeps[:, paths.used]
            cases, which = np.unique(gone, axis=0, return_inverse=True)
            if len(cases) > _MOST_CASES:  # less is given up than is: still from below
                few = np.cumsum(gone, axis=1) <= max(1, self.given_up // 2)
                cases, which = np.unique(gone & few, axis=0, return_inverse=True)
            self.control.stop_if_over()
            optimistic = np.ones((len(cases), len(self.sounds)), bool)
            optimistic[:, paths.used] = ~cases
            stairs = SongStairs(paths, optimistic)
            for row, weights in zip(whole, _WEIGHTS):
                least = (stairs.prices + np.array(stairs.levels) @ np.array(weights)).min(axis=1)
                row += times * least[which.ravel()]
        return whole

    def _best(self, keeps: npt.NDArray[np.bool_]) -> tuple[list[FrontierStep], bool]:
        """The lowest steps of all choices, and whether all that could lower one were added up."""
        bounds = self._bounds_soon(keeps)
        order = list(dict.fromkeys(int(row.argmin()) for row in bounds))
        steps: list[FrontierStep] = []
        left = np.ones(len(keeps), bool)
        added = 0
        while order and added < MOST_ADDED:
            if steps and self.control.over:
                break
            left[order] = False
            stairs = self._stairs(keeps[order])
            bounds[:, order] = self._bounds(stairs)
            for nth, choice in enumerate(order):
                if steps and not self._hopeful(steps, bounds, np.array([choice])):
                    continue
                added += 1
                steps = _lowest([*steps, *self._added(stairs, nth, keeps[choice])])
            order = self._hopeful(steps, bounds, np.flatnonzero(left))[:_BATCH]
        return steps, not order

    def _hopeful(
        self, steps: Sequence[FrontierStep], bounds: Bounds, left: npt.NDArray[np.int64]
    ) -> list[int]:
        """Those of the choices left that may lower a step, the likeliest first.

        From the price of one step on, and below that of the next, a choice would have to be better
        than the first of the two: as many sections left out and an extra press less, or a section
        less and whatever presses. At the last step it may cost anything.
        """
        never = np.inf
        rows: list[tuple[float, float, float]] = []
        for step, dearer in zip(steps, (*steps[1:], None)):
            price = self._dearest if dearer is None else dearer.price
            unplayable, extra = step.level
            rows += [(price, unplayable, extra - 1.0)] if extra else []
            rows += [(price, unplayable - 1.0, never)] if unplayable else []
        if not rows or not len(left):
            return []
        prices, lost, extra_presses = np.array(rows).T
        gain = np.full(len(left), -never)
        for at in range(0, len(rows), _ROWS):
            part = slice(at, at + _ROWS)
            least = np.zeros((len(prices[part]), len(left)))
            for (u, e), bound in zip(_WEIGHTS, bounds[:, left]):
                paid = u * lost[part] + (e * extra_presses[part] if e else 0)
                np.maximum(least, bound - paid[:, None], out=least)
            gain = np.maximum(gain, (prices[part] - 1e-6 - least.T).max(axis=1))
        order = np.argsort(-gain, kind="stable")
        return [int(left[at]) for at in order if gain[at] > 0]

    def _added(
        self, stairs: Sequence[SongStairs], choice: int, kept: npt.NDArray[np.bool_]
    ) -> list[FrontierStep]:
        """The steps of one choice: those of its songs, added up."""
        prices, levels, _ = self._sums(stairs, choice)
        names = tuple(int(at) for at in np.flatnonzero(kept))
        return [
            FrontierStep(float(price), Level(*divmod(int(level), _BIG)), names)
            for price, level in zip(prices, levels)
        ]

    def _sums(
        self, stairs: Sequence[SongStairs], choice: int
    ) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.int64], list[npt.NDArray[np.int64]]]:
        """Prices and levels of an evening, cheapest first; and for each song which steps those are.

        The last has a row for each sum: the row of the sum before it, and the song's own step.
        """
        prices, levels = np.zeros(1), np.zeros(1, np.int64)
        ways_back = []
        for times, song in zip(self._times, stairs):
            own = song.steps(choice)
            own_prices = np.array([price for _, price in own]) * times
            own_levels = np.array([u * _BIG + e for (u, e), _ in own], np.int64) * times
            sums = np.round(prices[:, None] + own_prices, 6).ravel()
            both = (levels[:, None] + own_levels).ravel()
            order = np.lexsort((both, sums))
            low = np.minimum.accumulate(both[order])
            first = np.concatenate(([True], low[1:] < low[:-1]))
            rows = order[first]
            prices, levels = sums[rows], both[rows]
            ways_back.append(np.stack(np.divmod(rows, len(own)), axis=1))
        return prices, levels, ways_back

    def ways_of(self, step: FrontierStep) -> list[list[int]]:
        """Return the way of each mapped section of each song at a step of the frontier."""
        keeps = np.zeros((1, len(self.sounds)), bool)
        keeps[0, list(step.kept)] = True
        if step.kept not in self._kept_stairs:
            self._kept_stairs[step.kept] = self._stairs(keeps)
        stairs = self._kept_stairs[step.kept]
        _, levels, ways_back = self._sums(stairs, 0)
        level = step.level.unplayable * _BIG + step.level.extra_presses
        row = int(np.flatnonzero(levels == level)[0])
        chosen: list[list[int]] = []
        for song, back in zip(reversed(stairs), reversed(ways_back)):
            row, own = (int(at) for at in back[row])
            its_level, price = song.steps(0)[own]
            key = (song.song_id, step.kept, its_level)
            if key not in self._ways_known:
                self._ways_known[key] = song.chosen(keeps[0], its_level, price)
            chosen.append(self._ways_known[key])
        return chosen[::-1]


def _lowest(steps: Sequence[FrontierStep]) -> list[FrontierStep]:
    """The steps that none of the others makes needless, cheapest first."""
    kept: list[FrontierStep] = []
    for step in sorted(steps):
        if not kept or step.level < kept[-1].level:
            kept.append(step)
    return kept
