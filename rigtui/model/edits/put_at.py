"""Putting a pedal or a loop where something else stands, as one drags it there."""

from __future__ import annotations

from rigtui.model.base import SIDES, Side
from rigtui.model.edits.board import set_chain, set_pedal, take_from_chain
from rigtui.model.edits.loops import loop_to_other_side
from rigtui.model.edits.outside import take_outside
from rigtui.model.edits.pedals import into_loop, move_along
from rigtui.model.edits.tables import place_of, put
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig

Item = int | str
"""A loop's number or a pedal's id."""


def put_at(rig: Rig, item: Item, onto: Item) -> Rig:
    """Put a pedal or a loop in the place of another, which moves on to make room.

    A pedal that is put on a loop, or on a pedal in a loop, goes into it.

    Raises:
        EditError: one of them is not there, or it is the same place.
    """
    known = lookup(rig)
    loop = onto if isinstance(onto, int) else known.loop_of.get(onto)
    if loop is None:
        return _in_chain(rig, item, onto)
    if isinstance(item, int):
        return _in_chain(rig, item, loop)
    if known.loop_of.get(item) != loop:
        return into_loop(rig, item, loop)
    inside = known.loops[loop].pedals
    there = inside.index(onto) if isinstance(onto, str) else 0
    return move_along(rig, item, there - inside.index(item))


def put_at_end(rig: Rig, item: Item, last: bool) -> Rig:
    """Put a pedal or a loop straight after the guitar, or last before the amp.

    Raises:
        EditError: it is not there.
    """
    rig = _on_side(rig, item, "front")
    items = take_from_chain(rig, item).chain.front
    return set_chain(rig, "front", put(items, None if last else 0, item))


def _in_chain(rig: Rig, item: Item, onto: Item) -> Rig:
    side = next((side for side in SIDES if onto in getattr(rig.chain, side)), None)
    if item == onto:
        raise EditError("it is there already")
    if side is None:
        raise EditError("nothing can go there: this place is not in the chain")
    before: tuple[Item, ...] = getattr(rig.chain, side)
    rig = _on_side(rig, item, side)
    items: tuple[Item, ...] = getattr(take_from_chain(rig, item).chain, side)
    # What is dragged on takes the place of what it is put on, from whichever side it comes.
    further = item in before and before.index(item) < before.index(onto)
    return set_chain(rig, side, put(items, items.index(onto) + further, item))


def _on_side(rig: Rig, item: Item, side: Side) -> Rig:
    """The rig with a pedal outside the loops, or a loop, on a side of the amp."""
    if isinstance(item, int):
        loop = lookup(rig).loops.get(item)
        if loop is None:
            raise EditError(f"there is no loop {item}")
        return rig if loop.side == side else loop_to_other_side(rig, item)
    if item in lookup(rig).loop_of:
        rig = take_outside(rig, item)
    pedal = rig.pedals[place_of(rig.pedals, item, "pedal")]
    rig = rig if pedal.side == side else set_pedal(take_from_chain(rig, item), item, side=side)
    # A pedal left at home is used again once it stands in the signal.
    return set_pedal(rig, item, use=None) if pedal.use == "home" else rig
