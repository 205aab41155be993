"""Moves of an evening for a set of pedals in loops, and bounds for all sets at once.

A pedal outside costs a press for every change of what is wanted of it. A change costs one recall
if any pedal in a loop differs (channel included). With everything wanted of every section that is
exact; with free pedals it is a lower bound, as a recall may come anywhere in a free stretch.

Moves are weighed so that their sum is the effort: moves, and so much for each extra press. Where a
change has to be made on the beat in any case, whatever the layout, each of its presses on the beat
weighs a move and an extra press, and the one that is no extra press is taken off the sum. A press
that comes alone, as it may where pedals are free or switched early, weighs a move.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.channels import ANY_CHANNEL
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.goal import Goal
from rigtui.plan.ask.needs import Needs, Sound
from rigtui.plan.memories.banks import Ints
from rigtui.plan.memories.cuts import pieces
from rigtui.plan.presets.cubes import Cube, SongCubes, channels_part


class LoopCosts:
    """What the played songs add up to."""

    def __init__(self, needs: Needs, goal: Goal | None = None) -> None:
        """Add up what the songs want.

        Args:
            needs: What they want.
            goal: What presses weigh; moves alone where not given.
        """
        self.needs, self.goal = needs, goal or Goal()
        move, extra = self.goal.move, self.goal.extra
        count = len(needs.pedals)
        self.presses = [0] * count
        """For each pedal, what its moves weigh outside."""
        self.apart = needs.foot_moves * (move + extra)
        """What weighs neither on a preset nor on an outside pedal: the channel's footswitch, the
        first recall after power-on; less the presses that are no extra ones."""
        self.parted = 0
        """What recalls for the channel weigh, whatever the loops."""
        self.changes: Counter[int] = Counter()
        """What the recalls weigh where the evening changes exactly these pedals, if any of them
        is in a loop."""
        self._prices: list[tuple[int, ...]] = []
        free, channels = bool(needs.kept), set()
        everything = (needs.ever_on & needs.ever_off) & ~needs.left_alone
        for song in needs.played:
            prices = [move + extra]
            beats: Counter[int] = Counter()
            for before, after in zip(song.sounds, song.sounds[1:]):
                diff = differing(before, after)
                beat = (before.on & after.off | before.off & after.on) & ~after.soft
                hard = bool(beat or after.foot or parted(before, after))
                prices.append(move + extra * hard)
                self.apart -= song.times * extra * hard
                beats[beat] += 1
                if parted(before, after):
                    self.parted += song.times * prices[-1]
                elif diff:
                    self.changes[diff] += song.times * prices[-1]
            self._prices.append(tuple(prices))
            if song.cold:
                self.apart += song.times * move
                beats[song.sounds[0].on & ~song.sounds[0].soft] += 1
            for at in range(count):
                if not everything >> at & 1:
                    continue  # left on, or never on
                presses = _presses(song.sounds, 1 << at, song.cold)
                on_the_beat = sum(times for beat, times in beats.items() if beat >> at & 1)
                self.presses[at] += song.times * (move * presses + extra * on_the_beat)
            for sound in song.sounds:
                free |= bool(everything & ~(sound.on | sound.off))
                channels.add(sound.channel)
        heard = [sound for song in needs.played for sound in song.sounds]
        self._on = np.array([sound.loops_on for sound in heard], dtype=np.int64)
        self._off = np.array([sound.loops_off for sound in heard], dtype=np.int64)
        self._channel = [sound.channel for sound in heard]
        self.free = free or (ANY_CHANNEL in channels and len(channels) > 1)
        """Whether any section leaves anything free that is switched elsewhere."""

    def outside(self, mask: int) -> int:
        """What the moves of the pedals of a mask weigh where they are outside."""
        return sum(cost for at, cost in enumerate(self.presses) if mask >> at & 1)

    @property
    def fixed(self) -> int:
        """What no layout can save."""
        return self.apart + self.parted

    def bounds(self, sets: Ints) -> Ints:
        """Lower bounds on what the moves weigh for some sets of pedals in loops."""
        total = np.full(len(sets), self.fixed, dtype=np.int64)
        for at, cost in enumerate(self.presses):
            if cost:
                total += cost * (1 - (sets >> at & 1))
        for diff, times in self.changes.items():
            total += times * (sets & diff != 0)
        return total

    def all_bounds(
        self, pedals: Sequence[int], control: Control
    ) -> tuple[Ints, npt.NDArray[np.integer[Any]]]:
        """All sets of some pedals (places), and lower bounds on their moves.

        Pedals left out of `pedals` are outside. One subset-sum transform gives every set: the
        changes that a set spares are those within its complement.
        """
        n = len(pedals)
        others = ((1 << len(self.needs.pedals)) - 1) ^ sum(1 << at for at in pedals)
        most = self.fixed + sum(self.changes.values()) + self.outside(-1)
        size = np.int32 if most < 1 << 30 else np.int64
        spared: npt.NDArray[Any] = np.zeros(1 << n, dtype=size)
        recalls = 0
        for diff, times in self.changes.items():
            inner = sum(1 << nth for nth, at in enumerate(pedals) if diff >> at & 1)
            recalls += times
            spared[inner] += times
        for nth in range(n):
            control.stop_if_over()
            view = spared.reshape(-1, 2, 1 << nth)
            view[:, 1] += view[:, 0]
        total: npt.NDArray[Any] = np.zeros(1 << n, dtype=size)
        sets = np.zeros(1 << n, dtype=np.int64)
        for nth, at in enumerate(pedals):
            half = 1 << nth
            price, bit = size(self.presses[at]), np.int64(1 << at)
            for some in pieces(half, control):
                upper = slice(some.start + half, some.stop + half)
                np.add(total[some], price, out=total[upper])
                np.bitwise_or(sets[some], bit, out=sets[upper])
        total -= spared
        control.stop_if_over()
        total = total[::-1]  # read backward: what is not in loops
        total += size(self.fixed + recalls + self.outside(others))
        return sets, total

    def walks(self, groups: Sequence[int]) -> list[SongCubes]:
        """The played songs as cubes over loops, a loop for each group of pedals."""
        on = np.zeros(len(self._on), dtype=np.int64)
        off = np.zeros(len(self._on), dtype=np.int64)
        for at, group in enumerate(groups):
            on |= (self._on & group != 0).astype(np.int64) << at
            off |= (self._off & group != 0).astype(np.int64) << at
        cubes = [Cube(*bits) for bits in zip(on.tolist(), off.tolist(), self._channel)]
        walks, start = [], 0
        for song, prices in zip(self.needs.played, self._prices):
            end = start + len(song.sounds)
            walks.append(
                SongCubes(
                    song.times, tuple(cubes[start:end]), song.cold, prices,
                    self.goal.move + self.goal.extra,
                )
            )  # fmt: skip
            start = end
        return walks

    def sounds_of(self, walks: Sequence[SongCubes], clique: Sequence[Cube]) -> list[Sound]:
        """For each cube, a sound of the songs that it stands for (kept presets left out)."""
        sample: dict[Cube, Sound] = {}
        for song, walk in zip(self.needs.played, walks):
            for sound, cube in zip(song.sounds, walk.cubes):
                sample.setdefault(cube, sound)
        return [sample[cube] for cube in clique if cube in sample]


def cube_of(sound: Sound, groups: Sequence[int]) -> Cube:
    """A sound as a cube over loops."""
    on = sum(1 << at for at, group in enumerate(groups) if sound.loops_on & group)
    off = sum(1 << at for at, group in enumerate(groups) if sound.loops_off & group)
    return Cube(on, off, sound.channel)


def differing(before: Sound, after: Sound) -> int:
    """Pedals that one sound wants on and the other off, where they are in loops."""
    return before.loops_on & after.loops_off | before.loops_off & after.loops_on


def parted(before: Sound, after: Sound) -> bool:
    """Whether two sounds want different channels, or different presets that are kept."""
    return bool(channels_part(before.channel, after.channel))


def _presses(sounds: Sequence[Sound], bit: int, cold: bool) -> int:
    """How often a pedal outside must be pressed in a song."""
    state: bool | None = False if cold else None
    presses = 0
    for sound in sounds:
        if (sound.on | sound.off) & bit:
            wanted = bool(sound.on & bit)
            presses += state is not None and wanted != state
            state = wanted
    return presses
