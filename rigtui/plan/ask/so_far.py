"""What a planner gives when the player stops it: the best plan by then, made before they asked.

The first is the rig as it stands, wherever the question allows that. So there is a plan from the
moment that the songs have been read. This file waits for no numpy.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, figures
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Figures, Plan, Proof, Status


def as_it_is(kind: str, rig: Rig, asked: Rig, evening: Evening) -> Plan:
    """The plan that changes nothing.

    Args:
        kind: The kind of plan.
        rig: The rig.
        asked: The same on the switcher that is asked for.
        evening: The songs that count.
    """
    before = figures(rig, evening)
    after = before if asked is rig else figures(asked, evening)
    return Plan(
        kind=kind,
        status=Status.TIMED_OUT,
        before=before,
        rig=asked,
        after=after,
        objective={"moves": after.moves},
        parts=(Proof(kind, "moves as written, nothing changed", after.moves, 0),),
    )


def stands(rig: Rig, evening: Evening, question: Question) -> bool:
    """Whether the rig as it stands is a plan that the question allows.

    Signal order, and presets that must stay, are as they were in any case.
    """
    sides = Counter[str](loop.side for loop in rig.loops)
    if question.total_loops is not None:
        fits = len(rig.loops) == question.total_loops
    else:
        fits = all(sides[side] == most for side, most in (question.loops or {}).items())
    return fits and shared_out(rig, question) and _stored(rig, evening, question)


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
    """Whether every preset of the evening is in a memory, no two in one, and the pins hold."""
    if rig.switcher is None:
        return False
    used = {section.preset for song in evening.songs for section in song.sections}
    homes = {preset.id: preset.memory for preset in rig.presets}
    taken = [homes[preset] for preset in homes if preset in used]
    most = rig.switcher.memories if question.memories is None else question.memories
    held = [memory for row in rig.presets if row.id in used for memory in row.memories]
    others = [homes[preset] for preset in homes if preset not in used]
    kept = question.memories is None or all(memory is None or memory <= most for memory in others)
    return (
        all(memory is not None and memory <= most for memory in taken)
        and len(set(held)) == len(held)
        and kept
        and all(homes.get(preset) == memory for preset, memory in question.pin_switch.items())
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
        bound: No plan needs fewer moves, by what was proved until then.
    """
    if plan.after is None:
        return replace(plan, status=Status.TIMED_OUT)
    lower = max(plan.lower_bound, min(bound, plan.after.moves))
    first, *rest = plan.parts
    if first.name == plan.kind or plan.kind == "all":
        first = replace(first, bound=min(first.value, max(first.bound, bound)))
    status = Status.OPTIMAL if plan.after.moves <= lower else Status.TIMED_OUT
    return replace(plan, status=status, lower_bound=lower, parts=(first, *rest))
