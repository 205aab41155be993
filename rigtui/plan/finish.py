"""What every plan is given last: the way of the foot, what to do, what to know."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan
from rigtui.plan.rebuild.hands import with_hands_kept
from rigtui.plan.verdict.settle import settled
from rigtui.plan.words.notes import notes
from rigtui.plan.words.steps import steps


def finished(rig: Rig, plan: Plan, question: Question, control: Control | None = None) -> Plan:
    """Leave alone what need not change; add the way of the foot, and what to do and to know."""
    control = control or Control()
    if plan.rig is not None:
        evening = evening_of(rig, question.setlists)
        if plan.kind in ("loops", "all"):
            plan = settled(rig, plan, evening, control)
        assert plan.rig is not None
        plan = replace(plan, rig=with_hands_kept(rig, plan.rig))
        assert plan.rig is not None
        details = {**_travel(rig, plan.rig, evening), **plan.details}
        plan = replace(plan, steps=steps(rig, plan.rig, evening), details=details)
    return replace(plan, notes=notes(rig, plan, question))


def _travel(now: Rig, then: Rig, evening: Evening) -> dict[str, Any]:
    """Switches that the foot passes within banks inside songs, and millimetres, now and then."""
    if now.switcher is None or then.switcher is None:
        return {}
    from rigtui.plan.memories.copies import travel_within_banks

    details: dict[str, Any] = {}
    for rig, switcher, end in ((now, now.switcher, "_before"), (then, then.switcher, "")):
        travel = travel_within_banks(rig, evening)
        details[f"travel_switches{end}"] = travel
        if switcher.switch_spacing_mm is not None:
            details[f"travel_mm{end}"] = travel * switcher.switch_spacing_mm
    return details
