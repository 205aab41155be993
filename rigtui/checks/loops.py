"""Loops that do no more than a patch lead would."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import pairwise

from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.words import pedals_named
from rigtui.model import Loop
from rigtui.model.base import SIDES
from rigtui.model.edits import leave_on, share_loop
from rigtui.model.places import place_at

_FEWEST = 2
"""One preset says nothing about which loops belong together."""


def _toggled(view: RigView) -> set[int]:
    """Loops that some section switches on top of its preset."""
    if not view.known.toggling:
        return set()
    pedals = {
        pedal_id
        for song in view.rig.songs
        for section in song.sections
        for pedal_id in (*section.plus, *section.minus)
    }
    return {number for pedal_id, number in view.known.loop_of.items() if pedal_id in pedals}


def _column(view: RigView, number: int) -> tuple[bool, ...]:
    """In which presets a loop is in."""
    return tuple(number in preset.loops for preset in view.rig.presets)


def _idle_loop(view: RigView) -> Iterator[Hit]:
    presets = view.rig.presets
    if len(presets) < _FEWEST:
        return
    toggled = _toggled(view)
    for loop in view.rig.loops:
        pedals = view.known.pedals
        inside = [pedals[pedal_id] for pedal_id in loop.pedals if pedal_id in pedals]
        if not inside or loop.number in toggled or any(pedal.kind == "tuner" for pedal in inside):
            continue
        times = sum(_column(view, loop.number))
        name = f"Loop {loop.number} ({pedals_named(view.known, loop.pedals)})"
        where = place_at("loops", loop.number)
        if times == 0:
            yield Hit(where, f"{name} is in no preset (0 of {len(presets)})")
        elif times == len(presets):
            yield Hit(
                where,
                f"{name} is in every preset ({len(presets)} of {len(presets)}), "
                "so nothing ever switches it",
                Fix("leave it on, outside the loop", partial(leave_on, number=loop.number))
                if all(pedal.side == loop.side for pedal in inside)
                else None,
            )


def _neighbours(view: RigView) -> Iterator[tuple[Loop, Loop]]:
    """Loops with nothing but empty loops between them."""
    for side in SIDES:
        run: list[Loop | None] = []
        for item in getattr(view.rig.chain, side):
            loop = view.known.loops.get(item)
            if loop is None:
                run.append(None)
            elif loop.pedals and loop.side == side:
                run.append(loop)
        for loop, next_loop in pairwise(run):
            if loop is not None and next_loop is not None and loop is not next_loop:
                yield loop, next_loop


def _twin_loops(view: RigView) -> Iterator[Hit]:
    presets = view.rig.presets
    if len(presets) < _FEWEST:
        return
    toggled = _toggled(view)
    for loop, next_loop in _neighbours(view):
        column = _column(view, loop.number)
        alike = column == _column(view, next_loop.number) and len(set(column)) > 1
        if alike and loop.number not in toggled and next_loop.number not in toggled:
            first, second = (pedals_named(view.known, each.pedals) for each in (loop, next_loop))
            yield Hit(
                place_at("loops", next_loop.number),
                f"Loop {loop.number} ({first}) and loop {next_loop.number} ({second}) "
                f"switch together in every preset ({len(presets)} of {len(presets)})",
                Fix(
                    f"put both in loop {loop.number}",
                    partial(share_loop, number=next_loop.number, into=loop.number),
                ),
            )


RULES = (
    Rule(
        id="idle-loop",
        severity="advice",
        scope="rig",
        summary="A loop is in every preset, or in none.",
        why="A loop that never switches could be a patch lead, and another pedal could "
        "use the loop. Keep it if it is a spare, a mute, or holds a pedal that is "
        "noisy in bypass.",
        source="Arithmetic: its column of the presets is constant.",
        check=_idle_loop,
    ),
    Rule(
        id="twin-loops",
        severity="advice",
        scope="rig",
        summary="Two neighbouring loops switch together in every preset.",
        why="One loop could hold both pedals and free the other. In two loops a dead "
        "pedal is easier to find.",
        source="Arithmetic: their columns of the presets are equal.",
        check=_twin_loops,
    ),
)
