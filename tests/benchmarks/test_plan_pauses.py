"""How soon a planner stops: the longest stretch of work without asking whether to.

Run with: python -m pytest tests/benchmarks/test_plan_pauses.py -o addopts= \
--import-mode=importlib -o pythonpath=tests -p no:xdist -s
Target: 50 ms between two questions, on an idle machine.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from benchmarks.rigs import big_data
from plan.evenings import evening, preset_flow
from plan.pauses import pauses

from rigtui.model import Rig
from rigtui.plan.answer import plan
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.question import KINDS, Question
from rigtui.plan.memories.bank_solve import solve_banks
from rigtui.plan.memories.banks import BankProblem

SECONDS = 5.0

RIGS: dict[str, Callable[[], Rig]] = {
    "evening": lambda: evening(memories=16),
    "evening-free": lambda: evening(memories=16, free=0.2),
    "22-pedals": lambda: evening(pedals=22, memories=128),
    "toggling": lambda: evening(memories=8, loop_switches=True),
    "500-songs": lambda: Rig.model_validate(big_data()),
}


def show(work: Callable[[Control], object]) -> None:
    """Print the longest stretches."""
    noted = pauses(work, SECONDS)
    print(f"\n  asked {noted.asked} times")
    for seconds, where in noted.worst(3):
        print(f"  {1000 * seconds:4.0f} ms  {where}")


@pytest.mark.parametrize(
    ("presets", "size", "banks", "up"),
    [
        (24, 8, 3, False), (24, 4, 6, False), (24, 6, 4, False), (30, 6, 5, False),
        (32, 4, 8, False), (32, 8, 4, False), (34, 17, 2, False), (24, 4, 14, False),
        (24, 4, 8, True), (128, 4, 32, False),
    ],
)  # fmt: skip
def test_banks(presets: int, size: int, banks: int, *, up: bool) -> None:
    """Placing presets, on rings of every kind."""
    problem = BankProblem(preset_flow(presets), (size,) * banks, up)
    show(lambda control: solve_banks(problem, control))


@pytest.mark.parametrize("order", ["any", "kept"])
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("rig", RIGS)
def test_planners(rig: str, kind: str, order: str) -> None:
    """Every planner, from reading the songs to writing the plan."""
    made = RIGS[rig]()
    question = Question(kind, keep_order=order == "kept")
    show(lambda control: plan(made, question, control))
