"""Whole plans against every layout, every way to fill the memories, and every mapping.

Bounds and proofs are never wrong, by each of the three goals, with sections that leave pedals free
or switch them early, with loops toggled, and with copies.
"""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import pytest
from plan import whole_oracle
from plan.test_everything import rig_of
from plan.test_loops import drawn, weights_of

from rigtui.model import Rig
from rigtui.model.edits import set_switcher
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question


def small(seed: int) -> tuple[Rig, Question]:
    """A drawn rig with up to five memories; every fifth switcher toggles loops."""
    rig, asked = rig_of(seed)
    if seed % 5 == 0:
        draw = random.Random(seed)
        rig, asked = drawn(seed, toggling=True)
        memories = rig.switcher.memories
        rig = set_switcher(rig, bank_size=draw.randint(1, memories), bank_wrap=draw.random() < 0.7)
    return rig, replace(asked, keep=(), pin_switch={}, apart=(), total_loops=None, memories=None)


def check(seed: int, *, copies: bool) -> str:
    """Check one drawn rig; say how it ended."""
    rig, asked = small(seed)
    weights = weights_of(rig, asked)
    try:
        least = whole_oracle.least(rig, asked, weights, copies=copies)
    except whole_oracle.TooLarge:
        return "too large"
    made = plan(rig, replace(asked, copies=None if copies else 0))
    if least is None:
        assert made.rig is None
        return "impossible"
    assert made.rig is not None
    assert made.after is not None
    used = {part.preset for song in rig.songs for part in song.sections}
    unusual = [row for row in rig.presets if row.id in used and len(row.memories) != 1]
    if made.rig == rig and unusual:
        return "as it is"  # what has no memory of its own counts as in the bank shown
    weight = weights.move * made.after.moves + weights.extra * made.after.extra_presses
    assert weight >= least, (seed, weight, least)
    assert made.lower_bound <= weights.shown(least), (seed, made.lower_bound, least)
    if made.proved:
        assert weights.shown(weight) == weights.shown(least), (seed, weight, least)
        return "proved"
    return "best" if weight == least else "above"


@pytest.mark.parametrize("copies", [False, True], ids=["single", "copies"])
def test_against_everything(copies: bool) -> None:
    """On forty small rigs, most of them proved, and hardly any above the least there is."""
    ends = Counter(check(seed, copies=copies) for seed in range(1, 41))
    assert ends["proved"] > 10
    assert ends["above"] <= 2


@pytest.mark.long
@pytest.mark.parametrize("copies", [False, True], ids=["single", "copies"])
def test_against_everything_thoroughly(copies: bool, record_property) -> None:
    """On 300 small rigs, and on a hundred with copies."""
    seeds = range(1000, 1100 if copies else 1300)
    ends = Counter(check(seed, copies=copies) for seed in seeds)
    record_property("counts", dict(ends))
    assert ends["proved"] > len(seeds) / 4
    assert ends["above"] <= len(seeds) / 20
