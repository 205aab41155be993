"""Plans bettered by a search over all at once: layout, memories and mapping."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from rigtui.model.lookup import lookup
from rigtui.model.playable import in_range
from rigtui.model.rig import Rig
from rigtui.plan.ask.checked import needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.needs import Needs
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan
from rigtui.plan.loops.costs import LoopCosts
from rigtui.plan.loops.designs import Design
from rigtui.plan.loops.limits import limits_of
from rigtui.plan.memories.copies import in_memories
from rigtui.plan.presets.cubes import Cube
from rigtui.plan.whole.anneal import Annealing, Sound, StoredLayout
from rigtui.plan.whole.loops import plan_key

_STARTS = 2
"""Layouts that are polished as they are; then the best of them, layout and all."""
_SHARE = 0.25
"""Of the time that is left, for each of them."""


def polished(
    plans: Sequence[Plan],
    now: Rig,
    needs: Needs,
    costs: LoopCosts,
    question: Question,
    control: Control,
    made: Callable[[Design, Mapping[Cube, Sequence[int]]], Plan],
) -> Plan:
    """Better the best of some plans; the best of all of them is given.

    Args:
        plans: Plans that keep to what is asked.
        now: The rig as it is, on the switcher that is asked for.
        needs: What the songs want.
        costs: What that adds up to.
        question: The options.
        control: The time that there is; it is told of each better plan.
        made: Makes a plan of a design, given the memories of each of its presets.
    """
    best = min(plans, key=plan_key)
    if needs.kept or question.pin_switch:
        return best
    limits, switcher = limits_of(now, needs, question), needed_switcher(now)
    starts: dict[tuple[int, ...], StoredLayout] = {}
    for plan in sorted(plans, key=plan_key):
        assert plan.rig is not None
        start = stored_in(plan.rig, needs)
        starts.setdefault(start.groups, start)
    nearest: StoredLayout | None = None
    rounds: list[StoredLayout | None] = [*list(starts.values())[:_STARTS], None]
    for nth, origin in enumerate(rounds):
        control.tell("weighing all together", nth / len(rounds))
        left = control.seconds_left
        last = origin is None
        own = control if last or left is None else control.within(left * _SHARE)
        search = Annealing(costs, limits, switcher, own, question.copies, seed=nth)
        origin = origin or nearest
        assert origin is not None
        stored = search.run(origin, layouts=last)
        if nearest is None or search.weighed(stored) < search.weighed(nearest):
            nearest = stored
        control.stop_if_cancelled()
        assert best.after is not None
        if control.goal.weighed(best.after) <= search.weighed(stored):
            continue
        designed = search.design(stored)
        if designed is not None:
            plan = made(*designed)
            if plan_key(plan) < plan_key(best):
                best = plan
                control.offer(partial(_itself, best))
    return best


def _itself(plan: Plan, _: Control) -> Plan:
    return plan


def stored_in(rig: Rig, needs: Needs) -> StoredLayout:
    """The layout of a rig, and what each of its memories stores."""
    known, switcher = lookup(rig), needed_switcher(rig)
    groups = [_mask(needs, loop.pedals) for loop in rig.loops]
    slots: list[Sound | None] = [None] * switcher.memories
    for row in rig.presets:
        sound = (_mask(needs, known.preset_pedals(row)), needs.number_of(row))
        for memory in in_range(row, switcher.memories):
            slots[memory - 1] = sound
    return StoredLayout(tuple(sorted(group for group in groups if group)), tuple(slots))


def _mask(needs: Needs, pedals: Sequence[str]) -> int:
    return sum(needs.bit(pedal) for pedal in pedals if pedal in needs.pedals)


def filled_as(
    rig: Rig, ids: Sequence[str], design: Design, memories: Mapping[Cube, Sequence[int]]
) -> Rig:
    """A rig with the presets of a design in given memories; all others keep one as long as can be.

    Args:
        rig: The rig of the design.
        ids: Its presets, in the order of the design's.
        design: The design.
        memories: Memories for each of its presets.
    """
    homes = {preset: list(memories[cube]) for preset, cube in zip(ids, design.packing.presets)}
    taken = {memory for held in homes.values() for memory in held}
    free = [memory for memory in range(1, needed_switcher(rig).memories + 1) if memory not in taken]
    for row in rig.presets:
        if row.id in homes or not row.memories:
            continue
        most = max(homes, key=lambda preset: len(homes[preset]))
        if free:
            homes[row.id] = [free.pop(0)]
        elif len(homes[most]) > 1:
            homes[row.id] = [homes[most].pop()]
    return in_memories(rig, homes)
