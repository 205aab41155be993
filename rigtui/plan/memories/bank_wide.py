"""Rings of five banks and more: tuples of light cuts that fit together, and rings half empty.

What it is worth, measured on 20 rings of 5 to 8 banks and 10 to 24 presets: 17 are proved, in up to
0.7 s; without it 2 are. Beyond that (7 banks of 3, full: 21 presets) it gives up after 10 s.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.control import Control
from rigtui.plan.ask.result import Stopped
from rigtui.plan.memories.bank_line import BankLine, least_chains
from rigtui.plan.memories.banks import BankProblem, Best, Ints
from rigtui.plan.memories.cuts import MOST_NODES, light_sets, lightest_cut

_MOST_SETS = 1_500_000
_MOST_LOOKS = 2_000_000_000
"""Sets compared before giving up: a few seconds."""

_Cell = tuple[int, tuple[int, ...]]
"""Presets that no cut has parted yet, and the banks that they must share out among them."""


def best_wide(problem: BankProblem, best: Best, control: Control) -> int:
    """Find the best partition by fitting light cuts together; return a proven bound.

    The ring of 2m banks has m ways to be halved; the ring of 2m + 1 has as many arcs of m banks
    as banks, and twice the steps are the sum of their cuts. The sum must come to less than the
    best so far, so each cut must be light, and few are.
    """
    search = _Wide(problem, best, control)
    return search.run()


class _Wide:
    def __init__(self, problem: BankProblem, best: Best, control: Control) -> None:
        self.problem, self.best, self.control = problem, best, control
        banks = problem.banks
        arc = banks // 2
        self.twice = 2 if banks % 2 else 1
        """Steps times this are the sum of the cuts."""
        count = banks if banks % 2 else arc
        order = [(step * arc) % banks for step in range(count)] if banks % 2 else range(arc)
        self.arcs = [frozenset((first + at) % banks for at in range(arc)) for first in order]
        """Apart first: two arcs that do not meet leave the least to choose."""
        self.looks = 0
        self.reached = 0
        """Where the ring can be turned: no partition whose lightest cut is below this is better."""

    def run(self) -> int:
        problem, n = self.problem, self.problem.n
        total = sum(problem.room)
        spans = []
        for arc in self.arcs:
            inside = sum(problem.room[bank] for bank in arc)
            spans.append((max(0, n - (total - inside)), min(n, inside)))
        low, high = min(a for a, _ in spans), max(b for _, b in spans)
        least = lightest_cut(problem.weight, low, high, self.control)
        bound = -(-least * len(self.arcs) // self.twice)
        if low == 0 or bound >= self.best.cost:
            return min(bound, self.best.cost)
        self.least = least
        most = self.best.cost * self.twice - (len(self.arcs) - 1) * least
        listed = light_sets(problem.weight, low, high, most, _MOST_SETS, self.control)
        if listed is None:
            return bound
        masks, cuts = listed
        size = np.bitwise_count(masks)
        self.lists: list[tuple[Ints, Ints]] = []
        for arc, (a, b) in zip(self.arcs, spans):
            kept = (size >= a) & (size <= b)
            for preset, bank in problem.pins.items():
                kept &= (masks >> preset & 1 == 1) == (bank in arc)
            self.lists.append((masks[kept], cuts[kept]))
        everything = (1 << n) - 1
        cells: list[_Cell] = [(everything, tuple(range(problem.banks)))]
        try:
            done = self._descend(0, 0, cells, least)
        except Stopped:
            done = False
        if done:
            return self.best.cost
        return min(self.best.cost, max(bound, -(-self.reached * len(self.arcs) // self.twice)))

    def _descend(self, depth: int, cost: int, cells: list[_Cell], least: int) -> bool:
        """Choose the next cut; `least` is what each further one costs at least."""
        masks, cuts = self.lists[depth]
        left = len(self.arcs) - depth - 1
        most = self.best.cost * self.twice - cost - left * least
        end = int(np.searchsorted(cuts, most, side="right"))
        begin = 0
        if self.problem.even and depth:  # by turning the ring, the lightest cut comes first
            begin = int(np.searchsorted(cuts, least, side="left"))
        if begin >= end:
            return True
        self.looks += (end - begin) * len(cells)
        self.control.stop_if_over()
        if self.looks > _MOST_LOOKS:
            return False
        fits = self._fitting(masks[begin:end], cells, self.arcs[depth])
        for at in begin + np.flatnonzero(fits):
            cut = int(cuts[at])
            if not depth and self.problem.even:
                self.reached = cut
            floor = cut if self.problem.even and not depth else least
            total = cost + cut
            if total + left * floor > self.best.cost * self.twice:
                break
            parted = self._part(int(masks[at]), cells, self.arcs[depth])
            if not left:
                self._offer(parted)
            elif not self._descend(depth + 1, total, parted, floor):
                return False
        return True

    def _fitting(
        self, masks: Ints, cells: list[_Cell], arc: frozenset[int]
    ) -> npt.NDArray[np.bool_]:
        """Which cuts part every cell so that its banks hold it."""
        room = self.problem.room
        fits = np.ones(len(masks), dtype=bool)
        for mask, banks in cells:
            within = np.bitwise_count(masks & mask)
            inside = sum(room[bank] for bank in banks if bank in arc)
            outside = sum(room[bank] for bank in banks if bank not in arc)
            fits &= (within <= inside) & (mask.bit_count() - within <= outside)
        return fits

    def _part(self, cut: int, cells: list[_Cell], arc: frozenset[int]) -> list[_Cell]:
        parted = []
        for mask, banks in cells:
            inside = tuple(bank for bank in banks if bank in arc)
            outside = tuple(bank for bank in banks if bank not in arc)
            parted += [(mask & cut, inside)] if inside else []
            parted += [(mask & ~cut, outside)] if outside else []
        return parted

    def _offer(self, cells: list[_Cell]) -> None:
        at = [0] * self.problem.n
        for mask, banks in cells:
            for preset in range(self.problem.n):
                if mask >> preset & 1:
                    at[preset] = banks[0]
        if self.problem.fits(at):
            self.best.offer(at)


def best_half_empty(problem: BankProblem, best: Best, control: Control) -> int:
    """Find the best partition of a ring with banks to spare; return a proven bound.

    Either the banks in use span at most half the ring and are a line, or there are so many of
    them that every cut of the ring has a fair share of presets on both sides, and that costs.
    """
    size, n, banks = max(problem.room), problem.n, problem.banks
    full = sum(room == size for room in problem.room)
    half = banks // 2 + 1
    if problem.pins or problem.up_only or n > MOST_NODES or full < half:
        return 0
    useful = min(2 * (n // (size + 1)) + 1, banks)
    if n <= half * size:
        for chain in least_chains(
            problem.weight, BankLine(0, (size,) * half, (0,) * half), control
        ):
            at, inside = [0] * n, 0
            for bank, mask in enumerate(chain):
                for preset in range(n):
                    if (mask & ~inside) >> preset & 1:
                        at[preset] = bank
                inside = mask
            best.offer(at)
    wide = [_spread_bound(problem, size, used, control) for used in range(half + 1, useful + 1)]
    return min([best.cost, *wide])


def _spread_bound(problem: BankProblem, size: int, used: int, control: Control) -> int:
    """Least steps with so many banks in use, side by side, no two neighbours fit for one bank."""
    banks, n = problem.banks, problem.n
    arc = banks // 2
    total = 0
    for first in range(banks):
        inside = [(first + at) % banks < used for at in range(arc)]
        outside = [(first + at) % banks < used for at in range(arc, banks)]
        low = max(_fewest(inside, size), n - sum(outside) * size)
        high = min(sum(inside) * size, n - _fewest(outside, size))
        if low > high:
            return 1 << 40  # so many banks cannot be in use
        total += lightest_cut(problem.weight, low, high, control)
    return -(-total // 2)


def _fewest(in_use: list[bool], size: int) -> int:
    """The fewest presets in a row of banks, where two neighbours hold more than a bank's room."""
    fewest = row = 0
    for used in (*in_use, False):
        if used:
            row += 1
        else:
            fewest += row // 2 * (size + 1) + row % 2
            row = 0
    return fewest
