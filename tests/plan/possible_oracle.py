"""Whether there is any plan of loops, by trying every layout and every choice of presets.

It shares no code with the planner beyond `loop_oracle`, which shares none either.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace
from functools import reduce

from plan.loop_oracle import Stored, Want, exactly, layouts, read, sounds

from rigtui.model import Rig
from rigtui.plan.ask.question import Question


def possible(rig: Rig, asked: Question) -> bool:
    """Whether any layout can be played with the memories there are."""
    most = rig.switcher.memories if asked.memories is None else asked.memories
    return any(_storable(rig, asked, groups, most) for groups in layouts(rig, asked))


def _storable(rig: Rig, asked: Question, groups: tuple[frozenset[str], ...], most: int) -> bool:
    """Whether so many presets are enough for a layout: presets are tried one by one."""
    songs, kept = read(rig, asked)
    wants = list(
        dict.fromkeys(want._replace(foot=0) for song in songs if song.times for want in song.wants)
    )
    channels = sorted({want.channel for want in [*wants, *kept]}, key=str)
    states = list(itertools.product((False, True), repeat=len(groups)))
    points = [Stored(*point) for point in itertools.product(states, channels)]
    toggling = rig.switcher.loop_switches

    def fits(point: Stored, want: Want) -> bool:
        if want.own is not None and point.own != want.own:
            return False
        if toggling:
            return want.any_channel or point.channel == want.channel
        return sounds(groups, point, want)

    stored = [exactly(groups, want) for want in kept]
    covers = [
        frozenset(nth for nth, want in enumerate(wants) if fits(point, want)) for point in points
    ]
    covers = list(dict.fromkeys(covers))
    covers = [cover for cover in covers if not any(cover < other for other in covers)]
    left = frozenset(
        nth for nth, want in enumerate(wants) if not any(fits(point, want) for point in stored)
    )
    return len(stored) <= most and _covered(left, covers, most - len(stored))


def _covered(left: frozenset[int], covers: list[frozenset[int]], most: int) -> bool:
    if not left:
        return True
    if not most:
        return False
    first = min(left)
    return any(_covered(left - cover, covers, most - 1) for cover in covers if first in cover)


def forced(rig: Rig, asked: Question) -> frozenset[str]:
    """Pedals that are in a loop in every layout, however many loops there are."""
    plenty = replace(asked, loops={"front": 9, "fx": 9}, total_loops=None)
    every = [frozenset().union(*groups) for groups in layouts(rig, plenty)]
    return reduce(frozenset.intersection, every) if every else frozenset()


def taken_back(rig: Rig, old: Question, new: Question) -> Iterator[Question]:
    """The new question with each thing that was given up taken back, one at a time."""
    sides = [loop.side for loop in rig.loops]
    for pedal, where in old.pins.items():
        if pedal not in new.pins:
            yield replace(new, pins={**new.pins, pedal: where})
    for name in ("keep", "apart"):
        for item in getattr(old, name):
            if item not in getattr(new, name):
                yield replace(new, **{name: (*getattr(new, name), item)})
    for name in ("sharing", "keep_order"):
        if getattr(new, name) != getattr(old, name):
            yield replace(new, **{name: getattr(old, name)})
    if new.memories != old.memories:
        yield replace(new, memories=new.memories - 1)
    if new.total_loops != old.total_loops:
        yield replace(new, total_loops=new.total_loops - 1)
    for side, number in (new.loops or {}).items():
        if number > (old.loops or {side: sides.count(side)})[side]:
            yield replace(new, loops={**new.loops, side: number - 1})
