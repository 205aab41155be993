"""A question to the planners as plain data, and the one door through which all are asked."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field, replace
from typing import Any

from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of, figures
from rigtui.plan.ask.other_switcher import memories_fault, with_memories
from rigtui.plan.ask.result import Plan, PlanError, Stopped
from rigtui.plan.ask.so_far import as_it_is, stands, stopped
from rigtui.plan.ask.wishes import LoopWishes
from rigtui.plan.finish import finished, held_against_switches


@dataclass(frozen=True, slots=True)
class Request:
    """What may change, for which setlists, and what the player will not have."""

    kind: str
    """One of `KINDS`."""
    setlists: tuple[str, ...] = ()
    """Ids; all setlists where none is named."""
    seconds: float | None = None
    """Time limit; None for none."""
    pins: Mapping[str, str] = field(default_factory=dict)
    """For a pedal, "in" (it must be in a loop) or "out" (it must be outside)."""
    keep: tuple[str, ...] = ()
    """Presets whose sound, and whose sections, stay as they are."""
    apart: tuple[tuple[str, str], ...] = ()
    """Pairs of pedals that may not share a loop."""
    sharing: bool = True
    """Whether neighbours in the chain may share a loop."""
    keep_order: bool = True
    """Whether the signal order stays as it is."""
    loops: Mapping[str, int] | None = None
    """Loops of each side ("front", "fx"), where they are not as the rig has them."""
    total_loops: int | None = None
    """Loops in all, either side at will; in place of `loops`."""
    memories: int | None = None
    """Presets that can be stored, where not as the switcher has it."""
    pin_switch: Mapping[str, int] = field(default_factory=dict)
    """Memory, from 1, that a preset must have."""
    copies: int = 0
    """How many copies of presets may be put in spare memories."""


_NOTE_SECONDS = 0.5
"""How long may be spent on what copies would save besides."""
KINDS = ("loops", "switches", "route", "all", "curve", "explain")


def plan(rig: Rig, request: Request, control: Control | None = None) -> Plan:
    """Ask the planner that a request is for.

    Args:
        rig: The rig.
        request: What is asked.
        control: Progress out, cancel in; it must hold the time limit.

    Returns:
        The plan; one without a rig if the planner was stopped before it had any.

    Raises:
        PlanError: the question makes no sense for this rig.
    """
    control = control or Control(seconds=request.seconds)
    senseless = nonsense(rig, request)
    if senseless:
        raise PlanError(*senseless)
    control.first_plan = request.kind in ("loops", "switches", "all")
    try:
        as_now = today(rig, request)
        if as_now is not None:
            control.offer(lambda _: as_now)
        made = _planned(rig, request, control)
        if request.kind in ("switches", "all") and not request.copies:
            made = _with_copies_told(made, evening_of(rig, request.setlists), control)
    except Stopped:
        before = figures(rig, evening_of(rig, request.setlists))
        made = stopped(request.kind, before, control)
    made = finished(rig, made, request.setlists)
    return held_against_switches(rig, made, request.setlists, control)


def _with_copies_told(made: Plan, evening: Evening, control: Control) -> Plan:
    """A plan with a note on what copies would save besides, where that is soon known."""
    from rigtui.plan.memories.copies import copies_note

    said = None
    with contextlib.suppress(Stopped):
        said = copies_note(made, evening, control.within(_NOTE_SECONDS))
    return made if said is None else replace(made, notes=(*made.notes, said))


def nonsense(rig: Rig, request: Request) -> list[str]:
    """All that makes no sense about a request for this rig, a sentence for each."""
    from rigtui.plan.ask.wishes import checked_wishes, pin_faults
    from rigtui.plan.memories.switches import needed_switcher

    wishes = loop_wishes(request)
    looks: list[Callable[[], object]] = [lambda: evening_of(rig, request.setlists)]
    if request.kind in ("loops", "all", "curve"):
        looks.append(lambda: checked_wishes(rig, wishes))
    if request.kind != "route":
        looks.append(lambda: needed_switcher(rig))
    reasons: list[str] = []
    for look in looks:
        try:
            look()
        except PlanError as error:
            reasons += error.reasons
    if request.kind == "switches":
        fault = memories_fault(rig, request.memories)
        reasons += [fault] if fault is not None else []
        reasons += pin_faults(rig, request.pin_switch, request.memories)
    return list(dict.fromkeys(reasons))


def stands_today(rig: Rig, request: Request) -> bool:
    """Whether the rig as it stands is a plan that the request allows.

    Raises:
        PlanError: there is no such setlist, or nothing to plan for.
    """
    if request.kind in ("curve", "explain"):
        return False
    evening = evening_of(rig, request.setlists)
    asked = with_memories(rig, request.memories)
    return request.kind == "route" or stands(asked, evening, loop_wishes(request))


def today(rig: Rig, request: Request) -> Plan | None:
    """The plan that leaves the rig as it stands; None where the wishes do not allow that.

    Raises:
        PlanError: there is no such setlist, or nothing to plan for.
    """
    if not stands_today(rig, request):
        return None
    evening = evening_of(rig, request.setlists)
    return as_it_is(request.kind, rig, with_memories(rig, request.memories), evening)


def _planned(rig: Rig, request: Request, control: Control) -> Plan:
    if request.kind == "loops":
        from rigtui.plan.whole.loops import plan_loops

        return plan_loops(rig, request.setlists, loop_wishes(request), control)
    if request.kind == "all":
        from rigtui.plan.whole.everything import plan_all

        return plan_all(rig, request.setlists, loop_wishes(request), control)
    if request.kind == "switches":
        from rigtui.plan.memories.switches import SwitchWishes, plan_switches

        wishes = SwitchWishes(dict(request.pin_switch), request.copies, request.memories)
        return plan_switches(rig, request.setlists, wishes, control)
    if request.kind == "route":
        from rigtui.plan.route.planner import plan_route

        return plan_route(rig, request.setlists, control)
    if request.kind in ("curve", "explain"):
        from rigtui.plan.insight.answers import curves, reasons

        return (curves if request.kind == "curve" else reasons)(rig, request, control)
    raise PlanError(f"there is no plan of the kind {request.kind}: {', '.join(KINDS)}")


def loop_wishes(request: Request) -> LoopWishes:
    """What a request wants of loops."""
    return LoopWishes(
        pin_in=[pedal for pedal, where in request.pins.items() if where == "in"],
        pin_out=[pedal for pedal, where in request.pins.items() if where == "out"],
        keep_presets=request.keep,
        keep_apart=request.apart,
        share=request.sharing,
        keep_order=request.keep_order,
        loops=request.loops,
        total_loops=request.total_loops,
        memories=request.memories,
        pins=dict(request.pin_switch),
        copies=request.copies,
    )


def request_to_data(request: Request) -> dict[str, Any]:
    """Make plain data of a request, fit for JSON."""
    return asdict(request)


def request_from_data(data: Mapping[str, Any]) -> Request:
    """Make a request of plain data.

    Raises:
        TypeError: it is of another version of the program.
    """
    known = dict(data)
    for key in ("setlists", "keep"):
        known[key] = tuple(known[key])
    known["apart"] = tuple((one, other) for one, other in known["apart"])
    return Request(**known)
