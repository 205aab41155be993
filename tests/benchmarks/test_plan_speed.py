"""How fast the planners are at the size of a full evening, and a general solver beside them.

Run with `pytest tests/benchmarks/test_plan_speed.py -n0 -s --benchmark-columns=min,median`. Each
test prints what was found, what was proved, and what CP-SAT (one thread, 20 s, extra `solvers`)
made of the very same instance in the same run.
"""

from __future__ import annotations

import time
from typing import Any

import pytest
from plan.evenings import evening, preset_flow, route_rig

from rigtui.moves import board_of
from rigtui.moves.least import least_moves
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of, goal_of
from rigtui.plan.ask.needs import needs_of
from rigtui.plan.ask.question import Question
from rigtui.plan.insight.curve import moves_curve
from rigtui.plan.loops.limits import limits_of
from rigtui.plan.memories.bank_solve import solve_banks
from rigtui.plan.memories.banks import BankProblem
from rigtui.plan.route.planner import song_walk
from rigtui.plan.whole.everything import plan_all
from rigtui.plan.whole.loops import search_loops

SOLVER_SECONDS = 20


def beside(ours: str, median: float, solve: Any) -> None:
    """Print our answer, and the solver's if it is installed."""
    print(f"\n  planner: {ours} in {median:.3f} s")
    pytest.importorskip("ortools")
    start = time.perf_counter()
    theirs = solve()
    took = time.perf_counter() - start
    proof = "proved" if theirs.proved else f"not proved, bound {theirs.bound}"
    print(f"  CP-SAT:  {theirs.value} ({proof}) in {took:.3f} s, {took / median:.1f} times as long")


@pytest.mark.parametrize("first", ["moves", "effort"])
@pytest.mark.parametrize(
    ("memories", "free"), [(128, 0.0), (16, 0.0), (128, 0.2), (16, 0.2)], ids=str
)
def test_loops_of_an_evening(benchmark: Any, memories: int, free: float, first: str) -> None:
    """20 pedals, 8 loops, 60 songs of 9 sections; 540 sections, all wanted or a fifth free."""
    from plan import solvers

    rig = evening(memories=memories, free=free)
    asked = Question(keep_order=False, sharing=False)
    needs = needs_of(rig, evening_of(rig))
    control = Control()
    control.goal = goal_of(rig, evening_of(rig), first)

    def plan() -> Any:
        return search_loops(rig, needs, asked, control)

    outcome = benchmark.pedantic(plan, rounds=3, warmup_rounds=0)
    best = outcome.designs[0].cost
    gap = 100 * (best - outcome.bound) / best
    assert outcome.bound <= best
    limit = None if memories == 128 else memories
    beside(
        f"{first} {best}, bound {outcome.bound} (gap {gap:.2f} %)",
        benchmark.stats.stats.median,
        lambda: solvers.solve_loops(
            needs, limits_of(rig, needs, asked), limit, SOLVER_SECONDS, goal=control.goal
        ),
    )


@pytest.mark.parametrize("seconds", [5, 20])
def test_the_whole_of_an_evening(benchmark: Any, seconds: int) -> None:
    """Loops, 16 memories and mapping together for the same evening, in so many seconds."""
    rig = evening(memories=16)
    asked = Question(keep_order=False, sharing=False)
    made = benchmark.pedantic(
        lambda: plan_all(rig, asked, Control(seconds=seconds)), rounds=1, warmup_rounds=0
    )
    without = made.details.get("without_copies", {})
    print(f"\n  effort {made.value}, bound {made.lower_bound}; without copies {without}")
    assert made.lower_bound <= made.value


@pytest.mark.parametrize(
    ("presets", "banks", "size"),
    [(16, 4, 4), (20, 5, 4), (24, 6, 4), (24, 4, 6), (28, 7, 4), (32, 4, 8), (32, 8, 4)],
    ids=str,
)
def test_presets_in_banks(benchmark: Any, presets: int, banks: int, size: int) -> None:
    """Presets of an evening on a ring of banks, all memories full."""
    from plan import solvers

    flow = preset_flow(presets)
    problem = BankProblem(flow, (size,) * banks)
    solved = benchmark.pedantic(lambda: solve_banks(problem), rounds=1, warmup_rounds=0)
    moves = int(flow.sum()) + solved.cost
    gap = 100 * (solved.cost - solved.bound) / moves
    beside(
        f"{solved.cost} bank steps, bound {solved.bound} (gap {gap:.1f} % of {moves} moves)",
        benchmark.stats.stats.median,
        lambda: solvers.solve_banks(problem, SOLVER_SECONDS),
    )


@pytest.mark.parametrize("toggling", [False, True], ids=["plain", "toggling"])
def test_route_of_540_sections(benchmark: Any, toggling: bool) -> None:
    """A walk of 540 sections over 8 loops and 4 banks of 8, a fifth of the pedals free."""
    rig = route_rig(toggling=toggling)
    walk = benchmark(song_walk, rig, rig.songs[0])
    board = board_of(rig)
    targets = [board.target(section) for section in rig.songs[0].sections]
    assert sum(len(step.presses) for step in walk) == least_moves(board, targets)


@pytest.mark.parametrize("bank_steps", [False, True], ids=["moves", "with-bank-steps"])
@pytest.mark.parametrize("memories", [128, 16])
def test_curve_over_loops(benchmark: Any, memories: int, bank_steps: bool) -> None:
    """The curve of moves against 0 to 16 loops for the same evening."""
    rig, asked = evening(memories=memories), Question(keep_order=False)
    curve = benchmark.pedantic(
        lambda: moves_curve(rig, "loops", asked, bank_steps=bank_steps), rounds=1
    )
    assert len(curve.points) == 17
