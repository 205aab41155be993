"""Layouts in pieces: what lies between pedals that share, loops for a row, the worst change."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import pytest
from rigs_made import make_rig, pedal, preset, song, switcher

from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.needs import Needs, SongNeeds, Sound, needs_of
from rigtui.plan.ask.question import Question
from rigtui.plan.loops.designs import worst_change
from rigtui.plan.loops.layouts import LayoutLimits
from rigtui.plan.loops.limits import limits_of
from rigtui.plan.presets.packing import Packing
from rigtui.plan.rebuild.section_map import outside_on
from rigtui.plan.ways_out.feasible import _fewest, _split

PEDALS = 5


def plain() -> LayoutLimits:
    """Limits of five pedals in front of the amp that no song switches."""
    names = [f"p{at}" for at in range(PEDALS)]
    rig = make_rig(
        switcher=switcher(),
        pedals=[pedal(name) for name in names],
        chain={"front": names, "fx": []},
        presets=[preset("a", memory=1)],
        songs=[song("x", "a")],
    )
    return limits_of(rig, needs_of(rig, evening_of(rig)), Question())


def test_bridges_are_what_is_never_switched_between_two_that_could_share() -> None:
    """All rows of five pedals, whichever must be in a loop or outside, and whichever may share.

    By hand: 3 places for one between two, each with 2 others and 2 links as they like, 48; 2 for
    two between, with one other and one link, 8; and 1 for three.
    """
    bridges, limits = 0, plain()
    for busy, joinable in itertools.product(range(1 << PEDALS), range(1 << PEDALS - 1)):
        out = busy & 0b10101
        row = replace(limits, must=busy & ~out, never=out, joinable=joinable)
        wanted = [
            (1 << first | 1 << last, sum(1 << at for at in range(first + 1, last)))
            for first, last in itertools.combinations(range(PEDALS), 2)
            if last > first + 1
            and [at for at in range(first, last + 1) if busy >> at & 1] == [first, last]
            and all(joinable >> at & 1 for at in range(first, last))
        ]
        assert row.bridges() == wanted
        bridges += len(wanted)
    assert bridges == 48 + 8 + 1


@pytest.mark.parametrize("seed", range(60))
def test_a_row_takes_the_fewest_loops_that_it_can_be_split_into(seed: int) -> None:
    """Counted along the row it is as few as any way to split it, by trying all."""
    draw = random.Random(seed)
    clash = [0] * PEDALS
    for first, last in itertools.combinations(range(PEDALS), 2):
        if draw.random() < 0.25:
            clash[first] |= 1 << last
            clash[last] |= 1 << first
    row = replace(plain(), joinable=draw.randrange(1 << PEDALS - 1) | 0b0110, clash=tuple(clash))
    bits = [1 << at for at in range(PEDALS) if draw.random() < 0.8]
    fewest = next(n for n in range(PEDALS + 1) if any(True for _ in _split(row, bits, n)))
    assert _fewest(row, bits) == fewest


A, B, C = 1, 2, 4


@pytest.mark.parametrize(
    ("cold", "outside", "used", "sounds", "moves"),
    [
        (False, A | B, (0, 0), [(A, B), (B, A)], 2),  # one off, one on
        (False, A, (0, 1), [(A, B), (B, A)], 2),  # a off, and the other preset for b
        (False, A | B, (0, 0), [(A, 0), (A | B, 0)], 0),  # b waited: it was on before
        (False, A | B, (0, 0), [(A, B), (B, 0)], 1),  # a is free, and stays on
        (False, A | B, (0, 0, 0), [(A, B), (B, 0), (B, A)], 1),  # a goes off when it must
        (False, A, (0, 0, 0), [(A, 0), (0, 0), (A, 0)], 0),  # a waits between two that want it
        (True, A | B, (0, 0), [(A | B, C), (A | B, C)], 3),  # from power-on: a, b and the preset
        (True, A, (0, 0), [(A | B, C), (A | B, C)], 2),
        (True, A | B | C, (0, 1), [(A, B | C), (A | B | C, 0)], 3),  # b, c and the preset; not a
    ],
)
def test_the_worst_change_by_hand(
    cold: bool,
    outside: int,
    used: tuple[int, ...],
    sounds: list[tuple[int, int]],
    moves: int,
) -> None:
    """Outside pedals that differ, each when it must, and one press for another preset."""
    wanted = tuple(Sound(on, off, 0, at) for at, (on, off) in enumerate(sounds))
    needs = Needs(("a", "b", "c"), ("front",) * 3, (SongNeeds("x", 1, cold, wanted),), (), 0)
    assert worst_change(needs, outside, Packing(0, 0, (), (used,))) == moves


@pytest.mark.parametrize(
    ("cold", "sounds", "on"),
    [
        (False, [(A, 0, 0), (0, 0, 0), (0, A, A)], [A, A, 0]),  # switched in the time before
        (False, [(A, 0, 0), (0, 0, 0), (0, A, 0)], [A, 0, 0]),  # it would be on the beat
        (False, [(A, 0, 0), (0, 0, A), (0, 0, A), (0, A, 0)], [A, A, 0, 0]),  # no sooner than that
        (False, [(A, B, 0), (B, A, 0)], [A, B]),
        (False, [(0, 0, 0), (0, 0, B), (B, 0, B)], [B, B, B]),  # set up before the song
        (True, [(0, 0, 0), (0, 0, B), (B, 0, B)], [0, 0, B]),
        (True, [(0, 0, 0), (0, 0, B), (B, 0, 0)], [0, B, B]),
        (True, [(C, 0, 0), (0, 0, 0), (0, C, 0)], [0, 0, 0]),  # in a loop
    ],
)
def test_outside_pedals_wait_as_long_as_they_can_by_hand(
    cold: bool, sounds: list[tuple[int, int, int]], on: list[int]
) -> None:
    """What is wanted on, off, and may be switched ahead; of a and b, which are outside."""
    wanted = [Sound(on, off, 0, at, soft=soft) for at, (on, off, soft) in enumerate(sounds)]
    assert outside_on(SongNeeds("x", 1, cold, tuple(wanted)), A | B) == on
