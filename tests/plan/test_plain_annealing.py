"""Whole plans beside a plain annealing that is given the same processor time."""

from __future__ import annotations

import pytest
from plan.evenings import drawn_evening
from plan.plain_annealing import Annealing

from rigtui.moves import count_setlist
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question
from rigtui.plan.whole.anneal import exchange_banks

SECONDS = 10.0


@pytest.mark.parametrize("seed", range(3))
def test_the_annealing_counts_as_the_report_does(seed: int) -> None:
    """On the rig as planned: the same moves and extra presses, so the two can be compared."""
    made = plan(drawn_evening(seed), Question("all", sharing=False, seconds=0.5))
    assert made.rig is not None
    assert made.after is not None
    presets = {row.id: row for row in made.rig.presets}
    pedal_of = {loop.number: loop.pedals[0] for loop in made.rig.loops if loop.pedals}
    in_memory = {
        memory: frozenset(pedal_of[number] for number in preset.loops)
        for preset in presets.values()
        for memory in preset.memories
    }
    annealing = Annealing(drawn_evening(seed))
    cost = annealing.cost(
        frozenset(pedal_of.values()),
        [in_memory.get(at + 1) for at in range(annealing.memories)],
    )
    assert cost == (made.after.effort, made.after.moves, made.after.extra_presses)
    assert count_setlist(made.rig, made.rig.setlists[0]).moves == cost[1]


@pytest.mark.long
@pytest.mark.parametrize("seed", range(20))
def test_a_plain_annealing_finds_nothing_better(seed: int) -> None:
    """Over the layout and the memories, and over the memories of the plan's own layout."""
    rig = drawn_evening(seed)
    made = plan(rig, Question("all", sharing=False, seconds=SECONDS))
    assert made.rig is not None
    in_loops = frozenset(pedal for loop in made.rig.loops for pedal in loop.pedals)
    for layout in (None, in_loops):
        other = Annealing(rig).run(SECONDS, seed, layout)
        assert made.value <= other.effort, (other, made.value)


@pytest.mark.parametrize(
    ("here", "there", "after"),
    [(1, 5, "defabcg"), (4, 2, "defabcg"), (0, 6, "gbcdefa"), (6, 4, "abcgefd"), (3, 5, "abcdefg")],
)
def test_banks_are_exchanged_whole(here: int, there: int, after: str) -> None:
    """By hand: banks abc, def and g."""
    slots = list("abcdefg")
    exchange_banks(slots, here, there, 3)
    assert "".join(slots) == after
