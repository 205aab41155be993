"""The head of the plan view: few lines, and nothing in them is cut off in the middle."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from planned_once import plan_once
from screens import DEMOS

from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Status
from rigtui.plan.verdict.appraisal import appraise
from rigtui.plan.words.caveats import brief_caveats
from rigtui.store.load import load
from rigtui.tui.views.plan.head import StageOfPlan, head_lines

ROOM = [(78, False, 6), (118, True, 9)]
"""Cells, whether the screen is large, and the lines that the head may have."""
KINDS = ("all", "loops", "switches", "route", "curve")


def stage_of(path: Path, question: Question) -> StageOfPlan:
    """A plan as it is shown once it has been weighed."""
    _, rig = load(path)
    made = plan_once(rig, question)
    known = appraise(made, rig, evening_of(rig))
    evening = f"All {len(rig.setlists)} setlists" if len(rig.setlists) > 1 else ""
    return StageOfPlan(
        plan=made,
        fault="",
        progress=None,
        running=False,
        stopping=False,
        seconds=1.0,
        interrupted=False,
        same=made.rig == rig,
        accepted=False,
        stale=False,
        caveats=brief_caveats(known),
        asks=True,
        evening=evening,
        known=known,
    )


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("path", sorted(DEMOS.glob("*.toml")), ids=lambda path: path.stem)
def test_the_head_is_short_and_whole(path: Path, kind: str) -> None:
    """At 80 cells six lines, at 120 nine, none of them cut; once accepted too."""
    stage = stage_of(path, Question(kind))
    assert stage.plan is not None
    assert stage.known is not None
    late = replace(stage.plan, status=Status.TIMED_OUT)
    stopped = replace(stage, plan=late, known=replace(stage.known, plan=late), interrupted=True)
    for shown in (stage, replace(stage, accepted=True), stopped, replace(stage, known=None)):
        for width, roomy, most in ROOM:
            lines = [line.text for line in head_lines(shown, width, roomy=roomy)]
            assert len(lines) <= most, lines
            assert "…" not in " ".join(lines), lines
            assert " ".join(lines).count("(") == " ".join(lines).count(")"), lines


def test_a_refusal_is_short_and_whole() -> None:
    """Why there is no plan may be a long sentence; what does not fit stands in the list."""
    stage = stage_of(
        DEMOS / "quay-street.toml",
        Question("all", memories=4, pins={"chorus": "in", "delay": "in"}),
    )
    assert stage.plan is not None
    assert stage.plan.conflict is not None
    for width, roomy, most in ROOM:
        lines = [line.text for line in head_lines(stage, width, roomy=roomy)]
        assert len(lines) <= most
        assert "…" not in " ".join(lines), lines
