"""Evenings of a realistic size, made by a seed, for comparisons and benchmarks.

Sixty songs of nine sections. Each song has a palette of three or four sounds, each a variation of
one of a dozen that the evening shares; sections draw from the palette.
"""

from __future__ import annotations

import itertools
import random
from typing import Any

import numpy as np
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.model import Rig
from rigtui.plan.memories.banks import Ints


def evening(
    *,
    pedals: int = 20,
    loops: int = 8,
    memories: int = 16,
    songs: int = 60,
    sections: int = 9,
    free: float = 0.0,
    sounds: int = 12,
    seed: int = 1,
    **board: Any,
) -> Rig:
    """A rig with all pedals outside and loops empty, and what its songs want."""
    draw = random.Random(seed)
    front, front_loops = pedals * 3 // 5, loops * 3 // 5
    names = [f"p{at}" for at in range(pedals)]
    shared = []
    for _ in range(sounds):
        share = draw.choice((0.1, 0.25, 0.4))
        shared.append({name for name in names if draw.random() < share})
    rows = []
    for nth in range(songs):
        palette = []
        for _ in range(draw.randint(3, 4)):
            sound = set(draw.choice(shared))
            while draw.random() < 0.35:
                sound ^= {draw.choice(names)}
            palette.append(sorted(sound))
        parts = []
        for _ in range(sections):
            may = [name for name in names if draw.random() < free]
            parts.append(section("all-off", plus=draw.choice(palette), may=may))
        rows.append(song(f"song{nth}", *parts))
    side = ["front" if at < front else "fx" for at in range(pedals)]
    empty = [loop(at + 1, side="front" if at < front_loops else "fx") for at in range(loops)]
    chain = {
        end: [name for name, its in zip(names, side) if its == end]
        + [row["number"] for row in empty if row["side"] == end]
        for end in ("front", "fx")
    }
    return make_rig(
        switcher=switcher(memories, board.pop("bank_size", 4), **board),
        pedals=[pedal(name, side=its) for name, its in zip(names, side)],
        loops=empty,
        chain=chain,
        presets=[preset("all-off", memory=1)],
        songs=rows,
        setlists=[setlist("night", *[row["id"] for row in rows])],
    )


def preset_flow(presets: int, *, songs: int = 60, sections: int = 9, seed: int = 1) -> Ints:
    """How often presets follow one another over an evening of songs of three to five presets."""
    draw = random.Random(seed)
    flow = np.zeros((presets, presets), dtype=np.int64)
    for _ in range(songs):
        palette = draw.sample(range(presets), min(presets, draw.randint(3, 5)))
        row = [draw.choice(palette) for _ in range(sections)]
        for before, after in itertools.pairwise(row):
            if before != after:
                flow[before, after] += 1
    return flow


def route_rig(
    *, loops: int = 8, banks: int = 4, size: int = 8, sections: int = 540, toggling: bool = False,
    seed: int = 1,
) -> Rig:  # fmt: skip
    """One song of many sections over a full switcher, a fifth of its pedals free."""
    draw = random.Random(seed)
    names = [f"p{at}" for at in range(loops)]
    masks = draw.sample(range(1 << loops), banks * size)
    presets = [
        preset(f"s{nth}", *[at + 1 for at in range(loops) if mask >> at & 1], memory=nth + 1)
        for nth, mask in enumerate(masks)
    ]
    rows = [
        section(
            f"s{draw.randrange(len(masks))}",
            may=[name for name in names if draw.random() < 0.2],
        )
        for _ in range(sections)
    ]
    return make_rig(
        switcher=switcher(banks * size, size, loop_switches=toggling),
        pedals=[pedal(name) for name in names],
        loops=[loop(at + 1, name) for at, name in enumerate(names)],
        presets=presets,
        songs=[song("long", *rows)],
    )


SIZES = (
    {"pedals": 6, "loops": 6, "memories": 20, "songs": 12, "sounds": 6},
    {"pedals": 8, "loops": 5, "memories": 24, "songs": 14, "sounds": 6},
    {"pedals": 10, "loops": 8, "memories": 32, "songs": 20, "sounds": 7},
    {"pedals": 20, "loops": 8, "memories": 16, "songs": 60, "sounds": 12},
)


def drawn_evening(seed: int) -> Rig:
    """An evening of one of the sizes."""
    return evening(**SIZES[seed % len(SIZES)], seed=seed)
