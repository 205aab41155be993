"""Check a question against the rig, and report every contradiction at once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from rigtui.model.base import SIDES
from rigtui.model.limits import LIMITS
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig, Switcher
from rigtui.model.text import first_few, listed, nearest, visible
from rigtui.plan.ask.goal import FIRST
from rigtui.plan.ask.other_switcher import memories_fault
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError

MOST_LOOPS = LIMITS["loops"]
"""What a rig file may have at most."""


STAYS_OUT = {
    "between": "is used only between songs",
    "treadle": "goes on when your foot rocks it",
    "home": "is not on the board tonight",
}
"""Uses of a pedal that keep it outside the loops, in words."""


def checked(rig: Rig, question: Question) -> Question:
    """Return the question if its options make sense: each once, in the rig's order.

    Raises:
        PlanError: everything that makes no sense, each in a sentence: unknown pedals and presets,
            a pedal that no loop can hold, silly numbers, two presets in one memory.
    """
    faults = [
        *_unknown(rig, question),
        *_contradictions(rig, question),
        *_silly_numbers(rig, question),
        *_memory_faults(rig, question),
    ]
    if question.first not in FIRST:
        faults.append(f'what comes first is {listed(FIRST, "or")}, not "{visible(question.first)}"')
    if faults:
        raise PlanError(*dict.fromkeys(faults))
    pedals = [pedal.id for pedal in rig.pedals]
    apart = {frozenset(pair): sorted(pair, key=pedals.index) for pair in question.apart}
    pairs = sorted(apart.values(), key=lambda pair: [pedals.index(pedal) for pedal in pair])
    return replace(
        question,
        pins={pedal: question.pins[pedal] for pedal in pedals if pedal in question.pins},
        keep=tuple(preset.id for preset in rig.presets if preset.id in question.keep),
        apart=tuple((pedal, other) for pedal, other in pairs),
    )


def _unknown(rig: Rig, question: Question) -> Iterator[str]:
    pedals = {pedal.id: pedal.label for pedal in rig.pedals}
    presets = {preset.id: preset.label for preset in rig.presets}
    apart = [pedal for pair in question.apart for pedal in pair]
    for pedal in (*question.pins, *apart):
        if pedal not in pedals:
            yield unknown("pedal", pedal, pedals)
    for preset in question.keep:
        if preset not in presets:
            yield unknown("preset", preset, presets)


def _contradictions(rig: Rig, question: Question) -> Iterator[str]:
    known = lookup(rig)
    for pedal, where in question.pins.items():
        label = visible(known.label(pedal))
        if where not in ("in", "out"):
            yield f'{label} can be "in" a loop or "out", not "{visible(where)}"'
        outside = pedal in known.pedals and pedal not in known.loop_of
        why = STAYS_OUT.get(known.pedals[pedal].used) if outside and where == "in" else None
        if why is not None:
            yield (
                f"{label} {why}, so it can't go into a loop: let it stay outside, or "
                'give it use = "foot" in the rig'
            )
    for pedal, other in question.apart:
        if pedal == other:
            yield (
                f"{visible(known.label(pedal))} can't be kept apart from itself: name two pedals"
            )


def _silly_numbers(rig: Rig, question: Question) -> Iterator[str]:
    loops = dict(question.loops or {})
    numbers = {
        "loops in all": (question.total_loops, 0, MOST_LOOPS),
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
    fault = memories_fault(rig, question.memories)
    if fault is not None:
        yield fault


def _memory_faults(rig: Rig, question: Question) -> Iterator[str]:
    """What makes no sense about presets that must be in a memory."""
    asked = question.memories
    most = rig.switcher.memories if asked is None and rig.switcher is not None else asked
    presets = {preset.id: preset.label for preset in rig.presets}
    holders: dict[int, str] = {}
    for preset, memory in question.pin_switch.items():
        if preset not in presets:
            yield unknown("preset", preset, presets)
            continue
        if most is not None and not 1 <= memory <= most:
            whose = "the switcher has" if asked is None else "you plan for"
            yield (
                f"{visible(presets[preset])} can't be in memory {memory}: {whose} "
                f"memories 1 to {most}"
            )
        other = holders.setdefault(memory, preset)
        if other != preset:
            yield (
                f"{visible(presets[other])} and {visible(presets[preset])} can't both "
                f"be in memory {memory}: choose one"
            )


_MOST_NAMED = 12


def needed_switcher(rig: Rig) -> Switcher:
    """The rig's switcher.

    Raises:
        PlanError: it has none.
    """
    if rig.switcher is None:
        raise PlanError("the rig has no switcher: add one first, with memories and bank_size")
    return rig.switcher


def unknown(what: str, name: str, known: Mapping[str, str]) -> str:
    """Say that there is no such row, with the nearest one or all there are.

    Args:
        what: The kind of row, as "pedal".
        name: What was asked for.
        known: Ids, and what each is called.
    """
    start = f'there is no {what} "{visible(name)}"'
    ids = {label: row_id for row_id, label in known.items()} | {row_id: row_id for row_id in known}
    close = nearest(name[:80], ids)
    if close is not None:
        return f'{start}: did you mean "{visible(ids[close])}"?'
    if not known:
        return f"{start}: the rig has no {what}s"
    all_there_are = [visible(row_id) for row_id in known]
    return f"{start}; the rig has {first_few(all_there_are, _MOST_NAMED)}"
