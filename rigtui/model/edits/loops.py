"""Edits that free a loop: its pedals left on outside, or moved in with a neighbour's."""

from __future__ import annotations

from rigtui.model.edits.board import set_chain, set_loop, set_pedal
from rigtui.model.edits.outside import free_place
from rigtui.model.edits.presets import without_loop
from rigtui.model.edits.tables import with_table
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
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
        raise EditError(f"loop {number} has no pedal in it")
    rig = _without_loop(set_loop(rig, number, pedals=()), number)
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
        raise EditError(f"loop {number} cannot be shared with itself")
    both = tuple(dict.fromkeys((*filled.pedals, *emptied.pedals)))
    rig = set_loop(set_loop(rig, number, pedals=()), into, pedals=both)
    return _without_loop(rig, number)


def _loop(rig: Rig, number: int) -> Loop:
    loop = lookup(rig).loops.get(number)
    if loop is None:
        raise EditError(f"there is no loop {number}")
    return loop


def _without_loop(rig: Rig, number: int) -> Rig:
    return with_table(rig, "presets", [without_loop(preset, number) for preset in rig.presets])
