"""Loops: which pedals earn one, which share one, which stay outside, and the presets for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from rigtui.model.rig import Rig
from rigtui.plan.ask.checked import checked, needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of, figures, goal_of
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import OF_GOAL
from rigtui.plan.ask.needs import Needs
from rigtui.plan.ask.other_switcher import with_memories
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Proof, Status, Stopped
from rigtui.plan.ask.so_far import as_it_is, stands, stopped
from rigtui.plan.loops.designs import Design, SearchOutcome
from rigtui.plan.loops.limits import limits_of, memories_of
from rigtui.plan.loops.search import LoopSearch
from rigtui.plan.presets.toggled import Toggled
from rigtui.plan.rebuild.rig import Rebuilt, rebuild
from rigtui.plan.ways_out.feasible import Feasibility, Fit
from rigtui.plan.ways_out.words import conflict_of
from rigtui.plan.whole.fit_design import design_of

Search = Callable[[Rig, Evening, Question, Figures, Fit, Control], Plan | None]

_RELAX_SECONDS = 3.0
"""How long to look for changes to the options with which a plan is possible."""


def search_loops(
    rig: Rig,
    needs: Needs,
    question: Question,
    control: Control,
    *,
    slack: float = 0.0,
    limit: int = 0,
    most_kept: int = 1,
    fit: Fit | None = None,
    better: Callable[[Design], None] | None = None,
) -> SearchOutcome:
    """Find the best designs by the control's goal; also near misses.

    Those are designs within a share of the best, or up to a limit.

    If the search finds nothing but feasibility found a layout, that layout is given.
    """
    search = LoopSearch(
        needs,
        limits_of(rig, needs, question),
        memories_of(rig, question),
        toggling=needed_switcher(rig).loop_switches,
        goal=control.goal,
        slack=slack,
        limit=limit,
        most_kept=most_kept,
        control=control,
        better=better,
    )
    outcome = search.run()
    if outcome.complete and not outcome.designs and fit is not None and fit.possible:
        outcome.designs += design_of(fit, control.goal)
    return outcome


def offering(
    kind: str,
    rig: Rig,
    evening: Evening,
    needs: Needs,
    question: Question,
    before: Figures,
    control: Control,
) -> Callable[[Design], None]:
    """Return what offers a design, in case the player stops the planner."""

    def plan_of(design: Design, own: Control) -> Plan:
        built = rebuild(rig, evening, needs, design, question, own, exact=False)
        outcome = SearchOutcome([design], complete=False)
        return loop_plan(kind, rig, evening, needs, before, outcome, design, built, own)

    return lambda design: control.offer(lambda own: plan_of(design, own))


def plan_loops(
    rig: Rig,
    question: Question | None = None,
    control: Control | None = None,
) -> Plan:
    """Choose what goes in loops so that the least effort is left, or what the question puts first.

    That is over the chosen setlists, bank steps aside; then moves of the worst change, loops used,
    presets used. Memories are then chosen for the fewest bank steps.

    Args:
        rig: The rig; the sound of every section stays as it is.
        question: The setlists that count, and the options.
        control: Progress out, cancel in.

    Raises:
        PlanError: no switcher, or a question that makes no sense.
    """
    return plan_if_possible("loops", rig, question, control or Control(), _searched)


def plan_if_possible(
    kind: str,
    rig: Rig,
    question: Question | None,
    control: Control,
    search: Search,
) -> Plan:
    """Settle whether any plan can do what is asked, and search only where one may.

    Args:
        kind: "loops" or "all".
        rig: The rig.
        question: The setlists that count, and the options, not yet checked.
        control: Progress out, cancel in.
        search: Finds the plan; None where it finds none.

    Raises:
        PlanError: no switcher, or a question that makes no sense.
    """
    question = checked(rig, question or Question())
    needed_switcher(rig)
    evening = evening_of(rig, question.setlists)
    before = figures(rig, evening)
    control.goal = goal_of(rig, evening, question.first)
    try:
        control.stop_if_cancelled()
        feasibility = Feasibility(rig, evening, control)
        fit = feasibility.fit(question)
        control.stop_if_cancelled()
        plan = None
        if fit.possible is not False:
            asked = with_memories(rig, question.memories)
            plan = search(asked, evening, question, before, fit, control)
            if plan is not None:
                plan = no_worse_than_today(plan, asked, evening, question)
        return plan or impossible(kind, before, feasibility, question, fit)
    except Stopped:
        return stopped(kind, before, control)


def _searched(
    rig: Rig, evening: Evening, question: Question, before: Figures, fit: Fit, control: Control
) -> Plan | None:
    needs = fit.needs
    better = offering("loops", rig, evening, needs, question, before, control)
    outcome = search_loops(rig, needs, question, control, fit=fit, better=better)
    control.stop_if_cancelled()
    if not outcome.designs:
        return None
    control.prove(outcome.bound)
    plans = []
    for design in outcome.designs[0].variants:
        built = rebuild(rig, evening, needs, design, question, control)
        control.stop_if_cancelled()
        plans.append(
            loop_plan("loops", rig, evening, needs, before, outcome, design, built, control)
        )
    return min(plans, key=plan_key)


def plan_key(plan: Plan) -> tuple[int, ...]:
    """What plans of loops are compared by, most important first."""
    assert plan.after is not None
    return plan.goal.key(plan.after, plan.objective["loops_used"], plan.objective["presets_used"])


def no_worse_than_today(plan: Plan, rig: Rig, evening: Evening, question: Question) -> Plan:
    """The rig as it stands, where that is a plan and no worse than the one found.

    A plan of the loops or of the memories alone gives way only where it is worse: it looks at
    other things first.

    Args:
        plan: The plan.
        rig: The rig, on the switcher that is asked for.
        evening: The songs that count.
        question: What is asked.
    """
    if plan.after is None or not stands(rig, evening, question):
        return plan
    today = as_it_is(plan.kind, rig, rig, evening, plan.goal)
    assert today.after is not None
    if plan.kind == "all":
        changes_nothing = plan_key(today) <= plan_key(plan)
    else:
        changes_nothing = plan.goal.key(today.after) < plan.goal.key(plan.after)
    if not changes_nothing:
        return plan
    weighed = plan.goal.weighed(today.after)
    # Below the bound it has copies that nobody asked for, or what has no memory of its own.
    bound = plan.bound if plan.bound <= weighed else 0
    part = replace(today.parts[0], bound=plan.goal.shown(bound))
    proved = weighed <= bound
    status = Status.FEASIBLE if plan.status is Status.OPTIMAL else plan.status
    return replace(
        today,
        status=Status.OPTIMAL if proved else status,
        before=plan.before,
        bound=bound,
        parts=(part,),
        details=plan.details,
    )


def impossible(
    kind: str, before: Figures, feasibility: Feasibility, question: Question, fit: Fit
) -> Plan:
    """Say that there is no plan, and why: proved, or none found in the time."""
    if fit.possible is not False and feasibility.control.over:
        return Plan(kind, Status.TIMED_OUT, before)
    return Plan(
        kind,
        Status.INFEASIBLE if fit.possible is False else Status.TIMED_OUT,
        before,
        conflict=conflict_of(feasibility.within(_RELAX_SECONDS), question, fit),
    )


def loop_plan(
    kind: str,
    rig: Rig,
    evening: Evening,
    needs: Needs,
    before: Figures,
    outcome: SearchOutcome,
    design: Design,
    built: Rebuilt,
    control: Control,
    bound: int | None = None,
) -> Plan:
    """Put a plan together, checked against what the report counts."""
    after, goal = figures(built.rig, evening), control.goal
    weighed, steps = goal.weighed(after), built.placement.bank_steps
    assert weighed == design.cost + goal.move * steps
    lower = min(outcome.bound if bound is None else bound, weighed)
    parts = (
        Proof(
            "loops",
            f"{OF_GOAL[goal.first]}, bank steps aside",
            goal.shown(design.cost),
            goal.shown(min(outcome.bound, design.cost)),
        ),
        Proof(
            "switches",
            "bank steps for these presets",
            steps,
            built.placement.bound,
        ),
    )
    proved = weighed <= lower
    status = Status.OPTIMAL if proved else Status.FEASIBLE
    if not proved and control.over:
        status = Status.TIMED_OUT
    return Plan(
        kind=kind,
        status=status,
        before=before,
        rig=built.rig,
        after=after,
        goal=goal,
        bound=lower,
        objective={
            "moves": after.moves,
            "extra_presses": after.extra_presses,
            "moves_without_bank_steps": after.moves - steps,
            "worst_change": design.worst,
            "loops_used": len(design.groups),
            "presets_used": len(design.packing.presets),
        },
        parts=parts,
        details={
            "sets_looked_at": outcome.looked,
            "sets_possible": outcome.sets,
            "pedals_switched": outcome.switched,
            "pedals_left_out": outcome.left_out,
            "sounds_left_out": design.packing.left_out
            if isinstance(design.packing, Toggled)
            else 0,
        },
    )
