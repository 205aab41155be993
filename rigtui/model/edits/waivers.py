"""Edits of waivers, which follow what they are about when it is renamed or gets another place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from rigtui.model.edits.tables import changed, made, swapped_in, with_table
from rigtui.model.places import place_at, steps_below
from rigtui.model.rig import Rig, Waiver


def waive(rig: Rig, rule: str, where: str, reason: str) -> Rig:
    """Accept a finding at one place, with the reason; a waiver there already is replaced."""
    row = made(Waiver, rule=rule, where=where, reason=reason)
    for at, waiver in enumerate(rig.waivers):
        if (waiver.rule, waiver.where) == (rule, where):
            return with_table(rig, "waivers", swapped_in(rig.waivers, at, row))
    return with_table(rig, "waivers", (*rig.waivers, row))


def unwaive(rig: Rig, rule: str, where: str) -> Rig:
    """Take a waiver back."""
    rows = [w for w in rig.waivers if (w.rule, w.where) != (rule, where)]
    return with_table(rig, "waivers", rows)


def with_waivers_moved(rig: Rig, old: str, new: str) -> Rig:
    """Let waivers follow what they are about from one path to another."""
    rows = []
    for waiver in rig.waivers:
        steps = steps_below(waiver.where, old)
        rows.append(waiver if steps is None else changed(waiver, where=place_at(new, *steps)))
    return rig if rows == list(rig.waivers) else with_table(rig, "waivers", rows)


def with_waivers_swapped(rig: Rig, first_path: str, second_path: str) -> Rig:
    """Let waivers follow two things that take each other's path."""
    rows = []
    for waiver in rig.waivers:
        for old, new in ((first_path, second_path), (second_path, first_path)):
            steps = steps_below(waiver.where, old)
            if steps is not None:
                waiver = changed(waiver, where=place_at(new, *steps))
                break
        rows.append(waiver)
    return rig if rows == list(rig.waivers) else with_table(rig, "waivers", rows)


def with_waivers_placed(
    rig: Rig, rows: str, size: int, order: Callable[[Sequence[Any]], Sequence[Any]]
) -> Rig:
    """Let waivers follow rows without ids to their new places; those of deleted rows go too.

    Args:
        rig: The rig, its waivers as they were.
        rows: Path of the rows, e.g. "songs.low-fen.sections".
        size: How many rows there were.
        order: What is done to the rows; done to their numbers it tells where each one went.
    """
    if not any(steps_below(waiver.where, rows) for waiver in rig.waivers):
        return rig
    places = {old: new for new, old in enumerate(order(tuple(range(size)))) if isinstance(old, int)}
    kept = []
    for waiver in rig.waivers:
        steps = steps_below(waiver.where, rows)
        if steps and steps[0].isdecimal() and int(steps[0]) < size:
            if int(steps[0]) not in places:
                continue
            where = place_at(rows, places[int(steps[0])], *steps[1:])
            waiver = changed(waiver, where=where) if where != waiver.where else waiver
        kept.append(waiver)
    return with_table(rig, "waivers", kept)
