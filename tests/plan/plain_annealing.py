"""A plain annealing over a whole evening: which pedals have loops, and what each memory holds.

It shares no code with the planner, and counts by itself: presses and bank steps as the rig file's
rules of counting say, one song after another. For evenings in which everything is specified, on
switchers whose loops may hold any pedal of their side.
"""

from __future__ import annotations

import math
import random
import time
from collections.abc import Callable
from typing import NamedTuple

from rigtui.model import Rig

Sound = frozenset[str]
Memories = list[Sound | None]
_LOST = 1000.0
"""What a section in no memory weighs."""


class Found(NamedTuple):
    """The best that was seen."""

    effort: float
    moves: int
    extra_presses: int
    in_loops: Sound
    tried: int


class Annealing:
    """The evening of a rig whose sections are presets without loops and pedals on top."""

    def __init__(self, rig: Rig) -> None:
        switcher = rig.switcher
        assert switcher is not None
        known = {song.id: song for song in rig.songs}
        self.songs = [
            [frozenset(section.plus) for section in known[played].sections]
            for setlist in rig.setlists
            for played in setlist.song_ids
        ]
        self.pedals = [(pedal.id, pedal.side) for pedal in rig.pedals]
        self.room = {side: sum(loop.side == side for loop in rig.loops) for side in ("front", "fx")}
        self.size, self.memories = switcher.bank_size, switcher.memories
        self.banks = -(-self.memories // self.size)
        self.weight = rig.player.extra_press_weight

    def cost(self, in_loops: Sound, memories: Memories) -> tuple[float, int, int]:
        """Effort with what is lost, moves and extra presses."""
        where: dict[Sound, list[int]] = {}
        for at, sound in enumerate(memories):
            if sound is not None:
                where.setdefault(sound, []).append(at // self.size)
        moves = extra = lost = 0
        steps: dict[tuple[int, Sound], tuple[int, int]] = {}
        for song in self.songs:
            bank, before = 0, None
            for wanted in song:
                preset = wanted & in_loops
                lost += preset not in where
                recall = before is None or preset != before & in_loops
                stepped, on_the_beat = 0, 0
                if recall:
                    if (bank, preset) not in steps:
                        steps[bank, preset] = min(
                            (min((to - bank) % self.banks, (bank - to) % self.banks), to)
                            for to in where.get(preset, [bank])
                        )
                    stepped, bank = steps[bank, preset]
                if before is not None:
                    on_the_beat = recall + len((wanted ^ before) - in_loops)
                    moves += on_the_beat + stepped
                    extra += max(0, on_the_beat - 1)
                before = wanted
        return moves + self.weight * extra + _LOST * lost, moves, extra

    def run(
        self, seconds: float, seed: int, in_loops: Sound | None = None,
        clock: Callable[[], float] = time.process_time,
    ) -> Found:  # fmt: skip
        """Anneal for so long; with the layout given, only the memories change."""
        draw = random.Random(seed)
        end, begun = clock() + seconds, clock()
        fixed = in_loops is not None
        layout: Sound = in_loops if in_loops is not None else self._drawn(draw)
        memories = self._filled(layout, draw)
        now = self.cost(layout, memories)
        best, best_layout, tried = now, layout, 0
        while clock() < end:
            tried += 1
            heat = 8.0 * (0.3 / 8.0) ** ((clock() - begun) / seconds)
            other, new = layout, list(memories)
            if not fixed and draw.random() < 0.03:
                other = self._exchanged(layout, draw)
                new = self._filled(other, draw)
            elif draw.random() < 0.5:
                a, b = draw.randrange(self.memories), draw.randrange(self.memories)
                new[a], new[b] = new[b], new[a]
            else:
                song = draw.choice(self.songs)
                new[draw.randrange(self.memories)] = draw.choice(song) & layout
            cost = self.cost(other, new)
            if cost[0] <= now[0] or draw.random() < math.exp((now[0] - cost[0]) / heat):
                layout, memories, now = other, new, cost
                if now < best:
                    best, best_layout = now, layout
        return Found(*best, best_layout, tried)

    def _drawn(self, draw: random.Random) -> Sound:
        pedals = list(self.pedals)
        draw.shuffle(pedals)
        left = dict(self.room)
        chosen = []
        for pedal, side in pedals:
            if left[side]:
                left[side] -= 1
                chosen.append(pedal)
        return frozenset(chosen)

    def _exchanged(self, layout: Sound, draw: random.Random) -> Sound:
        out = draw.choice(sorted(layout))
        side = dict(self.pedals)[out]
        others = [pedal for pedal, its in self.pedals if its == side and pedal not in layout]
        return (layout - {out}) | {draw.choice(others)} if others else layout

    def _filled(self, layout: Sound, draw: random.Random) -> Memories:
        """Each preset in a memory as far as there is room, then copies at random."""
        presets = sorted({wanted & layout for song in self.songs for wanted in song}, key=sorted)
        rows: Memories = [*presets[: self.memories]]
        rows += [draw.choice(presets) for _ in range(self.memories - len(rows))]
        draw.shuffle(rows)
        return rows
