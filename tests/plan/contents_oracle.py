"""The best contents of banks by trying everything, to check the planner's copies against.

It shares no code with the planner: steps between banks are counted by walking the ring.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator

from rigtui.model.banks import Ring
from rigtui.plan.memories.contents import ContentsProblem, Recalls

Banks = tuple[frozenset[int], ...]


def drawn(seed: int) -> ContentsProblem:
    """A small problem: up to four presets and four banks, songs played once or twice."""
    draw = random.Random(seed)
    presets = draw.randint(1, 4)
    while True:
        rooms = [draw.randint(1, 3)] * draw.randint(1, 4)
        rooms[-1] = draw.randint(1, rooms[-1])
        if presets <= sum(rooms) <= 8:
            break
    up_only = draw.random() < 0.25
    wraps = up_only or draw.random() < 0.6
    songs = []
    for _ in range(draw.randint(1, 4)):
        row = [draw.randrange(presets) for _ in range(draw.randint(0, 7))]
        row = [preset for preset, _ in itertools.groupby(row)]
        songs.append(Recalls(tuple(row), draw.randint(1, 2), bool(row) and draw.random() < 0.15))
    evening = tuple(draw.randrange(len(songs)) for _ in range(draw.randint(1, 5)))
    pins = {}
    if draw.random() < 0.3:
        pins = {draw.randrange(presets): draw.randrange(len(rooms))}
    return ContentsProblem(
        Ring(len(rooms), up_only, wraps), tuple(rooms), presets, tuple(songs), (evening,), pins
    )


def every_contents(problem: ContentsProblem) -> Iterator[Banks]:
    """Every way to fill the banks that leaves out no preset and keeps the pins."""
    presets = range(problem.presets)
    for banks in itertools.product(
        *(
            [
                frozenset(chosen)
                for count in range(room + 1)
                for chosen in itertools.combinations(presets, count)
            ]
            for room in problem.rooms
        )
    ):
        held = frozenset().union(*banks)
        if len(held) == problem.presets and all(p in banks[b] for p, b in problem.pins.items()):
            yield banks


def _steps(ring: Ring, here: int, there: int) -> int:
    """Presses from bank to bank, found by pressing: upward, downward where that is possible."""
    up = down = 0
    at = here
    while at != there:
        at, up = at + 1, up + 1
        if at == ring.banks:
            if not ring.wraps:
                up = 1 << 20
                break
            at = 0
    at = here
    while at != there:
        at, down = at - 1, down + 1
        if at < 0:
            if not ring.wraps:
                down = 1 << 20
                break
            at = ring.banks - 1
    return up if ring.up_only else min(up, down)


def _recalled(ring: Ring, banks: Banks, bank: int, preset: int) -> tuple[int, int]:
    return min((_steps(ring, bank, to), to) for to, held in enumerate(banks) if preset in held)


def _walk(ring: Ring, banks: Banks, bank: int, presets: tuple[int, ...]) -> tuple[int, int]:
    total = 0
    for preset in presets:
        steps, bank = _recalled(ring, banks, bank, preset)
        total += steps
    return total, bank


def costs(problem: ContentsProblem, banks: Banks) -> tuple[int, int, int]:
    """Bank steps inside songs as written, from the best start of each, and between songs."""
    ring = problem.ring
    written = at_home = between = 0
    for song in problem.songs:
        if not song.presets:
            continue
        first, *rest = song.presets
        steps, start = _recalled(ring, banks, 0, first)
        as_written = _walk(ring, banks, start, tuple(rest))[0]
        ways = [
            _walk(ring, banks, b, tuple(rest))[0] for b, held in enumerate(banks) if first in held
        ]
        if song.cold:
            as_written += steps
            ways = [as_written]
        written += song.times * as_written
        at_home += song.times * min(ways)
    for evening in problem.evenings:
        bank, last = 0, None
        for at in evening:
            song = problem.songs[at]
            if not song.presets:
                continue
            if not song.cold and last != song.presets[0]:
                steps, bank = _recalled(ring, banks, bank, song.presets[0])
                between += steps
            bank = _walk(ring, banks, bank, song.presets[0 if song.cold else 1 :])[1]
            last = song.presets[-1]
    return written, at_home, between
