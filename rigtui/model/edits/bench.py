"""Edits at the bench: places of devices, plugs, cable, and what is known of each patch lead."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rigtui.model.edits.tables import changed, in_range, made, swapped_in, taken, with_table
from rigtui.model.errors import EditError
from rigtui.model.layout import (
    SWITCHER_DEVICE,
    Hole,
    PatchLead,
    Place,
    PlugKind,
    PlugShape,
    Reel,
    Turn,
)
from rigtui.model.rig import Rig

_TURNS: tuple[Turn, ...] = (0, 90, 180, 270)


def set_bench(rig: Rig, **fields: Any) -> Rig:
    """Change the board, the cable, or the player's pace."""
    return changed(rig, bench=changed(rig.bench, **fields))


def set_place(rig: Rig, device: str, **fields: Any) -> Rig:
    """Change keys of a device's place; a device without one gets it."""
    for at, place in enumerate(rig.places):
        if place.device == device:
            return with_table(rig, "places", swapped_in(rig.places, at, changed(place, **fields)))
    return with_table(rig, "places", (*rig.places, changed(made(Place, device=device), **fields)))


def shift_place(rig: Rig, device: str, right_mm: float, back_mm: float) -> Rig:
    """Move a device on the board.

    Raises:
        EditError: it has no place yet, or would be moved out of reach.
    """
    place = _place(rig, device)
    return set_place(rig, device, x_mm=place.x_mm + right_mm, y_mm=place.y_mm + back_mm)


def turn_place(rig: Rig, device: str) -> Rig:
    """Turn a device a quarter to the right.

    Raises:
        EditError: it has no place yet.
    """
    turn = _TURNS[(_TURNS.index(_place(rig, device).turn) + 1) % len(_TURNS)]
    return set_place(rig, device, turn=turn)


def take_place(rig: Rig, device: str) -> Rig:
    """Take a device off the board; the chain keeps it.

    Raises:
        EditError: it has no place.
    """
    _place(rig, device)
    return with_table(rig, "places", [row for row in rig.places if row.device != device])


def _place(rig: Rig, device: str) -> Place:
    for place in rig.places:
        if place.device == device:
            return place
    raise EditError("the device has no place on the board yet")


def set_patch_lead(rig: Rig, out: str, into: str, **fields: Any) -> Rig:
    """Change what is known of a patch lead; a row of which nothing is known goes.

    Args:
        rig: The rig.
        out: The jack that the signal comes out of, as the file names it.
        into: The jack that it goes into.
        fields: Keys of the row.
    """
    for at, row in enumerate(rig.patch_leads):
        if (row.out, row.into) == (out, into):
            row = changed(row, **fields)
            empty = row.model_fields_set <= {"out", "into"}
            rows = taken(rig.patch_leads, at) if empty else swapped_in(rig.patch_leads, at, row)
            return with_table(rig, "patch_leads", rows)
    row = changed(made(PatchLead, out=out, into=into), **fields)
    if row.model_fields_set <= {"out", "into"}:
        return rig
    return with_table(rig, "patch_leads", (*rig.patch_leads, row))


def set_plug(rig: Rig, shape: PlugShape, **fields: Any) -> Rig:
    """Change what is known of a shape of plug."""
    for at, row in enumerate(rig.plugs):
        if row.shape == shape:
            return with_table(rig, "plugs", swapped_in(rig.plugs, at, changed(row, **fields)))
    return with_table(rig, "plugs", (*rig.plugs, changed(made(PlugKind, shape=shape), **fields)))


def add_reel(rig: Rig, **fields: Any) -> Rig:
    """Add a reel or an offcut."""
    return with_table(rig, "reels", (*rig.reels, made(Reel, **fields)))


def set_reel(rig: Rig, at: int, **fields: Any) -> Rig:
    """Change a reel or offcut, by its place from 0."""
    in_range(rig.reels, at, "reel")
    return with_table(rig, "reels", swapped_in(rig.reels, at, changed(rig.reels[at], **fields)))


def add_hole(rig: Rig, x_mm: float, y_mm: float) -> Rig:
    """Add a hole in the board."""
    return with_table(rig, "holes", (*rig.holes, made(Hole, x_mm=x_mm, y_mm=y_mm)))


def drop_row(rig: Rig, table: str, at: int) -> Rig:
    """Take a row out of a table of the bench, by its place from 0."""
    rows = getattr(rig, table)
    in_range(rows, at, "row")
    return with_table(rig, table, taken(rows, at))


def forget_device(rig: Rig, device: str) -> Rig:
    """Take a device's place and its patch leads out of the tables of the bench."""
    places = [row for row in rig.places if row.device != device]
    leads = [row for row in rig.patch_leads if device not in (_box(row.out), _box(row.into))]
    return _with_bench_rows(rig, places, leads)


def swap_loop_jacks(rig: Rig, number: int, new: int) -> Rig:
    """Let what is known at a loop's jacks follow two loops that take each other's number."""
    swap: dict[str, str] = {}
    for jack in ("send {}", "return {}", "in before loop {}", "out after loop {}"):
        swap |= {jack.format(number): jack.format(new), jack.format(new): jack.format(number)}
    leads = []
    for row in rig.patch_leads:
        ends = {}
        for key in ("out", "into"):
            box, _, jack = getattr(row, key).partition(" ")
            if box == SWITCHER_DEVICE and jack in swap:
                ends[key] = f"{box} {swap[jack]}"
        leads.append(changed(row, **ends) if ends else row)
    places = []
    for place in rig.places:
        spots = [changed(spot, jack=swap.get(spot.jack, spot.jack)) for spot in place.jacks]
        places.append(
            changed(place, jacks=tuple(spots)) if place.device == SWITCHER_DEVICE else place
        )
    return _with_bench_rows(rig, places, leads)


def _with_bench_rows(rig: Rig, places: Iterable[Place], leads: Iterable[PatchLead]) -> Rig:
    """The rig with these rows; tables in which nothing changed stay the same objects."""
    for table, rows in (("places", tuple(places)), ("patch_leads", tuple(leads))):
        if rows != getattr(rig, table):
            rig = with_table(rig, table, rows)
    return rig


def _box(jack: str) -> str:
    """The device of a jack as the file names it: "wah in" is of "wah"."""
    return jack.partition(" ")[0]
