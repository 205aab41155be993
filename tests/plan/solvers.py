"""The planner's questions put to a general solver (OR-Tools CP-SAT), to compare with.

The models are as tight as could be made: steps on a ring as half the cuts of its halves, recalls
by the interval of each pedal between opposite wishes. OR-Tools is a test extra, never needed to
run the program.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Any

from rigtui.plan.ask.goal import Goal
from rigtui.plan.ask.needs import Needs
from rigtui.plan.loops.costs import LoopCosts
from rigtui.plan.loops.layouts import LayoutLimits
from rigtui.plan.memories.banks import BankProblem


@dataclass(frozen=True, slots=True)
class Solved:
    """What a solver said."""

    value: int | None
    bound: int
    proved: bool
    possible: bool
    seconds: float


def _solve(model: Any, seconds: float, workers: int) -> Solved:
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    status = solver.solve(model)
    solved = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return Solved(
        round(solver.objective_value) if solved else None,
        round(solver.best_objective_bound) if status != cp_model.INFEASIBLE else 0,
        status == cp_model.OPTIMAL,
        status != cp_model.INFEASIBLE,
        solver.wall_time,
    )


def solve_banks(problem: BankProblem, seconds: float, workers: int = 1) -> Solved:
    """Presets in banks; the ring of banks as its halves (or arcs, on an odd ring)."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    n, banks = problem.n, problem.banks
    at = [[model.new_bool_var(f"x{p},{b}") for b in range(banks)] for p in range(n)]
    for preset in range(n):
        model.add_exactly_one(at[preset])
    for bank in range(banks):
        model.add(sum(at[preset][bank] for preset in range(n)) <= problem.room[bank])
    for preset, bank in problem.pins.items():
        model.add(at[preset][bank] == 1)
    if problem.even:
        model.add(at[0][0] == 1)
    half = banks // 2
    arcs = range(banks if banks % 2 else half)
    terms = []
    for first in arcs:
        inside = [
            sum(at[preset][(first + step) % banks] for step in range(half)) for preset in range(n)
        ]
        for a, b in itertools.combinations(range(n), 2):
            weight = int(problem.weight[a, b])
            if weight:
                apart = model.new_bool_var(f"d{first},{a},{b}")
                model.add(apart >= inside[a] - inside[b])
                model.add(apart >= inside[b] - inside[a])
                terms.append(weight * apart)
    if banks % 2:
        total = model.new_int_var(0, 10**6, "steps")
        model.add(2 * total == sum(terms))
        model.minimize(total)
    else:
        model.minimize(sum(terms))
    return _solve(model, seconds, workers)


def solve_loops(
    needs: Needs,
    limits: LayoutLimits,
    memories: int | None,
    seconds: float,
    workers: int = 1,
    goal: Goal | None = None,
) -> Solved:
    """Pedals in loops: any set of switched pedals, none sharing a loop, at most so many presets.

    What presses weigh by a goal is taken from the planner, so the two compare the search alone.

    Only for rigs without kept presets, channels, or songs that start from power-on.
    """
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    costs = LoopCosts(needs, goal)
    prices = [song.prices for song in costs.walks(())]
    switched = [at for at in range(len(needs.pedals)) if limits.switched >> at & 1]
    inside = {at: model.new_bool_var(f"in{at}") for at in switched}
    for at in switched:
        if limits.must >> at & 1:
            model.add(inside[at] == 1)
        if limits.never >> at & 1:
            model.add(inside[at] == 0)
    for side, count in limits.loops.items():
        model.add(sum(inside[at] for at in switched if needs.sides[at] == side) <= count)
    price = [costs.presses[at] * (1 - inside[at]) for at in switched]
    presets = range(memories or 0)
    on = {(k, at): model.new_bool_var(f"on{k},{at}") for k in presets for at in switched}
    uses: dict[tuple[int, int], list[Any]] = {}
    for song, weights in zip(needs.played, prices):
        recall = [model.new_bool_var("") for _ in song.sounds]
        for nth in range(1, len(song.sounds)):
            price.append(song.times * weights[nth] * recall[nth])
        for at in switched:
            last: tuple[int, bool] | None = None
            for nth, sound in enumerate(song.sounds):
                if not (sound.on | sound.off) >> at & 1:
                    continue
                wanted = bool(sound.on >> at & 1)
                if last is not None and last[1] != wanted:
                    model.add(sum(recall[last[0] + 1 : nth + 1]) >= inside[at])
                last = (nth, wanted)
        if memories is None:
            continue
        before: list[Any] | None = None
        for nth, sound in enumerate(song.sounds):
            key = (sound.on & limits.switched, sound.off & limits.switched)
            fixed = not costs.free  # with nothing free, equal sounds may well use one preset
            row = uses.get(key) if fixed else None
            if row is None:
                row = [model.new_bool_var("") for _ in presets]
                model.add_exactly_one(row)
                for k in presets:
                    for at in switched:
                        if sound.on >> at & 1:
                            model.add_bool_or([~row[k], on[k, at], ~inside[at]])
                        elif sound.off >> at & 1:
                            model.add_bool_or([~row[k], ~on[k, at], ~inside[at]])
                uses[key] = row
            if before is not None and before is not row:
                for k in presets:
                    model.add(recall[nth] >= row[k] - before[k])
            before = row
    model.minimize(sum(price) + costs.apart)
    return _solve(model, seconds, workers)
