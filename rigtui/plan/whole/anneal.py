"""Search layout, memories and route together: what is in which loop, what each memory stores, what
to press.

The searches before it take one after the other, and where sections leave pedals free, loops are
toggled or memories are to spare, they hang together. So what is stored is exchanged, memory by
memory, and now and then a pedal goes in or out of the loops; each try is priced exactly, all songs
at once, and a dearer one is taken ever more seldom. It proves nothing.

Source: S. Kirkpatrick, C. Gelatt, M. Vecchi, "Optimization by Simulated Annealing", Science 220
(1983).
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from rigtui.model.rig import Switcher
from rigtui.plan.ask.channels import ANY_CHANNEL
from rigtui.plan.ask.control import Control
from rigtui.plan.loops.costs import LoopCosts
from rigtui.plan.loops.designs import Design, WorstChange
from rigtui.plan.loops.layouts import LayoutLimits
from rigtui.plan.memories.banks import Ints
from rigtui.plan.presets.cubes import Cube
from rigtui.plan.presets.packing import Packing
from rigtui.plan.presets.toggled import Toggled, concrete

_FAR = 1 << 44
_OFTEN = 16
"""Tries between two looks at the clock."""
_HOT, _COLD = 4.0, 0.3
"""How many moves dearer a try may well be, at first and in the end."""
_LAYOUT_SHARE, _STORE_SHARE, _EXCHANGE_SHARE = 0.25, 0.45, 0.26
"""Of the tries: another layout, another sound in a memory, two memories exchanged."""
_MOST_TRIES = 4000

Sound = tuple[int, int]
"""Pedals on (a mask), and the channel."""
Slots = tuple[Sound | None, ...]
"""What each memory stores; None for nothing."""


class StoredLayout(NamedTuple):
    """A layout, and what each memory stores."""

    groups: tuple[int, ...]
    """Pedals of each loop, as masks."""
    slots: Slots


@dataclass(frozen=True, eq=False)
class _Layout:
    """The songs over the loops of a layout."""

    groups: tuple[int, ...]
    cost: int
    """What weighs whatever is stored."""
    on: Ints
    off: Ints
    path: Ints
    """Loops on in each section, where loops are toggled."""


class Annealing:
    """Prices what is stored, and looks for something that weighs less."""

    def __init__(
        self,
        costs: LoopCosts,
        limits: LayoutLimits,
        switcher: Switcher,
        control: Control,
        copies: int | None,
        seed: int = 1,
    ) -> None:
        """Prepare a search.

        Args:
            costs: What the songs want, and what presses weigh.
            limits: What layouts must keep to.
            switcher: The switcher.
            control: Stops the search.
            copies: How many memories may hold what another holds; None for any number.
            seed: Of the draw.
        """
        self.costs, self.limits, self.switcher, self.control = costs, limits, switcher, control
        self.copies, self.move = copies, costs.goal.move
        self._draw = random.Random(seed)
        walks = costs.walks(())
        self._times = np.array([song.times for song in walks], dtype=np.int64)
        self._lengths = [len(song.cubes) for song in walks]
        self._more = walks[0].more if walks else 1
        shape = len(walks), max(self._lengths, default=0)
        self._price = np.zeros(shape, dtype=np.int64)
        self._channel = np.zeros(shape, dtype=np.int64)
        self._cold = np.array([song.cold for song in walks], dtype=bool)
        for at, song in enumerate(walks):
            self._price[at, : len(song.cubes)] = song.prices
            self._channel[at, : len(song.cubes)] = [cube.channel for cube in song.cubes]
        heard = [sound for song in costs.needs.played for sound in song.sounds]
        switched = limits.switched & ~limits.never
        self._sounds = list(
            dict.fromkeys((sound.loops_on & switched, sound.channel) for sound in heard)
        )
        places = range(len(costs.needs.pedals))
        self._movable = [1 << at for at in places if switched >> at & 1]
        steps = np.array(switcher.ring.table, dtype=np.int64)
        banks = np.array([switcher.spot(m + 1).bank for m in range(switcher.memories)])
        self._steps, self._from_first = steps[np.ix_(banks, banks)], steps[0][banks]
        self._layouts: dict[tuple[int, ...], _Layout] = {}

    # ------------------------------------------------------------ prices

    def layout(self, groups: tuple[int, ...]) -> _Layout:
        """The songs over the loops of a layout."""
        known = self._layouts.get(groups)
        if known is None:
            walks = self.costs.walks(groups)
            on, off, path = (np.zeros(self._price.shape, dtype=np.int64) for _ in range(3))
            for at, song in enumerate(walks):
                length = len(song.cubes)
                on[at, :length] = [cube.on for cube in song.cubes]
                off[at, :length] = [cube.off for cube in song.cubes]
                if self.switcher.loop_switches:
                    path[at, :length] = [cube.on for cube in concrete(song.cubes)]
            cost = self.costs.apart + self.costs.outside(~sum(groups))
            known = self._layouts[groups] = _Layout(groups, cost, on, off, path)
        return known

    def weighed(self, stored: StoredLayout) -> int:
        """What the evening weighs with what is stored; very much where a song cannot be played."""
        return _WalkedSongs(self, stored).total

    def design(self, stored: StoredLayout) -> tuple[Design, dict[Cube, list[int]]] | None:
        """What is stored as a design, and the memories of each of its presets."""
        priced = _WalkedSongs(self, stored)
        return None if priced.total >= _FAR else priced.design()

    # ------------------------------------------------------------ the search

    def run(self, start: StoredLayout, *, layouts: bool) -> StoredLayout:
        """Search from a start; return the best that was found.

        Args:
            start: Where to start.
            layouts: Whether the layout may change.
        """
        best = now = start
        cost = least = self.weighed(start)
        tries = min(_MOST_TRIES, 10 * len(start.slots) * (len(self._sounds) + len(self._movable)))
        whole = self.control.seconds_left
        heat = 0.0
        for nth in range(tries):
            if nth % _OFTEN == 0:
                if self.control.over:
                    break
                left = self.control.seconds_left
                late = 0.0 if not whole or left is None else 1 - left / whole
                share = max(nth / tries, late)
                heat = self.move * _HOT * (_COLD / _HOT) ** share
                if share > 0.7 and cost > least + 30 * self.move:
                    now, cost = best, least
            trial = self._trial(now, layouts=layouts)
            if trial is None:
                continue
            weight = self.weighed(trial)
            if weight > cost and self._draw.random() >= math.exp((cost - weight) / heat):
                continue
            now, cost = trial, weight
            if cost < least:
                best, least = now, cost
        return best

    def _trial(self, now: StoredLayout, *, layouts: bool) -> StoredLayout | None:
        draw, slots = self._draw, list(now.slots)
        kind = draw.random()
        if layouts and self._movable and kind < _LAYOUT_SHARE:
            groups = self._another(sum(now.groups))
            return None if groups is None else now._replace(groups=groups)
        here, there = draw.randrange(len(slots)), draw.randrange(len(slots))
        if kind < _LAYOUT_SHARE + _STORE_SHARE:
            choice = draw.random()
            if choice < 0.6:
                slots[here] = draw.choice(self._sounds)
            else:
                slots[here] = slots[there] if choice < 0.9 else None
        elif kind < _LAYOUT_SHARE + _STORE_SHARE + _EXCHANGE_SHARE:
            slots[here], slots[there] = slots[there], slots[here]
        else:
            exchange_banks(slots, here, there, self.switcher.bank_size)
        if self.copies is not None:
            held = [slot for slot in slots if slot is not None]
            if len(held) - len(set(held)) > self.copies:
                return None
        return now._replace(slots=tuple(slots)) if any(slots) else None

    def _another(self, inside: int) -> tuple[int, ...] | None:
        for _ in range(self._draw.choice((1, 1, 2))):
            inside ^= self._draw.choice(self._movable)
        sets = np.array([inside], dtype=np.int64)
        if not (self.limits.allowed(sets) & self.limits.wired(sets))[0]:
            return None
        groups = next(self.limits.groupings(inside, fewest=True))
        return groups if self.limits.holds(groups) else None


def exchange_banks(slots: list[Any], here: int, there: int, size: int) -> None:
    """Exchange the banks of two memories; with a part-filled bank, as many memories as it has."""
    a, b = here // size * size, there // size * size
    for at in range(min(size, len(slots) - max(a, b))):
        slots[a + at], slots[b + at] = slots[b + at], slots[a + at]


class _WalkedSongs:
    """The songs walked through the memories, all at once."""

    def __init__(self, bench: Annealing, stored: StoredLayout) -> None:
        self.bench, self.layout = bench, bench.layout(stored.groups)
        self.used = [at for at, slot in enumerate(stored.slots) if slot is not None]
        slots = [slot for slot in stored.slots if slot is not None]
        masks = [
            sum(1 << at for at, group in enumerate(stored.groups) if slot[0] & group)
            for slot in slots
        ]
        contents = list(zip(masks, (slot[1] for slot in slots)))
        place = {content: at for at, content in enumerate(dict.fromkeys(contents))}
        self.presets = [Cube(mask, ~mask, channel) for mask, channel in place]
        self.ids = np.array([place[content] for content in contents])
        self.on, self.channel = np.array(masks), np.array([slot[1] for slot in slots])
        self.layers: list[Ints] = []
        self.total = self._walk()

    def _walk(self) -> int:
        bench, layout, used = self.bench, self.layout, self.used
        shape = bench._price.shape
        if not shape[1]:
            return layout.cost
        ids, count = self.ids, len(used)
        steps = bench._steps[np.ix_(used, used)]
        near = np.zeros((count, count), dtype=bool)
        start = np.full(count, _FAR)
        first = bench._from_first[used]
        for preset in range(len(self.presets)):
            homes = np.flatnonzero(ids == preset)
            near[np.arange(count), homes[steps[:, homes].argmin(axis=1)]] = True
            home = homes[first[homes].argmin()]
            start[home] = 0
        other = ids[:, None] != ids[None, :]
        self.change = np.where(near & other, bench.move * steps, _FAR)
        self.bad, self.far = self._fit(layout)
        cold = bench.move * first + bench._more * self.far[:, 0]
        last: Ints = start + np.where(bench._cold[:, None], cold, 0) + self.bad[:, 0]
        self.layers = [last]
        lengths = np.array(bench._lengths)
        for nth in range(1, shape[1]):
            stay, again = self._ways(nth)
            recalled = (last[:, :, None] + self.change[None]).min(axis=1) + again
            ahead = np.minimum(last + stay, recalled) + self.bad[:, nth]
            last = np.where((nth < lengths)[:, None], np.minimum(ahead, _FAR), last)
            self.layers.append(last)
        return layout.cost + int((last.min(axis=1) * bench._times).sum())

    def _fit(self, layout: _Layout) -> tuple[Ints, Ints]:
        """What will not do in a section (very dear), and loops to toggle from each memory."""
        wanted = self.bench._channel[:, :, None]
        fits = (wanted == ANY_CHANNEL) | (wanted == self.channel[None, None, :])
        if self.bench.switcher.loop_switches:
            far: Ints = np.bitwise_count(layout.path[:, :, None] ^ self.on[None, None, :])
            return np.where(fits, 0, _FAR), far.astype(np.int64)
        fits &= (self.on[None, None, :] & layout.off[:, :, None]) == 0
        fits &= (~self.on[None, None, :] & layout.on[:, :, None]) == 0
        return np.where(fits, 0, _FAR), np.zeros(fits.shape, dtype=np.int64)

    def _ways(self, nth: int) -> tuple[Ints, Ints]:
        """What it weighs to stay on a preset on the way to a section, and to recall another."""
        bench = self.bench
        price, more = bench._price[:, nth, None], bench._more
        again: Ints = price + more * self.far[:, nth]
        if not bench.switcher.loop_switches:
            return np.zeros_like(again), again
        path = self.layout.path
        toggles = np.bitwise_count(path[:, nth] ^ path[:, nth - 1]).astype(np.int64)[:, None]
        toggled = np.where(toggles > 0, price + more * (toggles - 1), 0)
        return np.where(toggles <= 1 + self.far[:, nth], toggled, again), again

    def design(self) -> tuple[Design, dict[Cube, list[int]]]:
        """The design, with the presets that the songs use, and the memories of each."""
        bench, layout = self.bench, self.layout
        rows = [self._back(at, length) for at, length in enumerate(bench._lengths)]
        needed = sorted({preset for row in rows for preset in row})
        place = {preset: at for at, preset in enumerate(needed)}
        used = tuple(tuple(place[preset] for preset in row) for row in rows)
        presets = tuple(self.presets[preset] for preset in needed)
        memories: dict[Cube, list[int]] = {cube: [] for cube in presets}
        for slot, preset in zip(self.used, self.ids.tolist()):
            if preset in place:
                memories[self.presets[preset]].append(slot + 1)
        walks = bench.costs.walks(layout.groups)
        masks = tuple(
            tuple(row[:length].tolist()) for row, length in zip(layout.path, bench._lengths)
        )
        toggled = Toggled(0, 0, presets, used, masks)
        weight = 0
        packing: Packing | Toggled = toggled
        if not bench.switcher.loop_switches:
            packing = Packing(0, 0, presets, used)
        for at, song in enumerate(walks):
            first = 0 if song.cold and song.cubes else 1
            for nth in range(first, len(song.cubes)):
                presses = packing.presses(at, nth)
                weight += song.times * (
                    song.price(nth, presses) if nth else song.more * (presses - 1)
                )
        cost = layout.cost + weight
        if isinstance(packing, Packing):
            packing = Packing(weight, 0, presets, used)
        else:
            packing = Toggled(weight, 0, presets, used, masks)
        worst = WorstChange(bench.costs.needs, bench.costs, bench.limits.switched)
        return Design(layout.groups, cost, 0, worst.of(layout.groups, packing), packing), memories

    def _back(self, song: int, length: int) -> list[int]:
        """The preset of each section of a song."""
        if not length:
            return []
        at = int(self.layers[length - 1][song].argmin())
        row = [at]
        for nth in range(length - 1, 0, -1):
            last = self.layers[nth - 1][song]
            stay, again = (way[song] for way in self._ways(nth))
            ways = last + self.change[:, at] + again[at]
            if last[at] + stay[at] > ways.min():
                at = int(ways.argmin())
            row.append(at)
        return [int(self.ids[memory]) for memory in reversed(row)]
