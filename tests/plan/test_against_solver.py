"""The planner against CP-SAT, wherever that proves an optimum. Needs OR-Tools (extra `solvers`)."""

from __future__ import annotations

import random

import numpy as np
import pytest
from plan import solvers
from plan.evenings import evening, preset_flow

from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.needs import needs_of
from rigtui.plan.ask.question import Question
from rigtui.plan.loops.limits import limits_of
from rigtui.plan.memories.bank_solve import solve_banks
from rigtui.plan.memories.banks import BankProblem
from rigtui.plan.whole.loops import search_loops

pytest.importorskip("ortools")
pytestmark = pytest.mark.long


@pytest.mark.parametrize("seed", range(12))
def test_banks(seed: int) -> None:
    """Placements of 6 to 12 presets are those of the solver, and larger ones never worse."""
    draw = random.Random(seed)
    n, banks = draw.choice(((6, 2), (8, 2), (9, 3), (12, 3), (12, 4), (10, 5), (12, 6)))
    size = -(-n // banks)
    problem = BankProblem(preset_flow(n, songs=12, seed=seed), (size,) * banks)
    ours, theirs = solve_banks(problem), solvers.solve_banks(problem, 20)
    assert theirs.value is not None
    assert ours.cost <= theirs.value
    if theirs.proved:
        assert ours.cost == theirs.value
    if ours.proved:
        assert theirs.bound <= ours.cost


@pytest.mark.parametrize("free", [0.0, 0.2])
@pytest.mark.parametrize("memories", [128, 8, 5])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_loops(seed: int, memories: int, free: float) -> None:
    """Designs for ten pedals are those of the solver, where it proves any."""
    rig = evening(
        pedals=10, loops=4, memories=memories, songs=8, sections=5, free=free, sounds=6, seed=seed
    )
    asked = Question(keep_order=False, sharing=False)
    needs = needs_of(rig, evening_of(rig))
    limits = limits_of(rig, needs, asked)
    ours = search_loops(rig, needs, asked, Control())
    limit = None if memories == 128 else memories
    theirs = solvers.solve_loops(needs, limits, limit, 20)
    assert theirs.value is not None
    assert ours.designs[0].cost <= theirs.value
    if theirs.proved:
        assert ours.bound <= theirs.value
        assert ours.designs[0].cost == theirs.value


@pytest.mark.parametrize("seed", [1, 2])
def test_a_whole_evening(seed: int) -> None:
    """Twenty pedals, presets no object: the solver proves the same moves."""
    rig = evening(memories=128, seed=seed)
    asked = Question(keep_order=False, sharing=False)
    needs = needs_of(rig, evening_of(rig))
    ours = search_loops(rig, needs, asked, Control())
    theirs = solvers.solve_loops(needs, limits_of(rig, needs, asked), None, 60)
    assert theirs.proved
    assert theirs.value == ours.designs[0].cost == ours.bound


def test_an_odd_ring_is_half_its_arcs() -> None:
    """The solver's model of an odd ring has the steps of the counting rules."""
    flow = np.array([[0, 3, 1], [0, 0, 2], [0, 0, 0]])
    problem = BankProblem(flow, (1, 1, 1, 1, 1))
    assert solvers.solve_banks(problem, 10).value == solve_banks(problem).cost == 7
