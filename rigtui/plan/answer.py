"""The one door through which all planners are asked."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import asdict, replace

from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of, figures, goal_of
from rigtui.plan.ask.goal import FIRST
from rigtui.plan.ask.other_switcher import with_memories
from rigtui.plan.ask.question import KINDS, MEANT_FOR, Question
from rigtui.plan.ask.result import Plan, PlanError, Stopped
from rigtui.plan.ask.so_far import as_it_is, stands, stopped
from rigtui.plan.finish import finished

_LAST_SECONDS = 1.0
"""How long a plan may be rounded off though the time is up."""
_OTHER_SECONDS = 1.5
"""How long may be spent on what would be found if something else came first."""


def plan(rig: Rig, question: Question, control: Control | None = None) -> Plan:
    """Ask the planner that a question is for.

    Args:
        rig: The rig.
        question: What is asked.
        control: Progress out, cancel in; it must hold the time limit.

    Returns:
        The plan; one without a rig if the planner was stopped before it had any.

    Raises:
        PlanError: the question makes no sense for this rig.
    """
    control = control or Control(seconds=question.seconds)
    senseless = nonsense(rig, question)
    if senseless:
        raise PlanError(*senseless)
    control.first_plan = question.kind in ("loops", "switches", "all")
    try:
        as_now = today(rig, question)
        if as_now is not None:
            control.goal = as_now.goal
            control.offer(lambda _: as_now)
        made = _planned(rig, question, control)
    except Stopped:
        before = figures(rig, evening_of(rig, question.setlists))
        made = stopped(question.kind, before, control)
    made = _side_by_side(rig, made, question, control)
    return finished(rig, made, question, control.finishing(_LAST_SECONDS))


def _side_by_side(rig: Rig, made: Plan, question: Question, control: Control) -> Plan:
    """A plan with what would be found if something else came first, as far as there is time.

    That is for the last plan, not for those on the way to it.
    """
    if question.kind not in MEANT_FOR["first"] or made.after is None or control.over:
        return made
    plans = {question.first: made}
    for first in FIRST:
        if first not in plans:
            left = control.seconds_left
            own = Control(
                cancelled=lambda: control.cancelled,
                seconds=_OTHER_SECONDS if left is None else min(left, _OTHER_SECONDS),
            )
            with contextlib.suppress(Stopped):
                plans[first] = _planned(rig, replace(question, first=first), own)
    goals = {}
    for first in FIRST:
        its = plans.get(first)
        if its is None or its.after is None:
            return made
        best = min((plan.after for plan in plans.values() if plan.after), key=its.goal.key)
        goals[first] = {
            **asdict(best),
            "value": its.goal.value(best),
            "lower_bound": its.lower_bound,
            "proved": its.goal.weighed(best) <= its.bound,
        }
    return replace(made, details={**made.details, "goals": goals})


def nonsense(rig: Rig, question: Question) -> list[str]:
    """All that makes no sense about a question for this rig, a sentence for each."""
    from rigtui.plan.ask.checked import checked, needed_switcher

    looks: list[Callable[[], object]] = [lambda: evening_of(rig, question.setlists)]
    if question.kind != "explain":  # it is about a plan, which may have done with what is named
        looks.append(lambda: checked(rig, question))
    if question.kind != "route":
        looks.append(lambda: needed_switcher(rig))
    reasons: list[str] = []
    for look in looks:
        try:
            look()
        except PlanError as error:
            reasons += error.reasons
    return list(dict.fromkeys(reasons))


def stands_today(rig: Rig, question: Question) -> bool:
    """Whether the rig as it stands is a plan that the question allows.

    Raises:
        PlanError: there is no such setlist, or nothing to plan for.
    """
    if question.kind in ("curve", "explain"):
        return False
    evening = evening_of(rig, question.setlists)
    asked = with_memories(rig, question.memories)
    return question.kind == "route" or stands(asked, evening, question)


def today(rig: Rig, question: Question) -> Plan | None:
    """The plan that leaves the rig as it stands; None where the question does not allow that.

    Raises:
        PlanError: there is no such setlist, or nothing to plan for.
    """
    if not stands_today(rig, question):
        return None
    evening = evening_of(rig, question.setlists)
    asked = with_memories(rig, question.memories)
    goal = goal_of(rig, evening, question.first)
    return as_it_is(question.kind, rig, asked, evening, goal)


def _planned(rig: Rig, question: Question, control: Control) -> Plan:
    if question.kind == "loops":
        from rigtui.plan.whole.loops import plan_loops

        return plan_loops(rig, question, control)
    if question.kind == "all":
        from rigtui.plan.whole.everything import plan_all

        return plan_all(rig, question, control)
    if question.kind == "switches":
        from rigtui.plan.whole.switches import plan_switches

        return plan_switches(rig, question, control)
    if question.kind == "route":
        from rigtui.plan.route.planner import plan_route

        return plan_route(rig, question, control)
    if question.kind in ("curve", "explain"):
        from rigtui.plan.insights import curves, reasons

        return (curves if question.kind == "curve" else reasons)(rig, question, control)
    raise PlanError(f'there is no plan "{question.kind}": {", ".join(KINDS)}')
