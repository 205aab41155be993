"""Answers that change nothing: what another switcher would buy, and why a plan is as it is.

They come as a `Plan` without a rig, so that they go where plans go.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from typing import Any

from rigtui.model.rig import Rig
from rigtui.plan.ask.checked import checked
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of, figures
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Figures, Plan, Status
from rigtui.plan.insight.curve import KINDS, Curves
from rigtui.plan.insight.explain import explain_plan
from rigtui.plan.insight.points import Curve
from rigtui.plan.ways_out.feasible import Feasibility
from rigtui.plan.whole.loops import impossible

_SIZES = {"loops", "total_loops", "memories"}


def curves(rig: Rig, question: Question, control: Control) -> Plan:
    """Find the moves for other numbers of loops, memories and switches of a bank.

    Returns:
        A plan whose details hold `curves`: for each kind `kind`, `moves_before`, `sentence`,
        `complete`, and `points` with `value`, `moves`, `saved`, `bound`, `proved`, `now` and
        `because`.
    """
    several = Curves(rig, question, control)
    before = figures(rig, evening_of(rig, question.setlists))
    made: list[dict[str, Any]] = []
    for kind in KINDS:
        curve = several.over(kind)
        made.append(_told(curve))
        if curve.complete:
            control.offer(lambda _: _curve_plan(made, before))
    # Once more, quickly: what was found for one curve may do for a switcher of another.
    for at, kind in enumerate(KINDS):
        again = several.over(kind)
        if again.complete:
            made[at] = _told(again)
    fits = [point["moves"] is not None for curve in made for point in curve["points"]]
    if all(curve["complete"] for curve in made) and not any(fits):
        return _nothing_fits(rig, question, made, control)
    return _curve_plan(made, before)


def _told(curve: Curve) -> dict[str, Any]:
    """A curve as plain data."""
    points = [
        asdict(point)
        | {
            "proved": point.proved,
            "saved": None if point.moves is None else curve.moves_before - point.moves,
        }
        for point in curve.points
    ]
    return asdict(curve) | {"points": points}


def _curve_plan(made: Sequence[Mapping[str, Any]], before: Figures) -> Plan:
    points = [point for curve in made for point in curve["points"]]
    complete = len(made) == len(KINDS) and all(curve["complete"] for curve in made)
    proved = complete and all(point["proved"] or point["moves"] is None for point in points)
    return Plan(
        kind="curve",
        status=Status.OPTIMAL if proved else Status.FEASIBLE if complete else Status.TIMED_OUT,
        before=before,
        lower_bound=min((p["bound"] for p in points if p["moves"] is not None), default=0),
        notes=tuple(curve["sentence"] for curve in made if curve["points"]),
        details={"curves": list(made)},
    )


def _nothing_fits(
    rig: Rig, question: Question, made: list[dict[str, Any]], control: Control
) -> Plan:
    """Say why none of the switchers can do what is wanted."""
    evening = evening_of(rig, question.setlists)
    question = checked(rig, question)
    feasibility = Feasibility(rig, evening, control)
    plan = impossible(
        "curve", figures(rig, evening), feasibility, question, feasibility.fit(question)
    )
    conflict = plan.conflict
    if conflict is not None:  # all numbers were looked at: raising one of them is no way out
        ways = [one for one in conflict.relaxations if not _SIZES & one.changes.keys()]
        conflict = replace(conflict, relaxations=tuple(ways))
    return replace(plan, conflict=conflict, details={"curves": made})


def reasons(rig: Rig, question: Question, control: Control) -> Plan:
    """Explain a rig: each pedal either way, what each preset is for, what the worst changes cost.

    Returns:
        A plan whose details hold `pedals`, `presets`, `changes` (each with its `sentence`) and
        `complete`.
    """
    said = explain_plan(rig, question, control)
    return Plan(
        kind="explain",
        status=Status.OPTIMAL if said.complete else Status.TIMED_OUT,
        before=figures(rig, evening_of(rig, question.setlists)),
        details=asdict(said),
    )


def sentences(explained: Plan) -> list[tuple[str, list[str]]]:
    """What an explanation says, under a heading for each kind of thing."""
    titles = (
        ("pedals", "Why in or out (fewest moves found, all else planned anew)", _OF_PEDALS),
        ("presets", "What each preset is for", ""),
        ("changes", "What the worst changes cost", _OF_CHANGES),
    )
    said = []
    for key, title, more in titles:
        texts = [one["sentence"] for one in explained.details.get(key, ())]
        said.append((title, [*texts, more] if texts and more else texts))
    return said


_OF_PEDALS = (
    "These are quick figures: a plan with the pedal pinned looks longer and may find less. The "
    "report's finding move-outside may say otherwise, as it takes that one pedal out and leaves "
    "all other loops, presets and memories as they are"
)
_OF_CHANGES = (
    "A recall is one press however many pedals in loops differ; what is named here comes on top"
)
