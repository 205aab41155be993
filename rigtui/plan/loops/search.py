"""The search for the best set of pedals in loops, and what it proves.

All sets that the layout allows are ordered by a lower bound on their moves; from the least on,
each is priced exactly, until the bound says that no other can be better.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.control import Control
from rigtui.plan.ask.goal import Goal
from rigtui.plan.ask.needs import Needs
from rigtui.plan.ask.result import Stopped
from rigtui.plan.loops.clique_pool import CliquePool
from rigtui.plan.loops.costs import LoopCosts, cube_of
from rigtui.plan.loops.designs import Design, SearchOutcome, WorstChange
from rigtui.plan.loops.layouts import MOST_FREE, LayoutLimits
from rigtui.plan.memories.banks import Ints
from rigtui.plan.memories.cuts import picked, pieces
from rigtui.plan.presets.cubes import least_recalls
from rigtui.plan.presets.packing import Packing, TooMany, pack
from rigtui.plan.presets.toggled import Toggled, with_toggles

_MOST_TIES = 1500
_DEEP_NODES = 60_000
_BATCH, _SMALL_BATCH = 1024, 128
_CHUNK = 1 << 17
_END = 1 << 60


def _between(bounds: Ints, low: int, high: int, some: slice) -> npt.NDArray[np.bool_]:
    """Where a piece of the bounds is in a range."""
    within: npt.NDArray[np.bool_] = (bounds[some] >= low) & (bounds[some] < high)
    return within


@dataclass(frozen=True, slots=True)
class Effort:
    """How much a search does before it gives up."""

    dives: int = 150
    """Sets priced in search of a first good design."""
    looks: int = 1 << 40
    """Sets priced in the search proper."""
    passes: int = 1 << 40
    """Sets looked at, most of them told at a glance to need too many presets."""
    nodes: int = 1500
    """Steps spent on the presets of one set, where they are not settled at once."""
    deep: bool = True
    """Whether to spend more on them in the end, where that could close a gap."""


QUICK = Effort(dives=60, looks=24, passes=1 << 15, nodes=150, deep=False)
GLANCE = Effort(dives=20, looks=16, passes=1 << 12, nodes=150, deep=False)


class LoopSearch:
    """One search; `run` does it."""

    def __init__(
        self,
        needs: Needs,
        limits: LayoutLimits,
        memories: int,
        *,
        toggling: bool = False,
        slack: float = 0.0,
        limit: int = 0,
        most_kept: int = 1,
        pool: tuple[Ints, npt.NDArray[np.integer[Any]]] | None = None,
        costs: LoopCosts | None = None,
        goal: Goal | None = None,
        control: Control | None = None,
        better: Callable[[Design], None] | None = None,
        seeds: Sequence[int] = (),
        effort: Effort | None = None,
    ) -> None:
        """Prepare a search.

        Args:
            needs: What the songs want.
            limits: What layouts must keep to.
            memories: Presets that can be stored.
            toggling: Whether single loops can be toggled on top of a preset.
            slack: Keep also designs within this share of the best.
            limit: Keep also all designs that cost at most so much.
            most_kept: How many designs to keep at most.
            pool: `every_set()` of a search with the same needs and order, to save time.
            costs: Its `costs`, likewise.
            goal: What presses weigh; moves alone where not given.
            control: Progress and cancel.
            better: Called with each design that is the best so far.
            seeds: Sets of pedals to begin with, from which a good design may not be far.
            effort: How much to do; for a proof, if that can be had, where not given.
        """
        self.seeds, self.effort = seeds, effort or Effort()
        self._better = better
        self.needs, self.limits, self.memories = needs, limits, memories
        self.toggling, self.slack, self.limit, self.most_kept = toggling, slack, limit, most_kept
        self.control = control or Control()
        self.pool = pool
        self.costs = costs or LoopCosts(needs, goal)
        self.outcome = SearchOutcome()
        self._tried: dict[tuple[int, ...], Packing | TooMany | None] = {}
        self._unsettled: list[tuple[int, tuple[int, ...]]] = []
        self._worst = WorstChange(needs, self.costs, limits.switched)
        self._cliques = CliquePool(needs, memories)

    # ------------------------------------------------------------ candidates

    def candidates(self) -> tuple[Ints, Ints]:
        """Sets of pedals that the layout allows, and a lower bound on the cost of each."""
        sets, bounds = self.pool if self.pool is not None else self.every_set()
        kept_sets, kept_bounds = [sets[:0]], [bounds[:0].astype(np.int64)]
        for at in range(0, len(sets), _CHUNK):
            self.control.stop_if_over()
            some = sets[at : at + _CHUNK]
            fits = self.limits.allowed(some)
            kept_sets.append(some[fits])
            kept_bounds.append(bounds[at : at + _CHUNK][fits].astype(np.int64))
        fitting = np.concatenate(kept_sets)
        self.control.stop_if_over()
        return fitting, np.concatenate(kept_bounds)

    def every_set(self) -> tuple[Ints, npt.NDArray[np.integer[Any]]]:
        """Sets of pedals before loops and pins are looked at, and their bounds."""
        limits = self.limits
        if limits.stretch:
            sets = limits.stretches()
            return sets, self.costs.bounds(sets)
        steady = limits.must & ~limits.switched
        places = [at for at in range(len(self.needs.pedals)) if self.choosable >> at & 1]
        if len(places) > MOST_FREE:
            places = self._most_wanted(places)
        sets, bounds = self.costs.all_bounds(places, self.control)
        sets |= steady
        for both, run in limits.bridges():
            joined = sets[sets & both == both] | run
            joined_bounds = bounds[sets & both == both]
            sets = np.concatenate((sets, joined))
            bounds = np.concatenate((bounds, joined_bounds))
        return sets, bounds

    @property
    def choosable(self) -> int:
        """Pedals that may be in a loop or outside."""
        return self.limits.switched & ~self.limits.never

    def _most_wanted(self, places: list[int]) -> list[int]:
        """The pedals that cost most outside; the others are then taken to stay there."""
        must = [at for at in places if self.limits.must >> at & 1]
        rest = sorted(set(places) - set(must), key=lambda at: -self.costs.presses[at])
        kept = sorted([*must, *rest][:MOST_FREE])
        spared = sum(self.costs.presses[at] for at in places if at not in kept)
        self.outcome.switched, self.outcome.left_out = len(places), len(places) - len(kept)
        self._spared = spared
        return kept

    _spared = 0

    @property
    def _nodes(self) -> int:
        return self.effort.nodes if self.costs.free or self.needs.kept else 0

    # ------------------------------------------------------------ the search

    def run(self) -> SearchOutcome:
        """Search; whatever stops it, the best so far is kept."""
        outcome = self.outcome
        try:
            sets, bounds = self.candidates()
            outcome.sets = len(sets)
            self.control.stop_if_over()
            if self.costs.free and not self.toggling and len(sets):
                self._dive(int(sets[int(bounds.argmin())]))
            elif not self.toggling:
                for seed in self._seeds_allowed():
                    self._try(seed)
            order = self._in_order(sets, bounds)
            self._price(order)
            if self.effort.deep:
                self._settle()
        except Stopped:
            outcome.complete = False
        outcome.designs.sort(key=lambda design: design.key)
        if outcome.designs:
            best = outcome.designs[0]
            outcome.unsettled = sorted(self._unsettled)
            floor = [bound for bound, _ in self._unsettled]
            outcome.bound = min([best.cost, *floor])
            if not outcome.complete:
                outcome.bound = min(outcome.bound, self._reached)
            outcome.bound = max(0, outcome.bound - self._spared)
        return outcome

    _reached = 0
    """Every set whose bound is below this has been looked at."""

    def _in_order(self, sets: Ints, bounds: Ints) -> Iterator[tuple[Ints, Ints]]:
        """Sets from the lowest bound on, in batches."""
        if not len(sets):
            return
        low = int(bounds.min())
        step = 1
        while True:
            high = low + step
            some = picked(bounds, partial(_between, bounds, low, high), self.control)
            if len(some):
                some = some[np.lexsort((sets[some], bounds[some]))]
                size = _SMALL_BATCH if self.costs.free else _BATCH
                for at in range(0, len(some), size):
                    yield sets[some[at : at + size]], bounds[some[at : at + size]]
            above = [
                int(piece[piece >= high].min(initial=_END))
                for piece in (bounds[rows] for rows in pieces(len(bounds), self.control))
            ]
            if min(above) == _END:
                return
            if len(some) < _SMALL_BATCH:
                step *= 2
            low = min(above)

    def _best(self) -> int:
        return min((design.cost for design in self.outcome.designs), default=_END)

    def _price(self, order: Iterator[tuple[Ints, Ints]]) -> None:
        ties = looks = 0
        for sets, bounds in order:
            self._reached = int(bounds[0])
            self.control.tell(
                "looking at sets of pedals",
                min(1.0, self.outcome.looked / max(1, self.outcome.sets)),
                bound=self._floor(),
            )
            if self._reached > self._limit():
                return
            if self.outcome.looked > self.effort.passes:
                raise Stopped
            possible = self._storable(sets)
            possible &= ~self._cliques.rules_out(sets, possible)
            nth, looked = 0, self.outcome.looked
            while nth < len(sets):
                left = np.flatnonzero(possible[nth:])
                if not len(left):
                    break
                nth += int(left[0])
                bound = int(bounds[nth])
                self.outcome.looked = looked + nth + 1
                if bound > self._limit():
                    return
                if bound >= self._best():
                    ties += 1
                    if ties > _MOST_TIES:
                        self.outcome.listed = False
                        return
                looks += 1
                if looks > self.effort.looks:
                    self._reached = bound
                    raise Stopped
                known = self._cliques.version
                self._look(int(sets[nth]))
                nth += 1
                if self._cliques.version != known:
                    possible[nth:] &= ~self._cliques.rules_out(sets[nth:], possible[nth:])
            self.outcome.looked = looked + len(sets)

    def _floor(self) -> int:
        """No design costs less, as far as is known by now."""
        floors = [bound for bound, _ in self._unsettled]
        return max(0, min([self._reached, self._best(), *floors]) - self._spared)

    def _limit(self) -> int:
        best = self._best()
        return best if best >= _END else max(self.limit, int(best * (1 + self.slack)))

    def _dive(self, mask: int) -> None:
        """Find a good design soon: pedals out until the presets fit, then exchanges that help.

        It proves nothing, but with it at hand the search proper can leave out more.
        """
        looks, most = 0, self.effort.dives
        for seed in self._seeds_allowed():
            self._try(seed)
        while not self.outcome.designs and not self._try(mask) and looks < most:
            looks += 1
            near = self._neighbours(mask, out=True)
            if not near:
                return
            mask = near[0][1]
        while self.outcome.designs and looks < most:
            best = self.outcome.designs[0]
            near = [(b, m) for b, m in self._neighbours(best.inside) if b < best.cost]
            for _, other in near:
                looks += 1
                if looks >= most or self._try(other):
                    break
            if self.outcome.designs[0] is best:
                return

    def _seeds_allowed(self) -> list[int]:
        seeds = np.array(self.seeds, dtype=np.int64)
        return [int(mask) for mask in seeds[self.limits.allowed(seeds) & self.limits.wired(seeds)]]

    def _try(self, mask: int) -> bool:
        """Price a set; return whether that gave a better design."""
        before = self._best()
        self.control.tell("a first design", 0.0)
        row = np.array([mask])
        if self._cliques.rules_out(row, np.ones(1, dtype=bool))[0]:
            return False
        for groups in self._groupings(mask):
            walks = self.costs.walks(groups)
            kept = [cube_of(sound, groups) for sound in self.needs.kept.values()]
            packed = pack(walks, kept, self.memories, control=self.control)
            self._tried[groups] = packed
            if isinstance(packed, Packing):
                cost = self.costs.apart + self.costs.outside(~mask) + packed.recalls
                if cost < before:
                    worst = self._worst.of(groups, packed)
                    self._keep(Design(groups, cost, cost, worst, packed))
            elif isinstance(packed, TooMany):
                self._cliques.learn(self.costs.sounds_of(walks, packed.clique))
        return self._best() < before

    def _neighbours(self, mask: int, *, out: bool = False) -> list[tuple[int, int]]:
        """Sets one pedal away (with `out`, one pedal fewer), the least bound first."""
        places = [1 << at for at in range(len(self.needs.pedals)) if self.choosable >> at & 1]
        inside = [bit for bit in places if mask & bit]
        sets = [mask & ~bit for bit in inside]
        if not out:
            others = [bit for bit in places if not mask & bit]
            sets += [mask | bit for bit in others]
            sets += [mask & ~bit | other for bit in inside for other in others]
        every = np.array(sets, dtype=np.int64)
        if not len(every):
            return []
        every = every[self.limits.allowed(every) & self.limits.wired(every)]
        return sorted(zip(self.costs.bounds(every).tolist(), every.tolist()))

    def _storable(self, sets: Ints) -> npt.NDArray[np.bool_]:
        """Where nothing is free: whether the presets of each set can all be stored."""
        if self.costs.free or self.toggling or self.needs.kept:
            return np.ones(len(sets), dtype=bool)
        switched = self.limits.switched
        heard = [sound for song in self.needs.played for sound in song.sounds]
        sounds = {(sound.on & switched, sound.channel) for sound in heard}
        on = np.array([mask for mask, _ in sounds], dtype=np.int64)
        channel = np.array([channel for _, channel in sounds], dtype=np.int64) + 1
        if not len(on):
            return np.ones(len(sets), dtype=bool)
        held = (on[None, :] & sets[:, None]) * np.int64(64) + channel[None, :] % 64
        held.sort(axis=1)
        count = 1 + (held[:, 1:] != held[:, :-1]).sum(axis=1)
        fits: npt.NDArray[np.bool_] = count <= self.memories
        return fits

    def _look(self, mask: int) -> None:
        """Price a set of pedals in loops, shared out in every way that fits."""
        groupings = list(self._groupings(mask))
        for groups in groupings:
            self.control.stop_if_over()
            self._offer(groups, self._pack(groups, self._nodes))

    def _groupings(self, mask: int) -> Iterator[tuple[int, ...]]:
        """Ways to share the loops; the last is as sparing with loops as can be."""
        sparing = next(self.limits.groupings(mask, fewest=True))
        if self.costs.free:
            yield from (groups for groups in self.limits.groupings(mask) if groups != sparing)
        if self.limits.holds(sparing):
            yield sparing

    def _pack(self, groups: tuple[int, ...], nodes: int) -> Packing | Toggled | TooMany | None:
        walks = self.costs.walks(groups)
        kept = [cube_of(sound, groups) for sound in self.needs.kept.values()]
        if self.toggling:
            return with_toggles(walks, kept, self.memories, len(groups), self.control)
        tried = self._tried.get(groups)
        if isinstance(tried, Packing) and tried.recalls <= tried.bound:
            return tried
        packed = pack(walks, kept, self.memories, nodes=nodes, control=self.control)
        if isinstance(packed, TooMany):
            self._cliques.learn(self.costs.sounds_of(walks, packed.clique))
        return packed

    def _offer(self, groups: tuple[int, ...], packed: Packing | Toggled | TooMany | None) -> None:
        apart = self.costs.apart + self.costs.outside(~sum(groups))
        if packed is None:
            bound = apart + least_recalls(self.costs.walks(groups))
            self._unsettled.append((bound, groups))
            return
        if isinstance(packed, TooMany):
            return
        cost = apart + packed.recalls
        if packed.bound < packed.recalls:
            self._unsettled.append((apart + packed.bound, groups))
        if cost > self._limit():
            return
        worst = self._worst.of(groups, packed)
        self._keep(Design(groups, cost, apart + packed.bound, worst, packed))

    def _keep(self, design: Design) -> None:
        designs = self.outcome.designs
        designs[:] = [
            rival for rival in designs if rival.groups != design.groups or rival.key <= design.key
        ]
        if all(rival.groups != design.groups for rival in designs):
            designs.append(design)
        designs.sort(key=lambda rival: rival.key)
        limit = self._limit()
        designs[:] = [rival for rival in designs if rival.cost <= limit]
        if len(designs) > self.most_kept:
            self.outcome.listed = False
            del designs[self.most_kept :]
        if self._better is not None and designs and designs[0] is design:
            self._better(design)

    def _settle(self) -> None:
        """Search deeper where the quick ways left a gap, the most promising first."""
        while self._unsettled:
            self._unsettled.sort()
            bound, groups = self._unsettled[0]
            if bound >= self._best():
                return
            self.control.tell("closing the gap", 0.5, bound=max(0, bound - self._spared))
            packed = self._pack(groups, _DEEP_NODES)
            if packed is None:
                return
            self._unsettled.pop(0)
            self._offer(groups, packed)
            if not isinstance(packed, TooMany) and packed.bound < packed.recalls:
                return
