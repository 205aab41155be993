"""Which solver for which ring or line of banks: from a good answer to a proved one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from rigtui.plan.ask.control import Control
from rigtui.plan.ask.result import Stopped
from rigtui.plan.memories.bank_line import best_line
from rigtui.plan.memories.bank_pairs import pair_bound
from rigtui.plan.memories.bank_ring import best_ring
from rigtui.plan.memories.bank_search import branch, search
from rigtui.plan.memories.bank_up import best_up
from rigtui.plan.memories.bank_wide import best_half_empty, best_wide
from rigtui.plan.memories.banks import Banking, BankProblem, Best, Partition
from rigtui.plan.memories.cuts import steps_bound

_BRANCH_NODES = 40_000
_BRANCH_MOST = 11
_TINY = 6


def solve_banks(
    problem: BankProblem,
    control: Control | None = None,
    *,
    start: Partition | None = None,
    rounds: int = 450,
    exact: bool = True,
) -> Banking:
    """Put presets in banks with the fewest bank steps.

    Args:
        problem: The presets; there must be room for all.
        control: Stops the search; the best so far is given then.
        start: A partition to do at least as well as, e.g. the one as it stands.
        rounds: Steps of the first search by swapping.
        exact: Whether to go on for a proof.
    """
    control = control or Control()
    busy = [
        preset
        for preset in range(problem.n)
        if problem.weight[preset].any() or preset in problem.pins
    ]
    if len(busy) < problem.n:
        part = _only(problem, busy)
        sub = None if start is None else tuple(start[preset] for preset in busy)
        banking = solve_banks(part, control, start=sub, rounds=rounds, exact=exact)
        filled = tuple(_filled(problem, busy, partition, start) for partition in banking.partitions)
        return Banking(banking.cost, banking.bound, filled, banking.method)
    best = Best(problem)
    if start is not None and problem.fits(start):
        best.offer(start)
    if not problem.n:
        return Banking(0, 0, ((),), "nothing to place")
    if problem.banks == 1 or not problem.weight.any():
        best.offer(_any(problem))
        return Banking(best.cost, best.cost, tuple(best.partitions), "one bank does")
    if exact and problem.n <= _TINY and branch(problem, best, _BRANCH_NODES, control):
        return Banking(best.cost, best.cost, tuple(best.partitions), "branch and bound")
    search(problem, best, rounds, control, first=start if best.partitions else None)
    if not (exact and problem.tabled):
        return Banking(best.cost, 0, tuple(best.partitions), "search by swapping")
    return _proved(problem, best, control)


def _proved(problem: BankProblem, best: Best, control: Control) -> Banking:
    bound, method = 0, "search by swapping"
    try:
        if best_line(problem, best, control) or best_up(problem, best, control):
            bound, method = best.cost, "sets of presets, bank by bank"
        else:
            ring = best_ring(problem, best, control)
            if ring is not None:
                bound, method = ring, "light cuts of the ring"
        small = bound < best.cost and problem.n <= _BRANCH_MOST
        if small and branch(problem, best, _BRANCH_NODES, control):
            bound, method = best.cost, "branch and bound"
        round_and_round = not (problem.up_only or problem.in_line)
        tuples = problem.banks >= 5 or problem.banks == 3
        if bound < best.cost and tuples and round_and_round:
            for solver in (best_half_empty, best_wide) if problem.banks >= 5 else (best_wide,):
                bound = max(bound, solver(problem, best, control))
                if bound >= best.cost:
                    break
            method = "light cuts of the ring"
        if bound < best.cost:
            bound = max(bound, steps_bound(problem, control))
        if bound < best.cost and round_and_round:
            bound = max(bound, pair_bound(problem, best.cost, control))
    except Stopped:
        method += ", stopped early"
    return Banking(best.cost, min(bound, best.cost), tuple(best.partitions), method)


def _only(problem: BankProblem, kept: list[int]) -> BankProblem:
    place = {preset: at for at, preset in enumerate(kept)}
    pins = {place[preset]: bank for preset, bank in problem.pins.items()}
    return replace(problem, flow=problem.flow[np.ix_(kept, kept)], pins=pins)


def _filled(
    problem: BankProblem, busy: list[int], partition: Partition, start: Partition | None
) -> Partition:
    """Put the presets that are never changed to or from where there is room."""
    at = [-1] * problem.n
    room = list(problem.room)
    for preset, bank in zip(busy, partition):
        at[preset] = bank
        room[bank] -= 1
    for preset in range(problem.n):
        if at[preset] < 0:
            wish = start[preset] if start is not None else 0
            bank = wish if room[wish] > 0 else next(b for b, free in enumerate(room) if free > 0)
            at[preset] = bank
            room[bank] -= 1
    return tuple(at)


def _any(problem: BankProblem) -> Partition:
    return _filled(problem, list(problem.pins), tuple(problem.pins.values()), None)
