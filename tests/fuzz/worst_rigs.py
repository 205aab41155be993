"""Rigs made to take as long as the file's limits allow, each in a way of its own.

`size` 1.0 is as much as a file may hold; tests take less, `python tests/fuzz/measure_worst.py` all.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from itertools import cycle, islice
from typing import Any

from rigs_made import Data, loop, make_data, pedal, preset, section, setlist, song, switcher

from rigtui.model.validate import LIMITS, MAX_ALL_SECTIONS, MAX_LIST, MAX_PAIRS, MAX_SECTIONS


def _songs(sections: Iterator[Data], total: int, a_song: int = MAX_SECTIONS) -> list[Data]:
    rows = []
    while total > 0 and len(rows) < LIMITS["songs"]:
        rows.append(song(f"song-{len(rows)}", *islice(sections, min(a_song, total))))
        total -= a_song
    return rows


def _most_sections(presets: int, size: float) -> int:
    return int(min(MAX_PAIRS // presets, MAX_ALL_SECTIONS) * size)


def board(
    size: float,
    presets: int = LIMITS["presets"],
    loops: int = LIMITS["loops"],
    stored: int = 128,
    channels: int = 1,
    may: int = 97,
    a_song: int = MAX_SECTIONS,
    changes: int = 0,
    amp: str = "preset",
    outside: int = 0,
    **more: Any,
) -> Data:
    """A board of so many presets and loops, and as many sections as may stand with them."""
    chance = random.Random(1)
    pedals = [f"{n}" for n in range(1, loops + 1)]
    feet = [f"f{n}" for n in range(outside)]

    def sections() -> Iterator[Data]:
        while True:
            free = chance.sample(pedals + feet, min(may, loops + outside))
            extra = {"may": free} if free else {}
            if changes:
                extra |= {"plus": chance.sample(pedals + feet, changes),
                          "minus": chance.sample(pedals, min(changes, loops))}  # fmt: skip
            yield section(f"{chance.randrange(presets)}", name="", **extra)

    rows = []
    for at in range(presets):
        here = {"memory": at + 1} if at < stored else {}
        if channels > 1 and at % 3:
            here["channel"] = f"c{chance.randrange(channels)}"
        on = [n for n in range(1, loops + 1) if chance.random() < 0.5]
        rows.append(preset(f"{at}", *on, **here))
    songs = _songs(sections(), _most_sections(presets, size), a_song)
    evenings = islice(cycle(row["id"] for row in songs), int(MAX_LIST * size))
    return make_data(
        amp={"channels": [f"c{n}" for n in range(min(channels, 100))], "channel_switch": amp},
        switcher=switcher(**({"memories": 128, "bank_size": 1, "loop_switches": True} | more)),
        pedals=[pedal(one) for one in (*pedals, *feet)],
        loops=[loop(n, one) for n, one in enumerate(pedals, 1)],
        chain={"front": [*feet, *range(1, loops + 1)]},
        presets=rows,
        songs=songs,
        setlists=[setlist("all", *evenings)],
    )


WORST: dict[str, Callable[[float], Data]] = {
    "toggling, all open": lambda size: board(size),
    "toggling, half open": lambda size: board(size, may=50),
    "toggling, nothing open": lambda size: board(size, may=0),
    "toggling, few presets": lambda size: board(
        size, presets=50, stored=50, loops=9, may=4, a_song=20
    ),
    "toggling, few presets, long songs": lambda size: board(
        size, presets=50, stored=50, loops=60, may=4
    ),
    "toggling, many channels": lambda size: board(size, channels=1000),
    "toggling, by foot": lambda size: board(size, channels=1000, amp="foot", bank_buttons="up"),
    "toggling, plus and minus": lambda size: board(size, changes=40, may=40, outside=90),
    "recall, all open": lambda size: board(size, loop_switches=False),
    "recall, eight loops": lambda size: board(size, loops=8, may=5, loop_switches=False),
    "recall, many channels": lambda size: board(
        size, channels=1000, may=95, loop_switches=False, bank_buttons="up"
    ),
    "recall, eight loops, many channels": lambda size: board(
        size, channels=200, loops=8, may=6, loop_switches=False
    ),
    "recall, few presets": lambda size: board(
        size, presets=50, stored=25, loops=6, may=4, channels=2, a_song=20, loop_switches=False
    ),
}
