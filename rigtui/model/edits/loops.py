"""Edits of loops: they come, go, change number and side, and are freed for something better."""

from __future__ import annotations

from rigtui.model.base import SIDES, Side
from rigtui.model.edits.bench import swap_loop_jacks
from rigtui.model.edits.board import (
    put_in_chain,
    set_chain,
    set_loop,
    set_pedal,
    take_from_chain,
)
from rigtui.model.edits.outside import free_place, take_outside
from rigtui.model.edits.presets import loop_out_everywhere
from rigtui.model.edits.tables import changed, made, with_table
from rigtui.model.edits.waivers import with_waivers_swapped
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.places import place_at
from rigtui.model.rig import Loop, Rig


def leave_on(rig: Rig, number: int) -> Rig:
    """Take all pedals out of a loop and leave them on; presets forget the loop.

    Raises:
        EditError: there is no such loop, or none of its pedals exists.
    """
    loop, known = _loop(rig, number), lookup(rig)
    pedals = [
        known.pedals[pedal_id]
        for pedal_id in dict.fromkeys(loop.pedals)
        if pedal_id in known.pedals
    ]
    if not pedals:
        raise EditError(f"loop {number} is empty")
    rig = loop_out_everywhere(set_loop(rig, number, pedals=()), number)
    for pedal in pedals:
        rig = set_pedal(rig, pedal.id, use="always")
    chain = (*rig.chain.front, *rig.chain.fx)
    lost = tuple(pedal.id for pedal in pedals if pedal.id not in chain)
    items: tuple[int | str, ...] = getattr(rig.chain, loop.side)
    at = items.index(number) if number in items else len(items)
    at = free_place(rig, pedals[0], loop.side, at)
    return set_chain(rig, loop.side, (*items[:at], *lost, *items[at:]))


def share_loop(rig: Rig, number: int, into: int) -> Rig:
    """Move all pedals of one loop into another, behind those that are there; presets forget it.

    Raises:
        EditError: there is no such loop, or both are the same.
    """
    emptied, filled = _loop(rig, number), _loop(rig, into)
    if number == into:
        raise EditError(f"loop {number} can't be merged with itself")
    both = tuple(dict.fromkeys((*filled.pedals, *emptied.pedals)))
    rig = set_loop(set_loop(rig, number, pedals=()), into, pedals=both)
    return loop_out_everywhere(rig, number)


def add_loop(rig: Rig, side: Side) -> Rig:
    """Add a loop with the first number that is free, behind the other loops of its side.

    Raises:
        EditError: there are as many loops as a file holds.
    """
    numbers = {loop.number for loop in rig.loops}
    number = next(number for number in range(1, len(numbers) + 2) if number not in numbers)
    rows = sorted((*rig.loops, made(Loop, number=number, side=side)), key=lambda row: row.number)
    return put_in_chain(with_table(rig, "loops", rows), number, side)


def delete_loop(rig: Rig, number: int) -> Rig:
    """Delete a loop; its pedals go outside, and sections keep their sounds.

    Raises:
        EditError: there is no such loop, or a pedal of it is in another one too.
    """
    known = lookup(rig).pedals
    for pedal_id in _loop(rig, number).pedals:
        if pedal_id in known:
            rig = take_outside(rig, pedal_id)
    rig = take_from_chain(loop_out_everywhere(rig, number), number)
    return with_table(rig, "loops", [loop for loop in rig.loops if loop.number != number])


def renumber_loop(rig: Rig, number: int, new: int) -> Rig:
    """Give a loop another number; the loop that has it gets this one's. Presets follow.

    Raises:
        EditError: there is no such loop, or no loop can have this number.
    """
    _loop(rig, number)
    swap: dict[int | str, int] = {number: new, new: number}
    loops = [changed(loop, number=swap.get(loop.number, loop.number)) for loop in rig.loops]
    rig = with_table(rig, "loops", sorted(loops, key=lambda row: row.number))
    for side in SIDES:
        items: tuple[int | str, ...] = getattr(rig.chain, side)
        rig = set_chain(rig, side, tuple(swap.get(item, item) for item in items))
    presets = [
        changed(preset, loops=tuple(sorted(swap.get(loop, loop) for loop in preset.loops)))
        if not swap.keys().isdisjoint(preset.loops)
        else preset
        for preset in rig.presets
    ]
    rig = swap_loop_jacks(with_table(rig, "presets", presets), number, new)
    return with_waivers_swapped(rig, place_at("loops", number), place_at("loops", new))


def loop_to_other_side(rig: Rig, number: int) -> Rig:
    """Move a loop, and the pedals in it, to the other side of the amp.

    Raises:
        EditError: there is no such loop.
    """
    loop = _loop(rig, number)
    side = SIDES[1 - SIDES.index(loop.side)]
    rig = set_loop(take_from_chain(rig, number), number, side=side)
    for pedal_id in loop.pedals:
        if pedal_id in lookup(rig).pedals:
            rig = set_pedal(rig, pedal_id, side=side)
    return put_in_chain(rig, number, side)


def _loop(rig: Rig, number: int) -> Loop:
    loop = lookup(rig).loops.get(number)
    if loop is None:
        raise EditError(f"there is no loop {number}")
    return loop
