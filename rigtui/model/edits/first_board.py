"""The first board: pedals shared out over the loops, before there is anything to plan by."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from rigtui.model.base import SIDES, Kind
from rigtui.model.edits.board import set_pedal, take_from_chain
from rigtui.model.edits.outside import take_outside
from rigtui.model.edits.pedals import into_loop, put_where_usual, usual_place
from rigtui.model.edits.tables import place_of
from rigtui.model.lookup import lookup
from rigtui.model.rig import Pedal, Rig

Place = int | Literal["foot", "always", "home"]
"""The number of a loop; or outside: with its own footswitch, left on, or not on the board."""

# What is wanted on any sound, so that inside a loop it would double the presets; and what the foot
# works anyway. Source: common practice.
_OUTSIDE: tuple[Kind, ...] = ("tuner", "volume", "wah", "looper", "buffer")
_NEXT_OUTSIDE: tuple[Kind, ...] = ("pitch", "tremolo", "eq", "compressor", "boost", "modulation")
"""Who goes outside next where loops are short."""


def places_proposed(rig: Rig) -> dict[str, Place]:
    """Propose a place for each pedal: what goes with any sound outside, the rest a loop each."""
    places: dict[str, Place] = {pedal.id: "foot" for pedal in rig.pedals}
    for pedal in rig.pedals:
        if pedal.used in ("always", "home"):
            places[pedal.id] = pedal.used
        elif pedal.kind in ("volume", "buffer"):
            places[pedal.id] = "always"
    for side in SIDES:
        loops = sorted(loop.number for loop in rig.loops if loop.side == side)
        inside = [
            pedal
            for pedal in rig.pedals
            if pedal.side == side and pedal.kind not in _OUTSIDE and places[pedal.id] == "foot"
        ]
        while len(inside) > len(loops):
            inside.remove(max(inside, key=_goes_with_any_sound))
        inside.sort(key=lambda pedal: usual_place(pedal.kind).rank)
        places.update((pedal.id, number) for pedal, number in zip(inside, loops))
    return places


def _goes_with_any_sound(pedal: Pedal) -> int:
    """How readily a pedal goes outside."""
    kinds = _NEXT_OUTSIDE
    return len(kinds) - kinds.index(pedal.kind) if pedal.kind in kinds else 0


def places_now(rig: Rig) -> dict[str, Place]:
    """Return the place of each pedal; a tuner between songs counts as one with a footswitch."""
    loop_of = lookup(rig).loop_of
    outside: dict[str, Place] = {
        pedal.id: pedal.used if pedal.used in ("always", "home") else "foot" for pedal in rig.pedals
    }
    return {pedal_id: loop_of.get(pedal_id, place) for pedal_id, place in outside.items()}


def placed(rig: Rig, places: Mapping[str, Place]) -> Rig:
    """Put each pedal in its place; sections keep their sounds where a pedal leaves its loop.

    Raises:
        EditError: there is no such pedal or loop.
    """
    for pedal_id, place in places.items():
        place_of(rig.pedals, pedal_id, "pedal")
        if place != places_now(rig)[pedal_id]:
            rig = _placed(rig, pedal_id, place)
    return rig


def _placed(rig: Rig, pedal_id: str, place: Place) -> Rig:
    if isinstance(place, int):
        return into_loop(rig, pedal_id, place)
    if pedal_id in lookup(rig).loop_of:
        rig = take_outside(rig, pedal_id)
    rig = set_pedal(rig, pedal_id, use=None if place == "foot" else place)
    if place == "home":
        return take_from_chain(rig, pedal_id)
    chained = pedal_id in (*rig.chain.front, *rig.chain.fx)
    return rig if chained else put_where_usual(rig, lookup(rig).pedals[pedal_id])
