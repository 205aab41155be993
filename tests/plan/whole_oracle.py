"""The least that a small evening can weigh, by trying everything: layouts, memories and mappings.

Every layout, every choice of presets for it, every way to fill the memories with them, with copies
or without, and for each song every way to play it. It shares no code with the planner; what a
section wants, and which layouts there are, it takes from `loop_oracle`, which shares none either.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from math import comb
from typing import NamedTuple

from plan.loop_oracle import (
    FAR,
    Played,
    Want,
    Weights,
    layouts,
    outside_presses,
    read,
)

from rigtui.model import Rig
from rigtui.model.rig import Switcher
from rigtui.plan.ask.question import Question

Mask = tuple[bool, ...]
State = tuple[Mask, str | None]
"""Loops on, and the channel."""
Fill = tuple[int | None, ...]
"""For each memory which of the chosen presets it stores."""

_MOST_CHOICES = 12_000
"""Choices of presets for one layout."""


class TooLarge(Exception):
    """There are more ways than there is time for."""


class _Case(NamedTuple):
    rig: Rig
    weights: Weights
    groups: tuple[frozenset[str], ...]
    songs: list[tuple[Played, list[int]]]
    """Each song, and the presses on the beat of each change that no preset can spare."""


def least(
    rig: Rig, asked: Question, weights: Weights, *, copies: bool, most: int = 20_000
) -> int | None:
    """What the evening weighs at least; None where its sounds cannot all be stored.

    Raises:
        TooLarge: there are more than `most` ways to fill the memories.
    """
    songs, kept = read(rig, asked)
    assert not kept
    played = [song for song in songs if song.times]
    every = [want for song in songs for want in song.wants]
    switched = {p for w in every for p in w.on} & {p for w in every for p in w.off}
    best: int | None = None
    looked = 0
    for groups in layouts(rig, asked):
        inside = frozenset().union(*groups) if groups else frozenset()
        pressed = [outside_presses(song, switched - inside) for song in played]
        apart = sum(song.times * weights.move * n for song, (n, _) in zip(played, pressed))
        case = _Case(rig, weights, groups, [(song, b) for song, (_, b) in zip(played, pressed)])
        for floor, chosen in sorted(_choices(case, apart), key=lambda choice: choice[0]):
            if best is not None and floor >= best:
                break
            for fill in _fills(rig.switcher, len(chosen), copies=copies):
                looked += 1
                if looked > most:
                    raise TooLarge
                total = apart + _played(case, chosen, fill, rig.switcher)
                if total < FAR and (best is None or total < best):
                    best = total
    return best


def _choices(case: _Case, apart: int) -> Iterator[tuple[int, list[State]]]:
    """Every choice of presets, and what it weighs with all of them in one bank."""
    wants = [want for song, _ in case.songs for want in song.wants]
    if not wants:
        yield apart, []
    channels = sorted({want.channel for want in wants}, key=str) or [None]
    masks = itertools.product((False, True), repeat=len(case.groups))
    states = list(itertools.product(masks, channels))
    if not case.rig.switcher.loop_switches:
        states = [s for s in states if any(_sounds(case, s, s[0], want) for want in wants)]
    one_bank = case.rig.switcher.model_copy(update={"bank_size": case.rig.switcher.memories})
    most = min(case.rig.switcher.memories, len(states))
    if sum(comb(len(states), count) for count in range(1, most + 1)) > _MOST_CHOICES:
        raise TooLarge
    for count in range(1, most + 1):
        for chosen in itertools.combinations(states, count):
            fill = (*range(count), *[None] * (case.rig.switcher.memories - count))
            floor = _played(case, chosen, fill, one_bank)
            if floor < FAR:
                yield apart + floor, list(chosen)


def _fills(switcher: Switcher, presets: int, *, copies: bool) -> Iterator[Fill]:
    """Ways to fill the memories; within a bank the order is no matter."""
    sizes = [
        min(switcher.bank_size, switcher.memories - bank * switcher.bank_size)
        for bank in range(switcher.banks)
    ]
    held = [
        [
            some
            for count in range(size + 1)
            for some in itertools.combinations(range(presets), count)
        ]
        for size in sizes
    ]
    for banks in itertools.product(*held):
        stored = [preset for bank in banks for preset in bank]
        if len(set(stored)) == presets and (copies or len(stored) == presets):
            yield tuple(
                slot
                for size, bank in zip(sizes, banks)
                for slot in (*bank, *[None] * (size - len(bank)))
            )


def _sounds(case: _Case, state: State, mask: Mask, want: Want) -> bool:
    """Whether a section sounds right on a preset, with these loops on."""
    if not want.any_channel and state[1] != want.channel:
        return False
    on_loops = zip(case.groups, mask)
    return all(not (group & (want.off if on else want.on)) for group, on in on_loops)


def _played(case: _Case, chosen: Sequence[State], fill: Fill, switcher: Switcher) -> int:
    """What all songs weigh on stored presets, presses of outside pedals aside."""
    return sum(
        song.times * _song(case, song, beats, chosen, fill, switcher) for song, beats in case.songs
    )


def _song(
    case: _Case,
    song: Played,
    beats: Sequence[int],
    chosen: Sequence[State],
    fill: Fill,
    switcher: Switcher,
) -> int:
    weights, toggling = case.weights, case.rig.switcher.loop_switches
    masks = list(itertools.product((False, True), repeat=len(case.groups)))

    def ways(preset: int, want: Want) -> Iterator[Mask]:
        state = chosen[preset]
        for mask in masks if toggling else [state[0]]:
            if _sounds(case, state, mask, want):
                yield mask

    def nearest(bank: int, preset: int) -> tuple[int, int]:
        homes = [at for at, stored in enumerate(fill) if stored == preset]
        steps = [(_steps(switcher, bank, at // switcher.bank_size), at) for at in homes]
        return min(steps)

    def apart(mask: Mask, other: Mask) -> int:
        return sum(a != b for a, b in zip(mask, other))

    cost: dict[tuple[int, Mask], int] = {}
    for nth, want in enumerate(song.wants):
        now: dict[tuple[int, Mask], int] = {}
        for preset in range(len(chosen)):
            for mask in ways(preset, want):
                again = 1 + apart(chosen[preset][0], mask)
                if not nth:
                    steps, home = nearest(0, preset)
                    cold = weights.move * steps + weights.of(again, beats[0])
                    now[home, mask] = min(now.get((home, mask), FAR), cold if song.cold else 0)
                    continue
                for (here, before), total in cost.items():
                    bank = here // switcher.bank_size
                    steps, home = nearest(bank, preset)
                    presses = again
                    if fill[here] == preset:
                        toggles = apart(before, mask)
                        if toggles <= steps + again:
                            steps, home, presses = 0, here, toggles
                    total += weights.move * steps + weights.of(presses, beats[nth])
                    now[home, mask] = min(now.get((home, mask), FAR), total)
        cost = now
    return min(cost.values(), default=FAR) if song.wants else 0


def _steps(switcher: Switcher, here: int, there: int) -> int:
    if not switcher.bank_wrap:
        return abs(there - here)
    up, down = (there - here) % switcher.banks, (here - there) % switcher.banks
    return up if switcher.bank_buttons == "up" else min(up, down)
