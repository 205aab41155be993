"""Stopped wherever the player likes, a planner has a plan: at the least, the rig as it stands."""

from __future__ import annotations

import itertools
from dataclasses import replace
from types import SimpleNamespace

import pytest
from plan.test_loops import drawn
from rigs_made import make_rig
from screens import DEMOS
from tui.plan_screen import RIG

from rigtui.plan.answer import plan, stands_today
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of, figures
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Status, Stopped
from rigtui.plan.ask.so_far import ended_early
from rigtui.plan.words.outcome import proofs
from rigtui.store.load import load

KINDS = ("loops", "all", "switches", "route")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", ["three-piece", "first-rig"])
@pytest.mark.parametrize("after", [0, 1, 2, 5, 20, 80, 300])
def test_there_is_always_a_plan(name: str, kind: str, after: int) -> None:
    """A rig that can be played as it stands is the plan until a better one is found."""
    _, rig = load(DEMOS / f"{name}.toml")
    asked = itertools.count()
    made = plan(rig, Question(kind), Control(cancelled=lambda: next(asked) >= after))
    assert made.rig is not None
    assert made.after == figures(made.rig, evening_of(rig))
    assert made.lower_bound <= made.value
    assert made.goal.key(made.after) <= made.goal.key(made.before)


@pytest.mark.parametrize(
    "asked",
    [
        Question("loops", pins={"drive": "out"}),
        Question("loops", loops={"front": 1, "fx": 0}),
        Question("all", total_loops=1),
        Question("loops", memories=2),
        Question("switches", pin_switch={"dirt": 2}),
    ],
    ids=repr,
)
def test_today_is_no_plan_against_an_option(asked: Question) -> None:
    """Where the rig as it stands is not what the player asks for, the first plan that is comes."""
    rig = make_rig(**RIG)
    assert not stands_today(rig, asked)
    made = plan(rig, asked, Control(cancelled=lambda: True))
    if made.rig is None:
        assert made.status is Status.INFEASIBLE
        assert made.conflict is not None
    else:
        assert stands_today(made.rig, replace(asked, pin_switch={}))


@pytest.mark.parametrize("kind", ["loops", "all"])
@pytest.mark.parametrize("seconds", [None, 0.001])
def test_first_plan_of_a_rig_that_is_none(kind: str, seconds: float | None) -> None:
    """Presets without a memory make no plan: however soon it is time to stop, there is another."""
    _, rig = load(DEMOS / "quay-street.toml")
    assert not stands_today(rig, Question(kind))
    stop = Control(cancelled=lambda: seconds is None, seconds=seconds)
    made = plan(rig, Question(kind, seconds=seconds), stop)
    assert made.rig is not None
    assert made.status is Status.TIMED_OUT
    assert stands_today(made.rig, Question(kind))
    assert made.after == figures(made.rig, evening_of(rig))
    assert "fewer than 0" not in " ".join(proofs(made))


def test_no_first_plan_is_waited_for_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where none comes for a little while, the planner stops as asked."""
    clock = [0.0]
    monkeypatch.setattr("rigtui.plan.ask.control.time", SimpleNamespace(monotonic=lambda: clock[0]))
    control = Control(cancelled=lambda: True)
    control.first_plan = True
    while not control.over:
        clock[0] += 0.01
    assert 1 <= clock[0] <= 5
    with pytest.raises(Stopped):
        control.stop_if_over()


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("kind", KINDS)
def test_each_plan_on_the_way_is_better(kind: str, seed: int) -> None:
    """Plans that are kept on the way never get worse; the last word is no worse than any."""
    rig, _ = drawn(seed)
    kept: list[Plan] = []
    made = plan(rig, Question(kind), Control(keep=kept.append))
    keys = [better.goal.key(better.after) for better in kept if better.after is not None]
    assert keys == sorted(keys, reverse=True)
    for better in kept:
        assert better.rig is not None
        assert better.after == figures(better.rig, evening_of(rig))
    if kind == "all" and keys:
        assert made.after is not None
        assert made.goal.key(made.after) <= keys[-1]


def test_a_bound_that_is_reached_is_a_proof() -> None:
    """A plan with as many moves as are proved to be needed is proved, though it was stopped."""
    rig = make_rig(**RIG)
    early = plan(rig, Question("loops"), Control(cancelled=lambda: True))
    assert early.after is not None
    assert ended_early(early, 4).status is Status.TIMED_OUT
    weighed = early.goal.weighed(early.after)
    assert ended_early(early, weighed).proved
    assert ended_early(early, weighed + 1).lower_bound == early.value
