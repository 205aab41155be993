"""A plain annealing over everything at once: loops, what each memory stores, and how songs use it.

It shares no code with the planner. What sections want and which pedals may share a loop it takes
from `loop_oracle`, which shares none either, and it counts by itself, as the rig file's rules of
counting say: sections that leave pedals free, early presses, loops toggled on top, the amp's
channel, copies, and any way round the banks.
"""

from __future__ import annotations

import itertools
import math
import random
import time
from collections.abc import Callable, Sequence
from typing import NamedTuple

from plan.loop_oracle import FAR, STAYS_OUT, Want, Weights, outside_presses, read

from rigtui.model import Rig
from rigtui.model.lookup import lookup
from rigtui.plan.ask.question import Question

Layout = tuple[int, ...]
"""Pedals of each loop, as masks."""
Sound = tuple[int, str | None]
"""Pedals on (a mask), in loops or not, and the channel."""
Stored = tuple[int, str | None]
"""Loops on (a mask), and the channel."""
_LOST = 60
"""What a section in no memory weighs, in moves: more than it takes to play one, but little enough
for a search to pass through on its way to other loops."""
_MOST_KNOWN = 200_000


class Found(NamedTuple):
    """The best that was seen."""

    weight: int
    layout: Layout
    memories: tuple[Sound | None, ...]
    tried: int


class _Song(NamedTuple):
    """A song over the loops of a layout."""

    times: int
    cold: bool
    rows: list[tuple[int, int, str | None, bool]]
    """For each section loops on, loops off, the channel, and whether any channel will do."""
    beats: list[int]
    """Presses on the beat of each section that no preset can spare."""


class WholeAnnealing:
    """The evening of a rig."""

    def __init__(self, rig: Rig, asked: Question, weights: Weights) -> None:
        """Read the evening.

        Args:
            rig: The rig; it has a switcher.
            asked: Whether pedals may share loops, and which of them; nothing kept or pinned.
            weights: What presses weigh.
        """
        switcher, known = rig.switcher, lookup(rig)
        assert switcher is not None
        self.asked, self.weights, self.switcher = asked, weights, switcher
        songs, kept = read(rig, asked)
        assert not kept
        self.songs = [song for song in songs if song.times and song.wants]
        self.wants = [want for song in songs for want in song.wants]
        switched = {p for w in self.wants for p in w.on} & {p for w in self.wants for p in w.off}
        stays_out = {p.id for p in known.outside() if p.used in STAYS_OUT}
        self.names = [name for name in known.order if name in switched - stays_out]
        self.rows = {
            side: [name for name in known.order if known.pedals[name].side == side]
            for side in ("front", "fx")
        }
        self.side = [known.pedals[name].side for name in self.names]
        self.room = {side: sum(loop.side == side for loop in rig.loops) for side in self.rows}
        self.bit = {name: 1 << at for at, name in enumerate(self.names)}
        self.sounds = list(dict.fromkeys(self._sound(want) for want in self.wants))
        self.of_song = [[self._sound(want) for want in song.wants] for song in self.songs]
        banks = switcher.banks
        self.steps = [[self._apart(a, b) for b in range(banks)] for a in range(banks)]
        self._layouts: dict[Layout, tuple[int, list[_Song]]] = {}
        self._known: dict[object, int] = {}

    def _mask(self, names: frozenset[str]) -> int:
        return sum(self.bit.get(name, 0) for name in names)

    def _sound(self, want: Want) -> Sound:
        return self._mask(want.on), want.channel

    def _apart(self, here: int, there: int) -> int:
        if not self.switcher.bank_wrap:
            return abs(there - here)
        up = (there - here) % self.switcher.banks
        down = (here - there) % self.switcher.banks
        return up if self.switcher.bank_buttons == "up" else min(up, down)

    # ------------------------------------------------------------ what it weighs

    def layout_of(self, loops: Sequence[Sequence[str]]) -> Layout:
        """The layout with these pedals in each loop; what never changes needs no loop."""
        masks = (self._mask(frozenset(pedals)) for pedals in loops)
        return tuple(sorted(mask for mask in masks if mask))

    def weight(self, layout: Layout, memories: Sequence[Sound | None]) -> int:
        """What the evening weighs; far more where something is in no memory."""
        apart, songs = self._songs(layout)
        banks: dict[Stored, int] = {}
        for at, sound in enumerate(memories):
            if sound is not None:
                stored = self._stored(layout, sound)
                banks[stored] = banks.get(stored, 0) | 1 << at // self.switcher.bank_size
        total = apart
        for nth, song in enumerate(songs):
            fits = self._fitting(song, banks)
            key = (layout, nth, *sorted(fits.items(), key=str))
            if key not in self._known:
                if len(self._known) > _MOST_KNOWN:
                    self._known.clear()
                self._known[key] = song.times * self._walk(song, fits, len(layout))
            total += self._known[key]
        return total

    def _songs(self, layout: Layout) -> tuple[int, list[_Song]]:
        if layout not in self._layouts:
            inside = sum(layout)
            outside = {name for name in self.names if not self.bit[name] & inside}
            apart, songs = 0, []
            for song in self.songs:
                total, beats = outside_presses(song, outside)
                apart += song.times * self.weights.move * total
                rows = [self._row(layout, want) for want in song.wants]
                songs.append(_Song(song.times, song.cold, rows, beats))
            self._layouts[layout] = apart, songs
        return self._layouts[layout]

    def _row(self, layout: Layout, want: Want) -> tuple[int, int, str | None, bool]:
        on, off = self._mask(want.on), self._mask(want.off)
        masks = [sum(1 << at for at, g in enumerate(layout) if g & some) for some in (on, off)]
        return masks[0], masks[1], want.channel, want.any_channel

    @staticmethod
    def _stored(layout: Layout, sound: Sound) -> Stored:
        return sum(1 << at for at, group in enumerate(layout) if group & sound[0]), sound[1]

    def _fitting(self, song: _Song, banks: dict[Stored, int]) -> dict[Stored, int]:
        """What is stored that the song could use."""
        toggling = self.switcher.loop_switches
        return {
            stored: held
            for stored, held in banks.items()
            if any(
                (free or stored[1] == channel)
                and (toggling or not (on & ~stored[0] or off & stored[0]))
                for on, off, channel, free in song.rows
            )
        }

    def _walk(self, song: _Song, banks: dict[Stored, int], loops: int) -> int:
        """What the song weighs once."""
        move, of = self.weights.move, self.weights.of
        homes = {
            stored: [bank for bank in range(len(self.steps)) if held >> bank & 1]
            for stored, held in banks.items()
        }
        cost: dict[tuple[Stored, int, int], int] = {}
        lost = 0
        for nth, (on, off, channel, free) in enumerate(song.rows):
            now: dict[tuple[Stored, int, int], int] = {}
            beats = song.beats[nth]
            for stored in homes:
                if not (free or stored[1] == channel):
                    continue
                for mask in self._masks(stored[0], on, off, loops):
                    again = of(1 + (stored[0] ^ mask).bit_count(), beats)
                    if not cost:
                        steps, bank = self._nearest(0, homes[stored])
                        cold = move * steps + again if song.cold and not nth else 0
                        _least(now, (stored, bank, mask), cold)
                        continue
                    for (other, bank, was), total in cost.items():
                        if other == stored:
                            toggled = of((was ^ mask).bit_count(), beats)
                            _least(now, (stored, bank, mask), total + toggled)
                        steps, there = self._nearest(bank, homes[stored])
                        if other != stored or not steps:
                            _least(now, (stored, there, mask), total + move * steps + again)
            if now:
                cost = now
            else:
                lost += _LOST * move
        return lost + min(cost.values(), default=0)

    def _masks(self, stored: int, on: int, off: int, loops: int) -> list[int]:
        """Loops that may be on in a section, with a preset recalled."""
        if not self.switcher.loop_switches:
            return [] if on & ~stored or off & stored else [stored]
        free = [1 << at for at in range(loops) if not (on | off) >> at & 1]
        return [
            on | sum(some)
            for count in range(len(free) + 1)
            for some in itertools.combinations(free, count)
        ]

    def _nearest(self, bank: int, homes: list[int]) -> tuple[int, int]:
        return min((self.steps[bank][home], home) for home in homes)

    # ------------------------------------------------------------ the search

    def run(
        self, seconds: float, seed: int, layout: Layout | None = None,
        start: Sequence[Sound | None] | None = None,
        clock: Callable[[], float] = time.process_time, *, fixed: bool = False,
    ) -> Found:  # fmt: skip
        """Anneal for so long.

        Args:
            seconds: How long.
            seed: Of the draw.
            layout: The layout at first; drawn where not given.
            start: What the memories store at first; drawn where not given.
            clock: What tells the time.
            fixed: Whether the layout stays as it is.
        """
        draw = random.Random(seed)
        layout = self._first(draw) if layout is None else layout
        memories = self._filled(draw) if start is None else list(start)
        cost = self.weight(layout, memories)
        best = Found(cost, layout, tuple(memories), 0)
        begun, tried = clock(), 0
        while (share := (clock() - begun) / seconds) < 1:
            heat = self.weights.move * 8.0 * (0.3 / 8.0) ** share
            for _ in range(16):
                tried += 1
                other, new = layout, list(memories)
                if not fixed and self.names and draw.random() < 0.05:
                    other = self._changed(layout, draw)
                else:
                    self._exchange(new, layout, draw)
                weight = self.weight(other, new)
                if weight <= cost or draw.random() < math.exp((cost - weight) / heat):
                    layout, memories, cost = other, new, weight
                    if cost < best.weight:
                        best = Found(cost, layout, tuple(memories), tried)
        return best._replace(tried=tried)

    def _filled(self, draw: random.Random) -> list[Sound | None]:
        """Sounds as far as there is room, the most wanted first, then copies at random."""
        often: dict[Sound, int] = dict.fromkeys(self.sounds, 0)
        for song, sounds in zip(self.songs, self.of_song):
            for sound in sounds:
                often[sound] += song.times
        chosen = sorted(often, key=lambda sound: -often[sound])[: self.switcher.memories]
        rows: list[Sound | None] = [*chosen]
        rows += [draw.choice(chosen) for _ in range(self.switcher.memories - len(rows))]
        draw.shuffle(rows)
        return rows

    def _exchange(self, memories: list[Sound | None], layout: Layout, draw: random.Random) -> None:
        """Two memories exchanged, another sound in one, or a bank for one song."""
        here, kind = draw.randrange(len(memories)), draw.random()
        if kind < 0.45:
            there = draw.randrange(len(memories))
            memories[here], memories[there] = memories[there], memories[here]
        elif kind < 0.9:
            sound = draw.choice(draw.choice(self.of_song))
            if draw.random() < 0.15 and self.names:
                sound = sound[0] ^ draw.choice(list(self.bit.values())), sound[1]
            memories[here] = sound
        else:
            size = self.switcher.bank_size
            start = here // size * size
            places = list(range(start, min(start + size, len(memories))))
            inside = sum(layout)
            needed = list(
                dict.fromkeys((on & inside, its) for on, its in draw.choice(self.of_song))
            )
            held = {memories[at]: at for at in places}
            missing = [sound for sound in needed if sound not in held]
            spare = [at for at in places if memories[at] not in needed]
            draw.shuffle(spare)
            for at, sound in zip(spare, missing):
                elsewhere = [to for to, its in enumerate(memories) if its == sound]
                if elsewhere and draw.random() < 0.5:
                    memories[draw.choice(elsewhere)] = memories[at]
                memories[at] = sound

    def _first(self, draw: random.Random) -> Layout:
        """A layout at random, a pedal in each loop."""
        names = list(self.names)
        draw.shuffle(names)
        left, inside = dict(self.room), []
        for name in names:
            side = self.side[self.names.index(name)]
            if left[side]:
                left[side] -= 1
                inside.append(self.bit[name])
        return tuple(sorted(inside))

    def _changed(self, layout: Layout, draw: random.Random) -> Layout:
        """A pedal in or out, one for another, or one that joins a neighbour."""
        groups, name = list(layout), draw.choice(self.names)
        bit, side = self.bit[name], self.side[self.names.index(name)]
        if sum(groups) & bit:
            groups = [group & ~bit for group in groups if group & ~bit]
        else:
            neighbour = draw.choice([None, *self.names])
            if neighbour is not None and draw.random() < 0.3:
                groups = [group | bit if group & self.bit[neighbour] else group for group in groups]
            else:
                own = [group for group in groups if self._side(group) == side]
                if len(own) >= self.room[side]:
                    if not own:
                        return layout
                    groups.remove(draw.choice(own))
                groups.append(bit)
        new = tuple(sorted(groups))
        return new if all(self._shares(group) for group in new) else layout

    def _side(self, group: int) -> str:
        return self.side[(group & -group).bit_length() - 1]

    def _shares(self, group: int) -> bool:
        """Whether the pedals of a group may share a loop."""
        names = [name for name in self.names if group & self.bit[name]]
        if len(names) < 2:
            return True
        row = self.rows[self._side(group)]
        if not self.asked.sharing or any(name not in row for name in names):
            return False  # on different sides
        places = sorted(row.index(name) for name in names)
        if places[-1] - places[0] + 1 != len(places):
            return False
        return not any(
            (a in want.on and b in want.off) or (b in want.on and a in want.off)
            for a, b in itertools.combinations(names, 2)
            for want in self.wants
        )


def _least(
    costs: dict[tuple[Stored, int, int], int], key: tuple[Stored, int, int], cost: int
) -> None:
    if cost < costs.get(key, FAR):
        costs[key] = cost
