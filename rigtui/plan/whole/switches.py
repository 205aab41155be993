"""Switches: which memory holds which preset, with the sounds and the mapping as they are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

from rigtui.model.edits.folding import Switched, switched
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.plan.ask.checked import checked, needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of, figures, goal_of
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.other_switcher import with_memories
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Proof, Status, Stopped
from rigtui.plan.ask.so_far import stopped
from rigtui.plan.memories.copies import copies_in, with_copies
from rigtui.plan.memories.placing import Placement, place
from rigtui.plan.memories.switches import (
    changes_between,
    changes_in_gaps,
    first_recalls,
    presets_of,
    stored,
)
from rigtui.plan.ways_out.memories import too_few_memories
from rigtui.plan.whole.loops import no_worse_than_today


def plan_switches(
    rig: Rig,
    question: Question | None = None,
    control: Control | None = None,
) -> Plan:
    """Choose memories so that bank steps inside songs are as few as can be.

    Then those between songs, then the travel of the foot.

    Args:
        rig: The rig; its presets and mapping stay as they are.
        question: The setlists that count, memories that presets must have, and copies.
        control: Progress out, cancel in.

    Raises:
        PlanError: no switcher, or a question that makes no sense.
    """
    question, control = checked(rig, question or Question()), control or Control()
    evening = evening_of(rig, question.setlists)
    owned = needed_switcher(rig).memories
    used = presets_of(rig, evening)
    pins = question.pin_switch
    ids = [*used, *(preset for preset in pins if preset not in used)]
    before = figures(rig, evening)
    control.goal = goal_of(rig, evening, question.first)
    rig = with_memories(rig, question.memories)
    if len(ids) > needed_switcher(rig).memories:
        ids = _of_their_own(rig, ids, pins)
    conflict = too_few_memories(rig, evening, ids, pins, owned)
    if conflict is not None:
        return Plan("switches", Status.INFEASIBLE, before, conflict=conflict)
    try:
        plan = _placed(rig, evening, ids, question, before, control)
        return no_worse_than_today(plan, rig, evening, question)
    except Stopped:
        return stopped("switches", before, control)


def _of_their_own(rig: Rig, ids: Sequence[str], pins: Mapping[str, int]) -> list[str]:
    """The presets that need a memory: not those in none whose sound another of them has."""
    known = lookup(rig).presets
    first: dict[Switched, str] = {}
    for preset in sorted(ids, key=lambda its: (its not in pins, not known[its].memories)):
        first.setdefault(switched(known[preset]), preset)
    needed = {*pins, *first.values()}
    return [preset for preset in ids if preset in needed or known[preset].memories]


def _placed(
    rig: Rig,
    evening: Evening,
    ids: Sequence[str],
    question: Question,
    before: Figures,
    control: Control,
) -> Plan:
    switcher = needed_switcher(rig)
    control.tell("placing the presets", 0.0)
    beat = before.moves - before.bank_steps
    control.prove(control.goal.weighed(replace(before, moves=beat)))
    old = {preset.id: preset.memory for preset in rig.presets}
    flow = changes_between(rig, evening, ids)
    pinned = {ids.index(preset): memory for preset, memory in question.pin_switch.items()}
    starts = first_recalls(rig, evening, ids)
    gaps = changes_in_gaps(rig, evening, ids)
    shared = not set(ids).issuperset(presets_of(rig, evening))

    def plan_of(own: Control, *, exact: bool) -> Plan:
        homes = [old[preset] for preset in ids]
        placed = place(switcher, flow, pinned, homes, own, starts=starts, gaps=gaps, exact=exact)
        own.stop_if_cancelled()
        single = stored(rig, switcher, dict(zip(ids, placed.memories)))

        def plan(new: Rig, own: Control, least: int = 0) -> Plan:
            return _plan(rig, new, evening, before, placed, 0 if shared else least, own)

        own.offer(partial(plan, single))
        new = with_copies(
            single, rig, evening, question, own, lambda better: own.offer(partial(plan, better))
        )
        own.stop_if_cancelled()
        return plan(new.rig, own, new.bound)

    control.offer(partial(plan_of, exact=False))
    return plan_of(control, exact=True)


def _plan(
    rig: Rig,
    new: Rig,
    evening: Evening,
    before: Figures,
    placed: Placement,
    least: int,
    control: Control,
) -> Plan:
    after, goal = figures(new, evening), control.goal
    spent, weighed = after.bank_steps, goal.weighed(after)
    floor = weighed - goal.move * spent
    fewest = min(placed.bound, least)
    bound = floor + goal.move * fewest
    proved = weighed <= bound
    status = Status.OPTIMAL if proved else Status.TIMED_OUT if control.over else Status.FEASIBLE
    return Plan(
        kind="switches",
        status=status,
        before=before,
        rig=new,
        after=after,
        goal=goal,
        bound=bound,
        objective={"bank_steps": spent, "travel": placed.travel},
        parts=(Proof("switches", "bank steps inside songs", spent, fewest),),
        details={
            "travel_proved": placed.proved and placed.travel_proved,
            "method": placed.method,
            "copies": copies_in(new, evening),
            "without_copies": {
                "value": goal.shown(floor + goal.move * placed.bank_steps),
                "lower_bound": goal.shown(floor + goal.move * placed.bound),
                "proved": placed.proved,
            },
        },
    )
