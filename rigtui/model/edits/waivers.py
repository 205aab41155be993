"""Waivers follow what they are about when it is renamed or gets another place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from rigtui.model.edits.tables import changed, with_table
from rigtui.model.rig import Rig


def with_waivers_moved(rig: Rig, old: str, new: str) -> Rig:
    """Let waivers follow what they are about from one path to another."""
    rows = [
        changed(waiver, where=new + waiver.where[len(old) :])
        if waiver.where == old or waiver.where.startswith(old + ".")
        else waiver
        for waiver in rig.waivers
    ]
    return rig if rows == list(rig.waivers) else with_table(rig, "waivers", rows)


def with_waivers_placed(
    rig: Rig, rows: str, size: int, order: Callable[[Sequence[Any]], Sequence[Any]]
) -> Rig:
    """Let waivers follow rows without ids to their new places; those of deleted rows go too.

    Args:
        rig: The rig, its waivers as they were.
        rows: Path of the rows, e.g. "songs.low-sun.sections".
        size: How many rows there were.
        order: What is done to the rows; done to their numbers it tells where each one went.
    """
    if not any(waiver.where.startswith(rows + ".") for waiver in rig.waivers):
        return rig
    places = {old: new for new, old in enumerate(order(tuple(range(size)))) if isinstance(old, int)}
    kept = []
    for waiver in rig.waivers:
        place, dot, rest = waiver.where.removeprefix(rows + ".").partition(".")
        if waiver.where.startswith(rows + ".") and place.isdecimal() and int(place) < size:
            if int(place) not in places:
                continue
            where = f"{rows}.{places[int(place)]}{dot}{rest}"
            waiver = changed(waiver, where=where) if where != waiver.where else waiver
        kept.append(waiver)
    return with_table(rig, "waivers", kept)
