"""A design priced through the switches: its moves and the bank steps for its presets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

import numpy as np

from rigtui.model.rig import Switcher
from rigtui.plan.ask.channels import ANY_CHANNEL
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.needs import Needs
from rigtui.plan.loops.designs import Design
from rigtui.plan.memories.banks import Ints, bank_problem
from rigtui.plan.memories.contents import fewest_banks
from rigtui.plan.memories.cuts import steps_bound
from rigtui.plan.memories.placing import Placement, place
from rigtui.plan.presets.cubes import Cube, SongCubes


def flow_of(needs: Needs, design: Design) -> tuple[Ints, list[int]]:
    """How often each preset of a design follows each other, and how often it is recalled first."""
    count = len(design.packing.presets)
    flow = np.zeros((count, count), dtype=np.int64)
    starts = [0] * count
    for song, row in zip(needs.played, design.packing.used):
        if song.cold and row:
            starts[row[0]] += song.times
        for before, after in _changes(row):
            flow[before, after] += song.times
    return flow, starts


def _changes(row: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    for before, after in pairwise(row):
        if before != after:
            yield before, after


def placed(
    needs: Needs,
    design: Design,
    switcher: Switcher,
    control: Control | None = None,
    *,
    exact: bool = True,
    rounds: int = 300,
) -> Placement:
    """Place the presets of a design, wherever they were before."""
    flow, starts = flow_of(needs, design)
    return place(switcher, flow, control=control, starts=starts, exact=exact, rounds=rounds)


def settled(cube: Cube, loops: int, channels: set[int]) -> bool:
    """Whether a cube leaves nothing open, by the channels that there are."""
    named = cube.channel != ANY_CHANNEL or len(channels) == 1
    return named and (cube.on | cube.off) & (1 << loops) - 1 == (1 << loops) - 1


def settled_rows(walks: Sequence[SongCubes], loops: int) -> tuple[list[list[int]], int]:
    """For each song the presets that are settled, in order, and how many there are of them in all.

    A section that leaves nothing open can be on one preset alone. Bank steps of any presets are
    no fewer than those of the same walk with other stops left out.
    """
    channels = {cube.channel for song in walks for cube in song.cubes}
    place: dict[Cube, int] = {}
    rows = []
    for song in walks:
        row: list[int] = []
        for cube in song.cubes:
            if settled(cube, loops, channels):
                at = place.setdefault(cube, len(place))
                if not row or row[-1] != at:
                    row.append(at)
        rows.append(row)
    return rows, len(place)


def settled_flow(walks: Sequence[SongCubes], loops: int) -> Ints:
    """How often the presets that are settled follow each other, whatever lies between."""
    rows, count = settled_rows(walks, loops)
    table = np.zeros((count, count), dtype=np.int64)
    for song, row in zip(walks, rows):
        for before, after in pairwise(row):
            table[before, after] += song.times
    return table


def least_steps(needs: Needs, design: Design, switcher: Switcher, control: Control) -> int:
    """A quick lower bound on the bank steps of a design."""
    flow, _ = flow_of(needs, design)
    return steps_bound(bank_problem(switcher, flow), control) if len(flow) <= 22 else 0


def least_with_copies(needs: Needs, design: Design, switcher: Switcher, move: int) -> int:
    """What a design weighs at least, bank steps and all, with as many copies as can be.

    Args:
        needs: What the songs want.
        design: The design.
        switcher: The switcher.
        move: What a move weighs.
    """
    room = max(switcher.rooms)
    steps = 0
    for song, row in zip(needs.played, design.packing.used):
        presets = [preset for preset, _ in groupby(row)]
        steps += song.times * fewest_banks(presets, room)
    return design.cost + move * steps
