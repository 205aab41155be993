"""The planner as a process of its own: the same plan as in this one, and nothing lost between."""

from __future__ import annotations

import itertools
import subprocess
import sys

import pytest
from screens import DEMOS

from rigtui.plan.answer import plan
from rigtui.plan.ask.control import Control, Progress
from rigtui.plan.ask.evening import evening_of, figures
from rigtui.plan.ask.question import KINDS, Question
from rigtui.plan.ask.result import Plan, Status
from rigtui.plan.wire import answer_of, error_line, plan_line, progress_line, task_line, task_of
from rigtui.store.load import load

RIGS = sorted(DEMOS.glob("*.toml"))


@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_task_there_and_back(path) -> None:
    """A rig and a question come out as they went in, dates and all."""
    _, rig = load(path)
    question = Question("switches", ("one",), 2.5, pin_switch={"lead": 3}, copies=1)
    assert task_of(task_line(rig, question)) == (rig, question)


@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_plan_there_and_back(path) -> None:
    """A plan comes out as it went in; rows that it leaves alone are the very rows of the rig."""
    _, rig = load(path)
    made = plan(rig, Question("route"))
    back = answer_of(plan_line(made, rig), rig)
    assert isinstance(back, Plan)
    assert back.rig == made.rig
    assert (back.after, back.lower_bound, back.steps) == (made.after, made.lower_bound, made.steps)
    assert back.rig is not None
    assert back.rig.presets is rig.presets
    assert all(new is old or new != old for new, old in zip(back.rig.songs, rig.songs))


def test_progress_and_errors_there_and_back() -> None:
    """Progress stays what it is, and an error becomes its words."""
    _, rig = load(RIGS[0])
    progress = Progress("placing", 0.5, 12, 8)
    assert answer_of(progress_line(progress), rig) == progress
    assert answer_of(error_line("no [such] é\u001b"), rig) == "no [such] é\u001b"


def test_process_gives_the_same_plan() -> None:
    """`python -m rigtui.plan` answers a task with progress and then the plan."""
    _, rig = load(DEMOS / "first-rig.toml")
    question = Question("route")
    done = subprocess.run(
        [sys.executable, "-m", "rigtui.plan"],
        input=task_line(rig, question),
        capture_output=True,
        text=True,
        check=True,
    )
    *before, last = (answer_of(line, rig) for line in done.stdout.splitlines())
    so_far = [told for told in before if isinstance(told, Plan)]
    assert so_far
    assert all(isinstance(told, (Plan, Progress)) for told in before)
    for told in so_far:
        assert told.rig is not None
        assert told.after == figures(told.rig, evening_of(rig))
    assert isinstance(last, Plan)
    assert (last.rig, last.after) == ((made := plan(rig, question)).rig, made.after)
    assert done.stderr == ""


def test_process_says_what_makes_no_sense() -> None:
    """A question that makes no sense is answered in words, not with a traceback."""
    _, rig = load(DEMOS / "first-rig.toml")
    done = subprocess.run(
        [sys.executable, "-m", "rigtui.plan"],
        input=task_line(rig, Question("route", ("nowhere",))),
        capture_output=True,
        text=True,
        check=True,
    )
    answer = answer_of(done.stdout.splitlines()[-1], rig)
    assert isinstance(answer, str)
    assert "nowhere" in answer
    assert done.stderr == ""


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_stopped_at_once(path, kind: str) -> None:
    """A planner that is stopped before it has begun gives what it has, or a plan without a rig."""
    _, rig = load(path)
    made = plan(rig, Question(kind), Control(cancelled=lambda: True))
    assert made.kind == kind
    assert made.before.moves > 0
    assert made.status is not Status.INFEASIBLE or made.conflict is not None
    if made.after is not None:
        assert made.rig is not None
        assert made.after == figures(made.rig, evening_of(rig))


@pytest.mark.parametrize("after", [1, 3, 10, 30])
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", ["quay-street", "three-piece"])
def test_stopped_on_the_way(name: str, kind: str, after: int) -> None:
    """Wherever it is stopped, a plan's moves are those that are counted on its rig."""
    _, rig = load(DEMOS / f"{name}.toml")
    asked = itertools.count()
    made = plan(rig, Question(kind), Control(cancelled=lambda: next(asked) >= after))
    if kind in ("curve", "explain"):  # they change nothing, so there is no rig to count on
        assert (made.rig, made.after) == (None, None)
        return
    if (name, kind) == ("quay-street", "switches"):  # more presets than memories
        assert (made.rig, made.status) == (None, Status.INFEASIBLE)
        return
    assert made.rig is not None
    assert made.after == figures(made.rig, evening_of(rig))
    assert made.lower_bound <= made.value
