"""The cheapest walks by a search over single presses, to check the program's walk against.

It builds on the independent counter in tests/moves/oracle.py and shares no code with the program.
Beside that counter's least moves, which recall any preset, these walks keep to what memories hold:
a section whose own preset has a memory is never played on a preset that has none, and a preset
without a memory is recalled for sections of its own alone.
"""

from __future__ import annotations

import heapq
from itertools import count
from typing import Any

from moves import oracle

Data = dict[str, Any]
_Rows = list[tuple[oracle.Wanted, bool]]


def cheapest_evening(data: Data, song_ids: list[str]) -> tuple[int, int]:
    """Presses inside songs, then between songs, of the best walk from power-on.

    A gap comes before the first section of each song that names a preset that exists; in every
    change, gaps included, at most one preset is recalled.
    """
    machine = oracle.Machine(data)
    wanted: _Rows = []
    for song in song_ids:
        rows = [machine.wanted(section) for section in machine.songs[song].get("sections", [])]
        mapped = [row for row in rows if row is not None]
        wanted += [(row, nth == 0) for nth, row in enumerate(mapped)]
    return _cheapest(machine, wanted, machine.power_on())


def cheapest_song(data: Data, song: Data) -> int:
    """Presses of the best walk of a song alone, which starts set up on its first section."""
    machine = oracle.Machine(data)
    rows = [machine.wanted(section) for section in song.get("sections", [])[1:]]
    wanted = [(row, False) for row in rows if row is not None]
    return _cheapest(machine, wanted, machine.start(song))[0]


def _cheapest(machine: oracle.Machine, wanted: _Rows, first: oracle.State) -> tuple[int, int]:
    loose = {preset for preset in machine.presets if not machine.homes(preset)}
    order = count()
    start = oracle.forget_unheard(machine, first)
    queue = [(0, 0, next(order), 0, False, first.recalled in loose, start)]
    done = set()
    while True:
        inside, between, _, at, recalled, on_loose, state = heapq.heappop(queue)
        if at == len(wanted):
            return inside, between
        if (at, recalled, on_loose, state) in done:
            continue
        done.add((at, recalled, on_loose, state))
        row, gap = wanted[at]
        if machine.sounds(row, state) and (row.preset in loose or not on_loose):
            onward = (at + 1, False, on_loose, state)
            heapq.heappush(queue, (inside, between, next(order), *onward))
        cost = (inside, between + 1) if gap else (inside + 1, between)
        for press in machine.presses(state):
            recall = press.kind == "recall"
            preset = press.after.recalled
            if recall and (recalled or (preset in loose and preset != row.preset)):
                continue
            after = oracle.forget_unheard(machine, press.after)
            on = preset in loose if recall else on_loose
            heapq.heappush(queue, (*cost, next(order), at, recalled or recall, on, after))
