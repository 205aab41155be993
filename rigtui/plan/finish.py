"""What every plan is given last: the way of the foot, what to do, what to know."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, PlanError, Status
from rigtui.plan.rebuild.hands import with_hands_kept
from rigtui.plan.verdict.settle import settled
from rigtui.plan.verdict.unstored import unstored
from rigtui.plan.words.notes import notes
from rigtui.plan.words.steps import steps

_ALONE_SECONDS = 2.0


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


def held_against_switches(rig: Rig, plan: Plan, question: Question, control: Control) -> Plan:
    """A finished plan with what the memories alone would do, where it gains nothing in all.

    That is a search of its own, so it is for the last plan, not for those on the way to it.
    """
    after = plan.after
    if plan.kind not in ("loops", "all") or plan.rig is None or plan.rig == rig:
        return plan
    if after is None or after.in_all < plan.before.in_all:
        return plan
    if plan.status is Status.TIMED_OUT:  # whoever stopped it waits for no other
        return plan
    from rigtui.plan.whole.switches import plan_switches

    own = Control(cancelled=lambda: control.cancelled, seconds=_ALONE_SECONDS)
    try:
        alone = plan_switches(rig, Question("switches", question.setlists), own)
    except PlanError:
        return plan
    if alone.rig is None or alone.after is None:
        return plan
    if unstored(alone.rig, evening_of(rig, question.setlists)) is not None:
        return plan
    said = {"moves": alone.after.moves, "moves_in_all": alone.after.in_all}
    return replace(plan, details={**plan.details, "switches_alone": said})


def _travel(now: Rig, then: Rig, evening: Evening) -> dict[str, Any]:
    """Switches that the foot passes within banks inside songs, and millimetres, now and then."""
    if now.switcher is None or then.switcher is None:
        return {}
    from rigtui.plan.memories.placing import travel_within
    from rigtui.plan.memories.switches import changes_between, presets_of

    details: dict[str, Any] = {}
    for rig, switcher, end in ((now, now.switcher, "_before"), (then, then.switcher, "")):
        ids = presets_of(rig, evening)
        memory = {preset.id: preset.memory for preset in rig.presets}
        flow = changes_between(rig, evening, ids)
        travel = travel_within(switcher, flow, [memory[preset] for preset in ids])
        details[f"travel_switches{end}"] = travel
        if switcher.switch_spacing_mm is not None:
            details[f"travel_mm{end}"] = travel * switcher.switch_spacing_mm
    return details
