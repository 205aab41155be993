"""Front of the amp or its effects loop: each thing on its own side, and a side to be on."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.words import named
from rigtui.model import Loop, Pedal, Rig
from rigtui.model.base import SIDES, Side
from rigtui.model.edits import put_in_chain, set_loop, set_pedal, take_from_chain
from rigtui.model.edits.outside import put_beside_loops
from rigtui.model.lookup import lookup
from rigtui.model.places import place_at

_A = {"front": "a front", "fx": "an fx"}


def _side_mismatch(view: RigView) -> Iterator[Hit]:
    rig, known = view.rig, view.known
    for pedal in rig.pedals:
        homes = [loop for loop in rig.loops if pedal.id in loop.pedals]
        odd = next((loop for loop in homes if loop.side != pedal.side), None)
        if odd is not None:
            possible = len(homes) == 1 and (odd.side == "front" or rig.amp.fx_loop)
            yield Hit(
                place_at("pedals", pedal.id),
                f"{named(pedal)} is {_A[pedal.side]} pedal in loop {odd.number}, which is "
                f"{_A[odd.side]} loop",
                Fix(
                    f"make it {_A[odd.side]} pedal",
                    partial(set_pedal, pedal_id=pedal.id, side=odd.side),
                )
                if possible
                else None,
            )
        side = None if homes else _wrong_side(rig, pedal.id, pedal.side)
        if side is not None:
            says = f"{named(pedal)} is {_A[pedal.side]} pedal in the {side} chain"
            yield Hit(place_at("pedals", pedal.id), says, _pedal_fix(rig, pedal, side))
    for loop in rig.loops:
        side = _wrong_side(rig, loop.number, loop.side)
        if side is not None:
            says = f"Loop {loop.number} is {_A[loop.side]} loop in the {side} chain"
            all_there = all(
                known.pedals[pedal_id].side == side
                for pedal_id in loop.pedals
                if pedal_id in known.pedals
            )
            yield Hit(place_at("loops", loop.number), says, _loop_fix(rig, loop, side, all_there))


def _wrong_side(rig: Rig, item: int | str, own: Side) -> Side | None:
    """The side whose chain has an item that belongs to the other; None if both have it."""
    here = [side for side in SIDES if item in getattr(rig.chain, side)]
    return here[0] if here and own not in here else None


def _pedal_fix(rig: Rig, pedal: Pedal, side: Side) -> Fix:
    """The chain was written with thought: it is the pedal's own word that gives way."""
    if side == "front" or rig.amp.fx_loop:
        return Fix(f"make it {_A[side]} pedal", partial(set_pedal, pedal_id=pedal.id, side=side))
    return Fix("move it to the front chain", partial(_pedal_to_front, pedal.id))


def _loop_fix(rig: Rig, loop: Loop, side: Side, all_there: bool) -> Fix | None:
    if all_there and (side == "front" or rig.amp.fx_loop):
        return Fix(f"make it {_A[side]} loop", partial(set_loop, number=loop.number, side=side))
    if loop.side == "front" or rig.amp.fx_loop:
        return Fix(f"move it to the {loop.side} chain", partial(_move_loop, loop.number, loop.side))
    return None


def _move_loop(number: int, side: Side, rig: Rig) -> Rig:
    return put_in_chain(take_from_chain(rig, number), number, side)


def _no_fx_loop(view: RigView) -> Iterator[Hit]:
    rig, known = view.rig, view.known
    if rig.amp.fx_loop:
        return
    for pedal in rig.pedals:
        if pedal.side != "fx":
            continue
        number = known.loop_of.get(pedal.id)
        if number is not None and known.loops[number].side == "fx":
            fix = Fix(f"move loop {number} in front of the amp", partial(_loop_to_front, number))
        else:
            fix = Fix("move it in front of the amp", partial(_pedal_to_front, pedal.id))
        says = f"{named(pedal)} is an fx pedal, but the amp has no effects loop"
        yield Hit(place_at("pedals", pedal.id), says, fix)
    for loop in rig.loops:
        if loop.side == "fx":
            yield Hit(
                place_at("loops", loop.number),
                f"Loop {loop.number} is an fx loop, but the amp has no effects loop",
                Fix("move it in front of the amp", partial(_loop_to_front, loop.number)),
            )


def _pedal_to_front(pedal_id: str, rig: Rig) -> Rig:
    rig = set_pedal(rig, pedal_id, side="front")
    if pedal_id not in rig.chain.fx:
        return rig
    if pedal_id in rig.chain.front or pedal_id in lookup(rig).loop_of:
        return rig  # in two places: which one is to go is another finding's matter
    return put_beside_loops(take_from_chain(rig, pedal_id), lookup(rig).pedals[pedal_id])


def _loop_to_front(number: int, rig: Rig) -> Rig:
    for pedal_id in lookup(rig).loops[number].pedals:
        if pedal_id in lookup(rig).pedals:
            rig = set_pedal(rig, pedal_id, side="front")
    rig = set_loop(rig, number, side="front")
    if number in rig.chain.fx and number not in rig.chain.front:
        rig = put_in_chain(take_from_chain(rig, number), number, "front")
    return rig


_SOURCE = "Rig file format: side."

RULES = (
    Rule(
        id="side-mismatch",
        severity="error",
        scope="rig",
        summary="A pedal or loop is not on its own side of the amp.",
        why="A pedal is wired either before the amp's input or between its send and "
        "return. The file says both.",
        source=_SOURCE,
        check=_side_mismatch,
    ),
    Rule(
        id="no-fx-loop",
        severity="error",
        scope="rig",
        summary="Something is in the effects loop of an amp that has none.",
        why="Without send and return there is only one place for a pedal: before the amp's input.",
        source=_SOURCE,
        check=_no_fx_loop,
    ),
)
