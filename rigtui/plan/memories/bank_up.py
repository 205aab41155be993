"""Banks that are only stepped upward, exactly: bank by bank, over sets of presets.

From bank i up to bank j it is j - i steps, and a whole round of B banks more where j is below i.
So the steps come to the sum over presets of (bank times how much more often it is come to than
gone from), plus B for each change to a lower bank. Filling the banks from the first on, the
presets of a bank cost their share of the first sum, and B for every change from them to those
below; g(t, S), the least with the presets S in the first t banks, follows from g(t - 1).
"""

from __future__ import annotations

import itertools
import math

import numpy as np

from rigtui.plan.ask.control import Control
from rigtui.plan.memories.banks import BankProblem, Best, Ints
from rigtui.plan.memories.cuts import Table, pieces, sums

_MOST_NODES = 20
_MOST_STEPS = 100_000_000
"""Pairs of sets that are looked at: a few seconds."""
_FAR = 1 << 30


def best_up(problem: BankProblem, best: Best, control: Control) -> bool:
    """Find the best partition where banks are only stepped upward; return whether it applies."""
    n, banks = problem.n, problem.banks
    if not problem.up_only or banks < 3 or n > _MOST_NODES or _work(problem) > _MOST_STEPS:
        return False
    if int(problem.flow.sum()) * banks * 2 >= _FAR:
        return False
    flow = problem.flow.astype(np.int32)
    np.fill_diagonal(flow, 0)
    towards: list[Table] = []
    for row in flow:
        control.stop_if_over()
        towards.append(sums(row * np.int32(banks)))
    more = (flow.sum(axis=0) - flow.sum(axis=1)).tolist()
    table = np.full(1 << n, _FAR, dtype=np.int32)
    table[0] = 0
    choices: list[Ints] = []
    for bank in range(banks):
        table, choice = _next(problem, bank, table, towards, more, control)
        choices.append(choice)
    everything = (1 << n) - 1
    if table[everything] >= _FAR:
        return False
    at, left = [0] * n, everything
    for bank in range(banks - 1, -1, -1):
        members = int(choices[bank][left])
        for preset in range(n):
            if members >> preset & 1:
                at[preset] = bank
        left ^= members
    best.offer(at)
    return True


def _next(
    problem: BankProblem,
    bank: int,
    table: Table,
    towards: list[Table],
    more: list[int],
    control: Control,
) -> tuple[Table, Ints]:
    """One more bank: the least for each set, and what the bank holds then."""
    n = problem.n
    low, high = _span(problem, bank)
    known = np.flatnonzero(table < _FAR)
    held = np.bitwise_count(known)
    ahead = np.full(1 << n, _FAR, dtype=np.int32)
    choice = np.zeros(1 << n, dtype=np.int64)
    pinned = sum(1 << preset for preset, where in problem.pins.items() if where == bank)
    others = sum(1 << preset for preset, where in problem.pins.items() if where != bank)
    for size in range(min(problem.room[bank], n) + 1):
        fitting = known[(held + size >= low) & (held + size <= high)]
        for chosen in itertools.combinations(range(n), size):
            control.stop_if_over()
            members = sum(1 << preset for preset in chosen)
            if members & others or members & pinned != pinned:
                continue
            if problem.even and bank == 0 and not members & 1:
                continue  # by turning the ring, the first preset is in the first bank
            share = bank * sum(more[preset] for preset in chosen)
            for some in pieces(len(fitting), control):
                below = fitting[some]
                below = below[below & members == 0]
                cost = table[below] + np.int32(share)
                for preset in chosen:
                    cost += towards[preset][below]
                new = below | members
                better = cost < ahead[new]
                ahead[new[better]] = cost[better]
                choice[new[better]] = members
    return ahead, choice


def _span(problem: BankProblem, bank: int) -> tuple[int, int]:
    """The fewest and the most presets in the banks up to this one."""
    inside = sum(problem.room[: bank + 1])
    return max(0, problem.n - (sum(problem.room) - inside)), min(problem.n, inside)


def _work(problem: BankProblem) -> int:
    """About how many pairs of sets there are to look at."""
    n, total = problem.n, 0
    before = {0}
    for bank in range(problem.banks):
        low, high = _span(problem, bank)
        sizes = range(low, high + 1)
        for held, size in itertools.product(before, sizes):
            if 0 <= size - held <= problem.room[bank]:
                total += math.comb(n, held) * math.comb(n - held, size - held)
        before = set(sizes)
    return total
