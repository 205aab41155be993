"""Loops that earn their place no better than a lead would."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import pairwise

from rigtui.checks.finding import Fix, Hit, Rule, View
from rigtui.checks.words import pedals_named
from rigtui.model import Loop
from rigtui.model.base import SIDES
from rigtui.model.edits import leave_on, share_loop
from rigtui.model.places import place_at

_FEWEST = 2
"""One preset says nothing about which loops belong together."""


def _toggled(view: View) -> set[int]:
    """Loops that some section switches on top of its preset."""
    if not view.found.toggling:
        return set()
    pedals = {
        pedal_id
        for song in view.rig.songs
        for section in song.sections
        for pedal_id in (*section.plus, *section.minus)
    }
    return {number for pedal_id, number in view.found.loop_of.items() if pedal_id in pedals}


def _column(view: View, number: int) -> tuple[bool, ...]:
    """In which presets a loop is in."""
    return tuple(number in preset.loops for preset in view.rig.presets)


def _idle_loop(view: View) -> Iterator[Hit]:
    presets = view.rig.presets
    if len(presets) < _FEWEST:
        return
    toggled = _toggled(view)
    for loop in view.rig.loops:
        known = [view.found.pedals[one] for one in loop.pedals if one in view.found.pedals]
        if not known or loop.number in toggled or any(pedal.kind == "tuner" for pedal in known):
            continue
        times = sum(_column(view, loop.number))
        name = f"Loop {loop.number} ({pedals_named(view.found, loop.pedals)})"
        where = place_at("loops", loop.number)
        if times == 0:
            yield Hit(where, f"{name} is in no preset, of {len(presets)}")
        elif times == len(presets):
            yield Hit(
                where,
                f"{name} is in every preset, of {len(presets)}, so nothing ever switches it",
                Fix("leave it on, outside the loop", partial(leave_on, number=loop.number))
                if all(pedal.side == loop.side for pedal in known)
                else None,
            )


def _neighbours(view: View) -> Iterator[tuple[Loop, Loop]]:
    """Loops with nothing but empty loops between them."""
    for side in SIDES:
        run: list[Loop | None] = []
        for item in getattr(view.rig.chain, side):
            loop = view.found.loops.get(item)
            if loop is None:
                run.append(None)
            elif loop.pedals and loop.side == side:
                run.append(loop)
        for one, other in pairwise(run):
            if one is not None and other is not None and one is not other:
                yield one, other


def _twin_loops(view: View) -> Iterator[Hit]:
    presets = view.rig.presets
    if len(presets) < _FEWEST:
        return
    toggled = _toggled(view)
    for one, other in _neighbours(view):
        column = _column(view, one.number)
        alike = column == _column(view, other.number) and len(set(column)) > 1
        if alike and one.number not in toggled and other.number not in toggled:
            yield Hit(
                place_at("loops", other.number),
                f"Loop {one.number} ({pedals_named(view.found, one.pedals)}) and loop "
                f"{other.number} ({pedals_named(view.found, other.pedals)}) go together in every "
                f"preset, of {len(presets)}",
                Fix(
                    f"put both in loop {one.number}",
                    partial(share_loop, number=other.number, into=one.number),
                ),
            )


RULES = (
    Rule(
        id="idle-loop",
        severity="advice",
        scope="rig",
        summary="A loop is in, or out, in every preset.",
        why="A loop that never changes does nothing that a lead could not do; another pedal may "
        "earn it. A spare, a mute, or a pedal noisy in bypass is a good reason to keep it.",
        source="Arithmetic: its column of the presets is constant.",
        check=_idle_loop,
    ),
    Rule(
        id="twin-loops",
        severity="advice",
        scope="rig",
        summary="Two neighbouring loops go together in every preset.",
        why="One loop could hold both pedals and leave the other free; two are easier to search "
        "when something dies.",
        source="Arithmetic: their columns of the presets are equal.",
        check=_twin_loops,
    ),
)
