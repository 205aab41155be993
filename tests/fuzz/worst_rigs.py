"""Rigs made to take as long as the file's limits allow, each in a way of its own.

`size` 1.0 is as much as a file may hold; tests take less, `python tests/fuzz/measure_worst.py` all.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from itertools import cycle, islice
from typing import Any

from rigs_made import Data, loop, make_data, pedal, preset, section, setlist, song, switcher

from rigtui.model.limits import (
    LIMITS,
    MAX_ALL_ENTRIES,
    MAX_ALL_SECTIONS,
    MAX_ENTRIES,
    MAX_IN_LOOP,
    MAX_LIST,
    MAX_LOOP_PAIRS,
    MAX_PAIRS,
    MAX_SECTIONS,
)


def _songs(sections: Iterator[Data], total: int, a_song: int = MAX_SECTIONS) -> list[Data]:
    rows = []
    while total > 0 and len(rows) < LIMITS["songs"]:
        rows.append(song(f"song-{len(rows)}", *islice(sections, min(a_song, total))))
        total -= a_song
    return rows


def _most_sections(presets: int, loops: int, lists: int) -> int:
    """How many sections may stand with so many presets and loops, and with such lists in each."""
    left = MAX_ALL_ENTRIES - MAX_LIST - presets * (2 + loops * 2 // 3) - 6000
    return min(MAX_PAIRS // presets, MAX_ALL_SECTIONS, MAX_LOOP_PAIRS // loops, left // (1 + lists))


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
    most = _most_sections(presets, loops, min(may, loops + outside) + 2 * changes)
    songs = _songs(sections(), int(most * size), a_song)
    evenings = islice(cycle(row["id"] for row in songs), int(MAX_LIST * size))
    return make_data(
        amp={"channels": [f"c{n}" for n in range(min(channels, 100))], "channel_switch": amp},
        switcher=switcher(**({"memories": 128, "bank_size": 1, "loop_switches": True} | more)),
        pedals=[pedal(pedal_id) for pedal_id in (*pedals, *feet)],
        loops=[loop(n, pedal) for n, pedal in enumerate(pedals, 1)],
        chain={"front": [*feet, *range(1, loops + 1)]},
        presets=rows,
        songs=songs,
        setlists=[setlist("all", *evenings)],
    )


def folding(size: float, loops: int, memories: int = 128) -> Data:
    """Each pedal has a loop, and outside it presets would fold: all of it is tried and counted."""
    presets = [preset("base"), *(preset(f"{n}", n) for n in range(1, loops + 1))]
    sections = (section(row["id"], name="") for row in cycle(presets))
    songs = _songs(sections, int(_most_sections(len(presets), loops, 0) * size))
    evenings = islice(cycle(row["id"] for row in songs), int(MAX_LIST * size))
    for at, row in enumerate(presets):
        row["memory"] = at % memories + 1
    return make_data(
        switcher=switcher(memories, 4),
        pedals=[pedal(f"{n}") for n in range(1, loops + 1)],
        loops=[loop(n, f"{n}") for n in range(1, loops + 1)],
        chain={"front": [*range(1, loops + 1)]},
        presets=presets,
        songs=songs,
        setlists=[setlist("all", *evenings)],
    )


def ghosts(size: float, a_list: int) -> Data:
    """Hardly a name in it that something carries."""
    names = [f"x{n}" for n in range(a_list)]
    rows = int(MAX_ALL_ENTRIES * size * 0.95) // (1 + a_list)
    sections = (section("y", name="", plus=names) for _ in range(rows))
    return make_data(songs=_songs(sections, rows))


def crammed(size: float) -> Data:
    """Loops and presets that name as much as they may, all of it unknown."""
    rows = int(LIMITS["loops"] * size) or 1
    numbers = [*range(100, 100 + MAX_ENTRIES)]
    presets = int((MAX_ALL_ENTRIES - rows * MAX_IN_LOOP) * size) // (MAX_ENTRIES + 1)
    return make_data(
        loops=[loop(n, *[f"{n}-{at}" for at in range(MAX_IN_LOOP)]) for n in range(1, rows)],
        chain={"front": numbers, "fx": [f"z{n}" for n in range(MAX_ENTRIES)]},
        presets=[preset(f"{n}", *numbers) for n in range(presets - 10)],
    )


def repeated(size: float) -> Data:
    """One long song, played over and over in very many evenings."""
    data = board(size, presets=100, loops=10, may=3)
    data["songs"] = data["songs"][:1]
    evenings = int(LIMITS["setlists"] * size) or 1
    data["setlists"] = [
        setlist(f"{n}", *[data["songs"][0]["id"]] * (MAX_LIST // LIMITS["setlists"]))
        for n in range(evenings)
    ]
    return data


def handwork(size: float) -> Data:
    """Something for the hands, and something to read, at every change."""
    data = board(size, presets=100, loops=10, may=0, a_song=20)
    for row in data["songs"]:
        for at, part in enumerate(row["sections"]):
            part |= {"hands": f"{at} " * 60, "guitar_volume": at % 10, "cue": f"{at} " * 20}
    return data


def waived(size: float) -> Data:
    """Nothing is stored, and waivers name as many places as they may."""
    data = board(size, presets=200, loops=10, stored=0, may=0, a_song=20)
    data["waivers"] = [
        {"rule": rule, "where": f"songs.{row['id']}.sections.{at}", "reason": "so"}
        for row in data["songs"]
        for at in (1, 2, 3)
        for rule in ("unplayable", "crowded-change")
    ][: int(LIMITS["waivers"] * size)]
    return data


WORST: dict[str, Callable[[float], Data]] = {
    "toggling, much open": lambda size: board(size, may=90),
    "toggling, half open": lambda size: board(size, may=20),
    "toggling, nothing open": lambda size: board(size, may=0),
    "toggling, short songs": lambda size: board(size, presets=100, loops=10, may=3, a_song=20),
    "toggling, long songs": lambda size: board(size, presets=100, loops=10, may=3),
    "toggling, one loop late": lambda size: board(size, presets=200, loops=20, may=8),
    "toggling, many channels": lambda size: board(size, may=20, channels=1000),
    "toggling, by foot": lambda size: board(size, may=20, channels=99, amp="foot"),
    "toggling, plus and minus": lambda size: board(size, changes=20, may=20, outside=90),
    "recall, much open": lambda size: board(size, may=97, loop_switches=False),
    "recall, eight loops": lambda size: board(size, loops=8, may=5, loop_switches=False),
    "recall, many channels": lambda size: board(
        size, channels=1000, may=30, loops=32, loop_switches=False, bank_buttons="up"
    ),
    "recall, few presets": lambda size: board(
        size, presets=100, stored=50, loops=6, may=3, channels=2, a_song=20, loop_switches=False
    ),
    "outside, many loops": lambda size: folding(size, 99),
    "outside, many sections": lambda size: folding(size, 10),
    "one song over and over": repeated,
    "very many songs": lambda size: board(size, presets=100, loops=10, may=3, a_song=7),
    "nothing stored": lambda size: board(size, presets=200, loops=10, stored=0, may=0, a_song=20),
    "many places waived": waived,
    "feet on the floor": lambda size: board(
        size, presets=10, loops=2, may=0, changes=3, outside=190, a_song=20
    ),
    "hands at every change": handwork,
    "unknown names": lambda size: ghosts(size, 20),
    "unknown names, long lists": lambda size: ghosts(size, MAX_ENTRIES),
    "unknown loops and pedals": crammed,
}
