"""Which sets of pedals can be in loops at all: loops at hand, signal order, pins, sharing.

A plain series switcher has no jack between two of its loops, so on each side the pedals outside
stand before or after all loops: with the order kept, the pedals in loops are a stretch of the
chain, and a pedal caught in that stretch burns a loop even if it is never switched.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from rigtui.model.base import SIDES
from rigtui.plan.ask.needs import Needs
from rigtui.plan.memories.banks import Ints

MOST_FREE = 22
"""Switched pedals up to which all sets of them are looked at."""


@dataclass(frozen=True)
class LayoutLimits:
    """What a layout must keep to."""

    needs: Needs
    must: int
    """Pedals that must be in a loop."""
    never: int
    """Pedals that must be outside."""
    stretch: bool
    """Whether the pedals in loops must be a stretch of each side's chain."""
    loops: dict[str, int]
    """Loops of each side; `total` alone counts where it is given."""
    total: int | None
    joinable: int
    """Pedals that may share a loop with the next one in the chain."""
    clash: tuple[int, ...]
    """For each pedal, those that it cannot share a loop with."""

    @cached_property
    def switched(self) -> int:
        """Pedals that are on in some sections and off in others."""
        return self.needs.ever_on & self.needs.ever_off

    def fewest_loops(self, sets: Ints) -> dict[str, Ints]:
        """The fewest loops of each side that sets of pedals may need (a bound, nearly exact)."""
        fewest: dict[str, Ints] = {}
        for side in SIDES:
            held = sets & self.needs.side_mask(side)
            joined = held & (held >> 1) & self.joinable
            fewest[side] = (np.bitwise_count(held) - np.bitwise_count(joined)).astype(np.int64)
        return fewest

    def allowed(self, sets: Ints) -> npt.NDArray[np.bool_]:
        """Whether pins and loops allow a set, as far as `fewest_loops` can tell."""
        fewest = self.fewest_loops(sets)
        fits: npt.NDArray[np.bool_] = (sets & self.must == self.must) & (sets & self.never == 0)
        if self.total is not None:
            fits &= fewest["front"] + fewest["fx"] <= self.total
        else:
            for side in SIDES:
                fits &= fewest[side] <= self.loops[side]
        return fits

    def wired(self, sets: Ints) -> npt.NDArray[np.bool_]:
        """Whether the chain allows a set: always, unless it must be a stretch of each side."""
        if not self.stretch:
            return np.ones(len(sets), dtype=bool)
        return np.isin(sets, self.stretches())

    def bridges(self) -> list[tuple[int, int]]:
        """Pedals that are never switched between two that could share with them, and those two."""
        bridges = []
        idle = ~(self.switched | self.must | self.never)
        at, count = 0, len(self.needs.pedals)
        while at < count:
            end = at
            while end < count and idle >> end & 1:
                end += 1
            linked = at > 0 and all(self.joinable >> link & 1 for link in range(at - 1, end))
            if end > at and linked and end < count:
                run = sum(1 << pedal for pedal in range(at, end))
                bridges.append((1 << (at - 1) | 1 << end, run))
            at = max(end, at + 1)
        return bridges

    def stretches(self) -> Ints:
        """All sets that are a stretch of the chain on each side."""
        per_side = []
        for side in SIDES:
            bits = [1 << at for at, its in enumerate(self.needs.sides) if its == side]
            runs = {0}
            for first in range(len(bits)):
                mask = 0
                for bit in bits[first:]:
                    mask |= bit
                    if mask & self.never:
                        break
                    runs.add(mask)
            per_side.append(np.array(sorted(runs), dtype=np.int64))
        return (per_side[0][:, None] | per_side[1][None, :]).ravel()

    def holds(self, groups: tuple[int, ...]) -> bool:
        """Whether there are loops for all groups."""
        if self.total is not None:
            return len(groups) <= self.total
        return all(
            sum(bool(group & self.needs.side_mask(side)) for group in groups) <= self.loops[side]
            for side in SIDES
        )

    def groupings(self, mask: int, *, fewest: bool = False) -> Iterator[tuple[int, ...]]:
        """Ways to share out a set of pedals among the loops, with no more sharing than it takes.

        Args:
            mask: The pedals in loops.
            fewest: Share wherever that saves a loop, even if there are loops to spare.
        """
        runs = {side: self._runs(mask & self.needs.side_mask(side)) for side in SIDES}
        if fewest:
            yield tuple(group for side in SIDES for run in runs[side] for group in self._pack(run))
            return
        if self.total is not None:
            count = mask.bit_count() - self.total
            both = [run for side in SIDES for run in runs[side]]
            yield from self._shared(both, max(0, count))
            return
        joins = [
            max(0, (mask & self.needs.side_mask(side)).bit_count() - self.loops[side])
            for side in SIDES
        ]
        for front in self._shared(runs["front"], joins[0]):
            for fx in self._shared(runs["fx"], joins[1]):
                yield (*front, *fx)

    def _runs(self, held: int) -> list[list[int]]:
        """Rows of pedals that could share with their neighbour, each pedal as a mask."""
        runs: list[list[int]] = []
        before = 0
        for at in range(held.bit_length()):
            bit = 1 << at
            if not held & bit:
                continue
            if before and before << 1 == bit and self.joinable & before:
                runs[-1].append(bit)
            else:
                runs.append([bit])
            before = bit
        return runs

    def _fits(self, group: int, bit: int) -> bool:
        return not group & self.clash[bit.bit_length() - 1]

    def _pack(self, run: list[int]) -> list[int]:
        groups = [run[0]]
        for bit in run[1:]:
            if self._fits(groups[-1], bit):
                groups[-1] |= bit
            else:
                groups.append(bit)
        return groups

    def _shared(self, runs: list[list[int]], joins: int) -> Iterator[tuple[int, ...]]:
        """All ways to join neighbours exactly so many times."""
        bits = [(bit, at > 0) for run in runs for at, bit in enumerate(run)]
        most = [0] * (len(bits) + 1)
        for at in range(len(bits) - 1, -1, -1):
            most[at] = most[at + 1] + bits[at][1]

        def down(at: int, left: int, groups: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
            if left > most[at]:
                return
            if at == len(bits):
                yield groups
                return
            bit, may_join = bits[at]
            yield from down(at + 1, left, (*groups, bit))
            if left and may_join and self._fits(groups[-1], bit):
                yield from down(at + 1, left - 1, (*groups[:-1], groups[-1] | bit))

        yield from down(0, joins, ())


def clashes(needs: Needs) -> list[int]:
    """For each pedal, those that some section wants on when it is off, or off when it is on."""
    clash = [0] * len(needs.pedals)
    for sound in {(wanted.on, wanted.off) for wanted in needs.every_sound()}:
        on, off = sound
        for at in range(len(clash)):
            if on >> at & 1:
                clash[at] |= off
            elif off >> at & 1:
                clash[at] |= on
    return clash
