"""What a planner gives when the player stops it: the best plan by then, made before they asked.

The first is the rig as it stands, wherever the question allows that. So there is a plan from the
moment that the songs have been read. This file waits for no numpy.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from rigtui.model.base import SIDES
from rigtui.model.playable import in_range, unplayable_presets
from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, figures
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import OF_GOAL, Goal
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Proof, Status


def as_it_is(kind: str, rig: Rig, asked: Rig, evening: Evening, goal: Goal) -> Plan:
    """The plan that changes nothing.

    Args:
        kind: The kind of plan.
        rig: The rig.
        asked: The same on the switcher that is asked for.
        evening: The songs that count.
        goal: What plans are compared by.
    """
    before = figures(rig, evening)
    after = before if asked is rig else figures(asked, evening)
    value = goal.value(after)
    return Plan(
        kind=kind,
        status=Status.TIMED_OUT,
        before=before,
        rig=asked,
        after=after,
        goal=goal,
        objective=objective(asked, evening, after),
        parts=(Proof(kind, f"{OF_GOAL[goal.first]} as written, nothing changed", value, 0),),
    )


def objective(rig: Rig, evening: Evening, after: Figures) -> dict[str, int]:
    """What plans of loops make small, of a rig.

    Args:
        rig: The rig.
        evening: The songs that count.
        after: What it comes to.
    """
    used = {section.preset for song in evening.songs for section in song.sections}
    return {
        "moves": after.moves,
        "extra_presses": after.extra_presses,
        "moves_without_bank_steps": after.moves - after.bank_steps,
        "worst_change": after.worst_change,
        "loops_used": sum(bool(loop.pedals) for loop in rig.loops),
        "presets_used": sum(preset.id in used for preset in rig.presets),
    }


def stands(rig: Rig, evening: Evening, question: Question) -> bool:
    """Whether the rig as it stands is a plan that the question allows.

    Signal order, and presets that must stay, are as they were in any case.
    """
    sides = Counter[str](loop.side for loop in rig.loops)
    if question.total_loops is not None:
        fits = len(rig.loops) == question.total_loops
    else:
        fits = all(sides[side] == most for side, most in (question.loops or {}).items())
    return fits and _wired(rig) and shared_out(rig, question) and _stored(rig, evening, question)


def _wired(rig: Rig) -> bool:
    """Whether the switcher has the jacks: no pedal outside stands between two of its loops."""
    if rig.switcher is None or rig.switcher.between_loops:
        return True
    for side in SIDES:
        items = getattr(rig.chain, side)
        loops = [at for at, item in enumerate(items) if isinstance(item, int)]
        if loops and loops[-1] - loops[0] + 1 != len(loops):
            return False
    return True


def shared_out(rig: Rig, question: Question) -> bool:
    """Whether the pedals are in loops as the question allows, however many loops there are."""
    groups = [set(loop.pedals) for loop in rig.loops if loop.pedals]
    inside = {pedal for group in groups for pedal in group}
    return (
        inside >= set(question.pin_in)
        and not inside & set(question.pin_out)
        and (question.sharing or all(len(group) == 1 for group in groups))
        and not any({*pair} <= group for group in groups for pair in question.apart)
    )


def _stored(rig: Rig, evening: Evening, question: Question) -> bool:
    """Whether all that the evening plays can be recalled, and the pins hold.

    No two presets may be in one memory, nor any in a memory that is given up.
    """
    if rig.switcher is None:
        return False
    used = {section.preset for song in evening.songs for section in song.sections}
    memories = {row.id: row.memories for row in rig.presets}
    most = rig.switcher.memories if question.memories is None else question.memories
    held = Counter(memory for row in rig.presets for memory in in_range(row, most))
    own = [memory for row in rig.presets if row.id in used for memory in in_range(row, most)]
    others = [memory for row in rig.presets if row.id not in used for memory in row.memories]
    return (
        not used & unplayable_presets(rig)
        and all(held[memory] == 1 for memory in own)
        and (question.memories is None or all(memory <= most for memory in others))
        and all(memory in memories.get(row, ()) for row, memory in question.pin_switch.items())
    )


def stopped(kind: str, before: Figures, control: Control) -> Plan:
    """The best plan by now, with what is proved by now."""
    plan = control.best_so_far()
    if plan is None:
        return Plan(kind, Status.TIMED_OUT, before)
    return ended_early(plan, control.bound or 0)


def ended_early(plan: Plan, bound: int) -> Plan:
    """A plan with which a search ended, though it was not done.

    Args:
        plan: The plan.
        bound: No plan weighs less, by what was proved until then.
    """
    if plan.after is None:
        return replace(plan, status=Status.TIMED_OUT)
    weighed = plan.goal.weighed(plan.after)
    lower = max(plan.bound, min(bound, weighed))
    first, *rest = plan.parts
    if first.name == plan.kind or plan.kind == "all":
        first = replace(first, bound=min(first.value, max(first.bound, plan.goal.shown(bound))))
    status = Status.OPTIMAL if weighed <= lower else Status.TIMED_OUT
    return replace(plan, status=status, bound=lower, parts=(first, *rest))
