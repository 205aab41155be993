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
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Status
from rigtui.plan.insight.curve import Curves
from rigtui.plan.insight.explain import explain_plan
from rigtui.plan.insight.points import Curve, CurvePoint
from rigtui.plan.insight.sizes import KINDS
from rigtui.plan.ways_out.feasible import Feasibility
from rigtui.plan.whole.loops import impossible
from rigtui.plan.words.curve import because, sentence
from rigtui.plan.words.reasons import of_change, of_pedal, of_preset

_SIZES = {"loops", "total_loops", "memories"}


def curves(rig: Rig, question: Question, control: Control) -> Plan:
    """Find the moves for other numbers of loops, memories and switches of a bank.

    They come without copies of presets at once, then with copies, for the time that there is.

    Returns:
        A plan whose details hold `curves`: for each kind `kind`, `moves_before`, `sentence`,
        `complete`, and `points` with `value`, `moves`, `saved`, `bound`, `proved`, `now`,
        `because` and `with_copies`.
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
    if not all(curve["complete"] for curve in made):
        return _curve_plan(made, before)
    if not any(fits):
        return _nothing_fits(rig, question, made, control)
    control.offer(lambda _: _curve_plan(made, before))

    def filled() -> Plan:
        return _curve_plan([_told(several.curve(kind)) for kind in KINDS], before)

    for _ in several.fill():
        control.offer(lambda _: filled())
    return filled()


def _told(curve: Curve) -> dict[str, Any]:
    """A curve as plain data."""
    before, calm = curve.before, curve.calm
    return {
        "kind": curve.kind,
        "first": curve.goal.first,
        "moves_before": before.moves,
        "extra_presses_before": before.extra_presses,
        "effort_before": before.effort,
        "unplayable_before": before.unplayable,
        "points": [
            {
                "value": point.value,
                "unplayable": None if point.moves is None else 0,
                "effort": point.effort,
                "extra_presses": point.extra_presses,
                "moves": point.moves,
                "bound": curve.goal.shown(point.bound),
                "without_bank_steps": point.without_bank_steps,
                "loops_used": point.loops_used,
                "presets_used": point.presets_used,
                "with_copies": _copied(point, before),
                "now": point.now,
                "calm": point is calm,
                "because": because(curve.kind, point),
                "proved": point.proved,
                "saved": None if point.moves is None else before.moves - point.moves,
            }
            for point in curve.points
        ],
        "sentence": sentence(curve),
        "complete": curve.complete,
    }


def _copied(point: CurvePoint, before: Figures) -> dict[str, Any] | None:
    """The figures with copies as plain data."""
    its = point.copied
    if its is None:
        return None
    return {
        "unplayable": 0,
        "effort": its.effort,
        "extra_presses": its.extra_presses,
        "moves": its.moves,
        "saved": before.moves - its.moves,
    }


def _curve_plan(made: Sequence[Mapping[str, Any]], before: Figures) -> Plan:
    points = [point for curve in made for point in curve["points"]]
    searched = all(point["with_copies"] or point["moves"] is None for point in points)
    complete = len(made) == len(KINDS) and all(curve["complete"] for curve in made) and searched
    proved = complete and all(point["proved"] or point["moves"] is None for point in points)
    return Plan(
        kind="curve",
        status=Status.OPTIMAL if proved else Status.FEASIBLE if complete else Status.TIMED_OUT,
        before=before,
        bound=min((p["bound"] for p in points if p["moves"] is not None), default=0),
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
        ways = [way for way in conflict.relaxations if not _SIZES & way.changes.keys()]
        conflict = replace(conflict, relaxations=tuple(ways))
    return replace(plan, conflict=conflict, details={"curves": made})


def reasons(rig: Rig, question: Question, control: Control) -> Plan:
    """Explain a rig: each pedal either way, what each preset is for, what the worst changes cost.

    Returns:
        A plan whose details hold `pedals`, `presets`, `changes` (each with its `sentence`) and
        `complete`.
    """
    why = explain_plan(rig, question, control)
    return Plan(
        kind="explain",
        status=Status.OPTIMAL if why.complete else Status.TIMED_OUT,
        before=figures(rig, evening_of(rig, question.setlists)),
        details={
            "pedals": [asdict(row) | {"sentence": of_pedal(rig, row)} for row in why.pedals],
            "presets": [asdict(row) | {"sentence": of_preset(rig, row)} for row in why.presets],
            "changes": [
                {"place": row.place, "moves": row.moves, "sentence": of_change(rig, row)}
                for row in why.changes
            ],
            "complete": why.complete,
        },
    )
