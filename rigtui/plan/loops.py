"""Loops: which pedals earn one, which share one, which stay outside, and the presets for it."""

from __future__ import annotations

from collections.abc import Sequence

from rigtui.model.base import SIDES
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.plan.control import Control
from rigtui.plan.designs import Design, Found
from rigtui.plan.evening import Evening, evening_of, figures
from rigtui.plan.layouts import Rules, clashes
from rigtui.plan.loop_search import LoopSearch
from rigtui.plan.loop_words import conflict_of
from rigtui.plan.needs import Needs, needs_of
from rigtui.plan.rebuild import Rebuilt, rebuild
from rigtui.plan.result import Figures, Part, Plan, PlanError, Status
from rigtui.plan.switches import needed_switcher
from rigtui.plan.wishes import LoopWishes, checked_wishes


def rules_of(rig: Rig, needs: Needs, wishes: LoopWishes) -> Rules:
    """What layouts must keep to: loops at hand, pins, order, sharing."""
    switcher = needed_switcher(rig)
    counts: dict[str, int] = {side: sum(loop.side == side for loop in rig.loops) for side in SIDES}
    counts |= dict(wishes.loops or {})
    clash = clashes(needs)
    for one, other in wishes.keep_apart:
        a, b = needs.pedals.index(one), needs.pedals.index(other)
        clash[a] |= 1 << b
        clash[b] |= 1 << a
    joinable = 0
    for at in range(len(needs.pedals) - 1):
        same = needs.sides[at] == needs.sides[at + 1]
        if wishes.share and same and not clash[at] >> (at + 1) & 1:
            joinable |= 1 << at
    must = sum(needs.bit(pedal) for pedal in dict.fromkeys(wishes.pin_in))
    found = lookup(rig)
    for preset in needs.kept:
        for pedal in found.preset_pedals(found.presets[preset]):
            must |= needs.bit(pedal)
    never = needs.between | sum(needs.bit(pedal) for pedal in dict.fromkeys(wishes.pin_out))
    return Rules(
        needs=needs,
        must=must,
        never=never,
        stretch=wishes.keep_order and not switcher.between_loops,
        loops=counts,
        total=wishes.total_loops,
        joinable=joinable,
        clash=tuple(clash),
    )


def memories_of(rig: Rig, wishes: LoopWishes) -> int:
    """How many presets can be stored."""
    return needed_switcher(rig).memories if wishes.memories is None else wishes.memories


def search_loops(
    rig: Rig,
    needs: Needs,
    wishes: LoopWishes,
    control: Control,
    *,
    slack: float = 0.0,
    limit: int = 0,
    most_kept: int = 1,
) -> Found:
    """Find the best designs; also those within a share of the best, or up to a limit."""
    search = LoopSearch(
        needs,
        rules_of(rig, needs, wishes),
        memories_of(rig, wishes),
        toggling=needed_switcher(rig).loop_switches,
        slack=slack,
        limit=limit,
        most_kept=most_kept,
        control=control,
    )
    return search.run()


def plan_loops(
    rig: Rig,
    setlist_ids: Sequence[str] = (),
    wishes: LoopWishes | None = None,
    control: Control | None = None,
) -> Plan:
    """Choose what goes in loops so that the fewest moves are left.

    In this order: moves over the chosen setlists (bank steps aside), moves of the worst change,
    loops used, presets used. Memories are then chosen for the fewest bank steps.

    Args:
        rig: The rig; the sound of every section stays as it is.
        setlist_ids: The setlists that count; all where none is named.
        wishes: The player's constraints.
        control: Progress out, cancel in.

    Raises:
        PlanError: no switcher, or wishes that make no sense.
    """
    control = control or Control()
    wishes = checked_wishes(rig, wishes or LoopWishes())
    switcher = needed_switcher(rig)
    if wishes.memories is not None and wishes.memories > switcher.memories:
        raise PlanError(
            f"the switcher has {switcher.memories} memories: plan for at most that many, or "
            f"describe a larger switcher"
        )
    evening = evening_of(rig, setlist_ids)
    needs = needs_of(rig, evening, wishes.keep_presets)
    before = figures(rig, evening)
    found = search_loops(rig, needs, wishes, control)
    if not found.designs:
        if control.over:
            return Plan("loops", Status.TIMED_OUT, before, notes=("stopped before any plan",))
        return Plan(
            "loops",
            Status.INFEASIBLE if found.complete else Status.TIMED_OUT,
            before,
            conflict=conflict_of(rig, needs, wishes, found, control),
        )
    built = rebuild(rig, evening, needs, found.designs[0], wishes, control)
    return loop_plan("loops", rig, evening, needs, before, found, found.designs[0], built, control)


def loop_plan(
    kind: str,
    rig: Rig,
    evening: Evening,
    needs: Needs,
    before: Figures,
    found: Found,
    design: Design,
    built: Rebuilt,
    control: Control,
    bound: int | None = None,
) -> Plan:
    """Put a plan together, checked against what the report counts."""
    after = figures(built.rig, evening)
    assert after.moves == design.moves + built.placement.bank_steps
    least = found.bound if bound is None else bound
    lower = min(least, after.moves)
    parts = (
        Part("loops", "moves, bank steps aside", design.moves, min(found.bound, design.moves)),
        Part(
            "switches",
            "bank steps for these presets",
            built.placement.bank_steps,
            built.placement.bound,
        ),
    )
    proved = after.moves <= lower
    status = Status.OPTIMAL if proved else Status.FEASIBLE
    if not proved and control.over:
        status = Status.TIMED_OUT
    notes = [found.note] if found.note else []
    if kind == "loops" and parts[0].proved and after.moves > lower:
        notes.append("the loops are proved best with bank steps aside; `all` weighs bank steps too")
    return Plan(
        kind=kind,
        status=status,
        before=before,
        rig=built.rig,
        after=after,
        lower_bound=lower,
        objective={
            "moves": after.moves,
            "moves_without_bank_steps": design.moves,
            "worst_change": design.worst,
            "loops_used": len(design.groups),
            "presets_used": len(design.packing.presets),
        },
        parts=parts,
        steps=tuple(built.steps),
        notes=(*notes, *built.notes),
        details={
            "loops": [
                {"number": loop.number, "side": loop.side, "pedals": list(loop.pedals)}
                for loop in built.rig.loops
            ],
            "outside": built.outside,
            "always_on": built.always_on,
            "presets": [
                {"id": preset.id, "loops": list(preset.loops), "memory": preset.memory}
                for preset in built.rig.presets
            ],
            "sets_looked_at": found.looked,
            "sets_possible": found.sets,
        },
    )
