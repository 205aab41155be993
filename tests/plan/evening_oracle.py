"""The cheapest evening by a search over single presses, to check the program's walk against.

It builds on the independent counter in tests/moves/oracle.py and shares no code with the program.
"""

from __future__ import annotations

import heapq
from itertools import count
from typing import Any

from moves import oracle

Data = dict[str, Any]


def cheapest_evening(data: Data, song_ids: list[str]) -> tuple[int, int]:
    """Presses inside songs, then between songs, of the best walk from power-on.

    A gap comes before the first section of each song that names a preset that exists; in every
    change, gaps included, at most one preset is recalled.
    """
    machine = oracle.Machine(data)
    wanted: list[tuple[oracle.Wanted, bool]] = []
    for song in song_ids:
        rows = [machine.wanted(section) for section in machine.songs[song].get("sections", [])]
        mapped = [row for row in rows if row is not None]
        wanted += [(row, nth == 0) for nth, row in enumerate(mapped)]
    order = count()
    start = oracle.forget_unheard(machine, machine.power_on())
    queue = [(0, 0, next(order), 0, False, start)]
    done = set()
    while True:
        inside, between, _, at, recalled, state = heapq.heappop(queue)
        if at == len(wanted):
            return inside, between
        if (at, recalled, state) in done:
            continue
        done.add((at, recalled, state))
        row, gap = wanted[at]
        if machine.sounds(row, state):
            heapq.heappush(queue, (inside, between, next(order), at + 1, False, state))
        for press in machine.presses(state):
            if press.kind == "recall" and recalled:
                continue
            after = oracle.forget_unheard(machine, press.after)
            cost = (inside, between + 1) if gap else (inside + 1, between)
            heapq.heappush(
                queue, (*cost, next(order), at, recalled or press.kind == "recall", after)
            )
