"""What a rig and the options for it come to, as limits of layouts and a number of presets."""

from __future__ import annotations

from rigtui.model.base import SIDES
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.plan.ask.checked import needed_switcher
from rigtui.plan.ask.needs import Needs
from rigtui.plan.ask.question import Question
from rigtui.plan.loops.layouts import LayoutLimits, clashes


def loops_of(rig: Rig, question: Question) -> dict[str, int]:
    """Loops of each side, as the rig or the options have them."""
    counts: dict[str, int] = {side: sum(loop.side == side for loop in rig.loops) for side in SIDES}
    return counts | dict(question.loops or {})


def limits_of(rig: Rig, needs: Needs, question: Question) -> LayoutLimits:
    """What layouts must keep to: loops at hand, pins, order, sharing."""
    switcher = needed_switcher(rig)
    clash = clashes(needs)
    for pedal, other in question.apart:
        a, b = needs.pedals.index(pedal), needs.pedals.index(other)
        clash[a] |= 1 << b
        clash[b] |= 1 << a
    joinable = 0
    for at in range(len(needs.pedals) - 1):
        same = needs.sides[at] == needs.sides[at + 1]
        if question.sharing and same and not clash[at] >> (at + 1) & 1:
            joinable |= 1 << at
    must = sum(needs.bit(pedal) for pedal in question.pin_in)
    known = lookup(rig)
    for preset in needs.kept:
        for pedal in known.preset_pedals(known.presets[preset]):
            must |= needs.bit(pedal)
    pinned_out = sum(needs.bit(pedal) for pedal in question.pin_out)
    never = needs.left_alone | needs.on_top | pinned_out
    return LayoutLimits(
        needs=needs,
        must=must,
        never=never,
        stretch=question.keep_order and not switcher.between_loops,
        loops=loops_of(rig, question),
        total=question.total_loops,
        joinable=joinable,
        clash=tuple(clash),
    )


def memories_of(rig: Rig, question: Question) -> int:
    """How many presets can be stored."""
    return needed_switcher(rig).memories if question.memories is None else question.memories
