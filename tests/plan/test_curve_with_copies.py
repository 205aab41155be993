"""Curves with copies of presets: never worse than without, held against plans and all there is."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pytest
from plan import whole_oracle
from plan.evenings import evening as evening_drawn
from plan.test_against_everything import small
from plan.test_copies import hub
from plan.test_loops import weights_of
from screens import DEMOS

from rigtui.model.edits.tables import changed
from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of, figures, goal_of
from rigtui.plan.ask.needs import needs_of
from rigtui.plan.ask.question import Question
from rigtui.plan.insight.copies import Fillings
from rigtui.plan.insight.curve import Curves, moves_curve
from rigtui.plan.insight.points import Curve
from rigtui.plan.insight.sizes import KINDS, nested, sizes_of
from rigtui.plan.insights import curves
from rigtui.plan.whole.everything import plan_all
from rigtui.plan.wire import task_line
from rigtui.plan.words.curve import sentence
from rigtui.store.load import load


def drawn(seed: int) -> tuple[Rig, Question]:
    """A small rig and what is asked, nothing pinned."""
    rig, asked = small(seed)
    return rig, replace(asked, pins={})


def whole(rig: Rig, control: Control | None = None, asked: Question | None = None) -> list[Curve]:
    """All curves of a rig, with copies for as long as the control gives."""
    found = Curves(rig, asked or Question("curve"), control)
    for kind in KINDS:
        found.over(kind)
    for _ in found.fill():
        pass
    return [found.curve(kind) for kind in KINDS]


def test_by_hand() -> None:
    """Three songs of three changes; one spare memory saves two of three bank steps.

    Twelve moves without copies, ten with one, as counted by hand where the rig is drawn.
    """
    curve = moves_curve(hub(), "memories", values=[3, 4], copies=True)
    few, own = curve.points
    assert (few.moves, own.moves) == (12, 12)
    assert few.copied is not None
    assert own.copied is not None
    assert (few.copied.moves, own.copied.moves) == (12, 10)
    assert sentence(curve).startswith(
        "with the 4 memories that you have, a plan has 0 extra presses and 10 presses (12 without "
        "copies)"
    )


def test_against_plans_and_everything() -> None:
    """On small rigs: as good as a whole plan for each switcher, and never below what there is."""
    ends: Counter[str] = Counter()
    for seed in range(1, 21):
        rig, asked = drawn(seed)
        curve = moves_curve(rig, "memories", asked, values=range(1, 5), copies=True)
        weights = weights_of(rig, asked)
        for point in curve.points:
            on = changed(rig, switcher=point.switcher)
            made = plan_all(on, asked)
            if point.copied is None:
                assert made.rig is None
                continue
            assert made.after is not None
            assert point.weight is not None
            assert point.bound <= point.copied.weight <= point.weight
            assert point.copied.weight <= curve.goal.weighed(made.after)
            weight = weights.move * point.copied.moves + weights.extra * point.copied.extra_presses
            try:
                least = whole_oracle.least(on, asked, weights, copies=True, most=3000)
            except whole_oracle.TooLarge:
                continue
            assert least is not None
            assert weight >= least
            ends["best" if weight == least else "above"] += 1
    assert ends["best"] > 60
    assert ends["above"] <= 2


@pytest.mark.parametrize("seed", range(40, 60))
def test_larger_is_never_worse(seed: int) -> None:
    """Where no way between two banks is longer; elsewhere a curve that goes up says so."""
    rig, asked = drawn(seed)
    for curve in whole(rig, asked=asked):
        known = [point for point in curve.points if point.copied is not None]
        for at, large in enumerate(known):
            assert large.copied is not None
            least = large.copied.weight
            for other in known[:at]:
                assert other.copied is not None
                if nested(curve.kind, other.switcher, large.switcher):
                    assert large.copied.weight <= other.copied.weight
                least = min(least, other.copied.weight)
            assert large.copied.better is None or least < large.copied.weight


def test_a_ring_with_more_banks_keeps_what_a_small_one_had() -> None:
    """On the evening of a realistic size each switcher does at least nearly as well as smaller.

    Twice as many banks hold what the small ring held twice over, so no way is longer.
    """
    rig = evening_drawn(pedals=6, loops=6, memories=12, songs=12, sounds=6, seed=4)
    curve = moves_curve(rig, "memories", values=(12, 24, 48), copies=True)
    weights = [point.copied.weight for point in curve.points if point.copied]
    assert len(weights) == 3
    assert weights == sorted(weights, reverse=True)
    assert weights[0] < curve.points[0].weight


def test_copies_of_today_count() -> None:
    """What is stored with copies now is a plan with copies, and none of the curve without."""
    rig = hub()
    clean = changed(rig.presets[0], copies=(4,))
    now = changed(rig, presets=(clean, *rig.presets[1:]))
    evening = evening_of(now)
    assert figures(now, evening).moves == 11  # two plays of a song take a step each
    goal, needs = goal_of(now, evening, "effort"), needs_of(now, evening)
    (own,) = sizes_of(now, needs, Question("curve"), "memories", [4])
    fillings = Fillings(now, evening, needs, goal)
    assert fillings.look(own, [], 12, Control(), 1)
    kept = fillings.at(own)
    assert kept is not None
    assert (kept.figures.moves, kept.rig) == (11, now)
    (point,) = moves_curve(now, "memories", values=[4], copies=True).points
    assert point.copied is not None
    assert (point.moves, point.copied.moves) == (12, 10)


def test_loops_of_another_curve_are_not_lent() -> None:
    """What was found for more loops than the rig has stays out of its curve of memories."""
    rig = evening_drawn(pedals=10, loops=4, memories=16, songs=10, sounds=6)
    asked = Question("curve", keep_order=False)
    alone = moves_curve(rig, "memories", asked, values=[16])
    both = Curves(rig, asked)
    both.over("loops")
    after = both.over("memories", [16])
    assert after.points[0].loops_used <= 4
    assert after.points[0].weight == alone.points[0].weight


@pytest.mark.parametrize("seconds", [1.0, 2.5])
def test_time_is_kept(seconds: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """Told to end after so long, by a clock that goes on a little at each look; nothing is lost."""
    now = [0.0]

    def clock() -> float:
        now[0] += 0.0005
        return now[0]

    monkeypatch.setattr(time, "monotonic", clock)
    rig = load(DEMOS / "quay-street.toml")[1]
    control = Control(seconds=seconds)
    made = curves(rig, Question("curve"), control)
    assert clock() < seconds + 1
    points = [point for curve in made.details["curves"] for point in curve["points"]]
    for point in points:
        if point["with_copies"] is not None:
            assert point["with_copies"]["effort"] <= point["effort"]


def test_through_the_process() -> None:
    """First without copies, then with more and more of them, never worse; the whole comes last."""
    rig = load(DEMOS / "first-rig.toml")[1]
    rig = changed(rig, switcher=changed(rig.switcher, bank_size=2, bank_buttons="up-down"))
    done = subprocess.run(
        [sys.executable, "-m", "rigtui.plan"],
        input=task_line(rig, Question("curve", seconds=20)),
        capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip
    told = [json.loads(line) for line in done.stdout.splitlines()]
    plans = [row.get("so-far") or row.get("plan") for row in told if "progress" not in row]
    rows = [
        [point for curve in plan["details"]["curves"] for point in curve["points"]]
        for plan in plans
        if len(plan["details"]["curves"]) == len(KINDS)
    ]
    assert all(point["with_copies"] is None for point in rows[0])
    assert all(point["with_copies"] for point in rows[-1] if point["moves"] is not None)
    for before, after in pairwise(rows):
        for old, new in zip(before, after):
            if old["with_copies"]:
                assert new["with_copies"]["effort"] <= old["with_copies"]["effort"]
    assert any(row["with_copies"]["effort"] < row["effort"] for row in rows[-1] if row["moves"])
