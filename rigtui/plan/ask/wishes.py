"""What the player wants of a loop plan, checked against the rig."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from rigtui.model.base import SIDES
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import first_few, nearest, visible
from rigtui.model.validate import LIMITS
from rigtui.plan.ask.other_switcher import memories_fault
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError

MOST_LOOPS = LIMITS["loops"]
"""What a rig file may have at most."""


@dataclass(frozen=True, slots=True)
class LoopWishes:
    """Constraints on which pedals go in loops, and how."""

    pin_in: Sequence[str] = ()
    """Pedals that must be in a loop."""
    pin_out: Sequence[str] = ()
    """Pedals that must be outside."""
    keep_presets: Sequence[str] = ()
    """Presets whose sound, and whose sections, stay as they are."""
    keep_apart: Sequence[tuple[str, str]] = ()
    """Pairs of pedals that may not share a loop."""
    share: bool = True
    """Whether neighbours in the chain may share a loop."""
    keep_order: bool = True
    """Whether the signal order must stay: then an outside pedal cannot leave its place, and a
    switcher without jacks between its loops holds every pedal from the first to the last of a
    side that is in a loop."""
    loops: Mapping[str, int] | None = None
    """Loops of each side ("front", "fx"), where they are not as the rig has them."""
    total_loops: int | None = None
    """Loops in all, either side at will; in place of `loops`."""
    memories: int | None = None
    """Presets that can be stored, where not as the switcher has it."""
    pins: Mapping[str, int] = field(default_factory=dict)
    """Memory, from 1, that a preset must have."""
    copies: int = 0
    """How many copies of presets may be put in spare memories."""
    owned: int | None = None
    """Memories that the switcher has, where others are asked for; `checked_wishes` tells."""


def checked_wishes(rig: Rig, wishes: LoopWishes) -> LoopWishes:
    """Return the wishes if they make sense: each once, in the rig's order, however they came.

    Raises:
        PlanError: everything that makes no sense, each in a sentence: unknown pedals and presets,
            a pedal both in and out, silly numbers.
    """
    faults = [
        *_unknown(rig, wishes),
        *_contradictions(rig, wishes),
        *_silly_numbers(rig, wishes),
        *pin_faults(rig, wishes.pins, wishes.memories),
    ]
    if faults:
        raise PlanError(*dict.fromkeys(faults))
    pedals = [pedal.id for pedal in rig.pedals]
    presets = [preset.id for preset in rig.presets]
    apart = {frozenset(pair): sorted(pair, key=pedals.index) for pair in wishes.keep_apart}
    pairs = sorted(apart.values(), key=lambda pair: [pedals.index(one) for one in pair])
    own = None if rig.switcher is None else rig.switcher.memories
    other = wishes.memories not in (None, own)
    return replace(
        wishes,
        pin_in=tuple(one for one in pedals if one in wishes.pin_in),
        pin_out=tuple(one for one in pedals if one in wishes.pin_out),
        keep_presets=tuple(one for one in presets if one in wishes.keep_presets),
        keep_apart=tuple((one, other) for one, other in pairs),
        owned=own if other else None,
    )


def _unknown(rig: Rig, wishes: LoopWishes) -> Iterator[str]:
    pedals = {pedal.id: pedal.label for pedal in rig.pedals}
    presets = {preset.id: preset.label for preset in rig.presets}
    apart = [pedal for pair in wishes.keep_apart for pedal in pair]
    for pedal in (*wishes.pin_in, *wishes.pin_out, *apart):
        if pedal not in pedals:
            yield unknown("pedal", pedal, pedals)
    for preset in wishes.keep_presets:
        if preset not in presets:
            yield unknown("preset", preset, presets)


def _contradictions(rig: Rig, wishes: LoopWishes) -> Iterator[str]:
    found = lookup(rig)
    for pedal in dict.fromkeys(wishes.pin_in):
        label = visible(found.label(pedal))
        if pedal in wishes.pin_out:
            yield f"{label} cannot be both in a loop and outside: choose one"
        outside = pedal in found.pedals and pedal not in found.loop_of
        if outside and found.use_of(found.pedals[pedal]) == "between":
            yield (
                f"{label} is used only between songs, so it has no place in a loop: let it stay "
                f'outside, or give it use = "foot" in the rig'
            )
    for one, other in wishes.keep_apart:
        if one == other:
            yield f"{visible(found.label(one))} cannot be kept apart from itself: name two pedals"


def _silly_numbers(rig: Rig, wishes: LoopWishes) -> Iterator[str]:
    loops = dict(wishes.loops or {})
    numbers = {
        "loops in all": (wishes.total_loops, 0, MOST_LOOPS),
        **{
            f"{side} loops": (number, 0, MOST_LOOPS)
            for side, number in loops.items()
            if side in SIDES
        },
    }
    silly = False
    for name, (number, low, high) in numbers.items():
        if number is not None and not low <= number <= high:
            silly = True
            yield f"{name} must be {low} to {high}, not {number}"
    for side in loops:
        if side not in SIDES:
            yield f'a loop is on side "front" or "fx", not "{visible(side)}"'
    if not silly and sum(loops.values()) > MOST_LOOPS:
        yield (
            f"a switcher has at most {MOST_LOOPS} loops, front and fx together, not "
            f"{sum(loops.values())}"
        )
    fault = memories_fault(rig, wishes.memories)
    if fault is not None:
        yield fault


def pin_faults(rig: Rig, pins: Mapping[str, int], asked: int | None = None) -> Iterator[str]:
    """What makes no sense about presets pinned to memories (from 1), each in a sentence.

    Args:
        rig: The rig.
        pins: Memory of each preset.
        asked: How many memories are asked for, where not as the switcher has them.
    """
    most = rig.switcher.memories if asked is None and rig.switcher is not None else asked
    presets = {preset.id: preset.label for preset in rig.presets}
    holders: dict[int, str] = {}
    for preset, memory in pins.items():
        if preset not in presets:
            yield unknown("preset", preset, presets)
            continue
        if most is not None and not 1 <= memory <= most:
            whose = "the switcher has" if asked is None else "you plan for"
            yield (
                f"{visible(presets[preset])} cannot be in memory {memory}: {whose} memories 1 to "
                f"{most}"
            )
        other = holders.setdefault(memory, preset)
        if other != preset:
            yield (
                f"{visible(presets[other])} and {visible(presets[preset])} cannot both be in "
                f"memory {memory}: choose one"
            )


_MOST_NAMED = 12


def unknown(what: str, name: str, known: Mapping[str, str]) -> str:
    """Say that there is no such row, with the nearest one or all there are.

    Args:
        what: The kind of row, as "pedal".
        name: What was asked for.
        known: Ids, and what each is called.
    """
    start = f'there is no {what} "{visible(name)}"'
    ids = {label: one for one, label in known.items()} | {one: one for one in known}
    close = nearest(name[:80], ids)
    if close is not None:
        return f'{start}: did you mean "{visible(ids[close])}"?'
    if not known:
        return f"{start}: the rig has no {what}s"
    all_there_are = [visible(one) for one in known]
    return f"{start}; the rig has {first_few(all_there_are, _MOST_NAMED)}"


def loop_wishes(question: Question) -> LoopWishes:
    """What a question wants of loops."""
    return LoopWishes(
        pin_in=[pedal for pedal, where in question.pins.items() if where == "in"],
        pin_out=[pedal for pedal, where in question.pins.items() if where == "out"],
        keep_presets=question.keep,
        keep_apart=question.apart,
        share=question.sharing,
        keep_order=question.keep_order,
        loops=question.loops,
        total_loops=question.total_loops,
        memories=question.memories,
        pins=dict(question.pin_switch),
        copies=question.copies,
    )
