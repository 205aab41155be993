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
from rigtui.tui.views.plan.head import StageOfPlan, cut_sentence, head_lines

ROOM = [(78, False, 9), (118, True, 11)]
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
    """At 80 cells nine lines, at 120 eleven, none of them cut; once accepted too."""
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


@pytest.mark.parametrize(("width", "roomy"), [(78, False), (118, True)])
def test_what_to_do_comes_first(width: int, roomy: bool) -> None:
    """The sentence, what else would do as well, then four lines; once accepted only the lines.

    Three lines of 78 cells don't hold all of the sentence, and say where the rest is.
    """
    smaller = "Or touch 2 sections, not 40, with 1 extra press"
    stage = replace(stage_of(DEMOS / "quay-street.toml", Question("loops")), smaller=smaller)
    lines = [line.text for line in head_lines(stage, width, roomy=roomy)]
    assert lines[0].startswith("Before the gig, take Wide chorus out of loop 5, reprogram ")
    before, _, after = "\n".join(lines).partition(f"\n{smaller}: o shows how.\n")
    assert before.endswith("." if roomy else " (more in To do)")
    names = [line[:15].strip() for line in after.splitlines()[:4]]
    assert names == ["Can be played", "Extra presses", "Presses", "Proof"]
    stale = head_lines(replace(stage, stale=True), width, roomy=roomy)
    assert not any(smaller in line.text for line in stale)
    accepted = head_lines(replace(stage, accepted=True), width, roomy=roomy)
    assert accepted[0].text.startswith("Can be played")


def test_a_narrow_screen_keeps_the_key_and_the_sentence() -> None:
    """At 58 cells the line keeps its key; the sentence is cut, and stands in To do in full."""
    smaller = "Or touch 2 sections, not 40, with 1 extra press"
    stage = replace(stage_of(DEMOS / "quay-street.toml", Question("loops")), smaller=smaller)
    lines = [line.text for line in head_lines(stage, 58)]
    assert lines[2].endswith(" (more in To do)")
    assert lines[3] == "Or touch 2 sections, not 40: o shows how."
    assert stage.known is not None
    assert cut_sentence(stage.known, 58).endswith(" extra presses (10 → 45).")
    assert cut_sentence(stage.known, 118) == ""


def test_a_rig_that_is_best_as_it_is_is_left_alone() -> None:
    """The sentence says so, and that there is nothing to accept."""
    stage = replace(stage_of(DEMOS / "first-rig.toml", Question("all")), accepted=True)
    lines = [line.text for line in head_lines(stage, 118)]
    assert lines[0].startswith("Leave the rig as it is: no other loops, memories or mapping ")
    assert lines[-1] == "Nothing to accept: this is your rig as it is."


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
