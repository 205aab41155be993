"""Curves agree with single plans, and explanations with the figures behind them."""

from __future__ import annotations

import itertools
import re

import numpy as np
import pytest
from plan.test_loops import board, drawn
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher
from screens import DEMOS

from rigtui.model.edits import set_switcher
from rigtui.model.rig import Switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError
from rigtui.plan.insight.curve import _back, moves_curve
from rigtui.plan.insight.explain import explain_plan
from rigtui.plan.insight.points import CurvePoint
from rigtui.plan.insight.sizes import nested
from rigtui.plan.insights import curves
from rigtui.plan.memories.banks import bank_problem
from rigtui.plan.whole.everything import plan_all
from rigtui.plan.whole.loops import plan_loops
from rigtui.plan.words.curve import sentence, worth_most
from rigtui.plan.words.reasons import of_change, of_pedal, of_preset
from rigtui.store.load import load


@pytest.mark.parametrize("seed", range(12))
def test_loops_curve_agrees_with_plans(seed: int) -> None:
    """Each point weighs what a plan with so many loops does, and more loops never cost more."""
    rig, asked = drawn(seed)
    asked = Question(keep_order=asked.keep_order, sharing=asked.sharing)
    rig = set_switcher(rig, bank_size=rig.switcher.memories)
    curve = moves_curve(rig, "loops", asked, values=range(4))
    for point in curve.points:
        single = Question(
            keep_order=asked.keep_order, sharing=asked.sharing, total_loops=point.value
        )
        plan = plan_loops(rig, single)
        if plan.after is None:
            assert point.weight is None
            continue
        steps = point.moves - point.without_bank_steps
        assert point.effort - steps == plan.after.effort - plan.after.bank_steps
    weights = [point.weight for point in curve.points if point.weight is not None]
    assert weights == sorted(weights, reverse=True)


@pytest.mark.parametrize("seed", range(12))
def test_figures_of_a_point_are_those_of_its_effort(seed: int) -> None:
    """Moves, and so much for each extra press as the player says, are the effort.

    The smallest switcher with no extra press is the one that is marked.
    """
    rig, _ = drawn(seed)
    for kind, values in (("loops", range(5)), ("memories", range(2, 9)), ("bank_size", (1, 2))):
        curve = moves_curve(rig, kind, values=values)
        for point in curve.points:
            if point.moves is not None:
                weight = rig.player.extra_press_weight
                assert point.effort == curve.goal.shown(point.weight)
                assert point.effort == point.moves + weight * point.extra_presses
                assert 0 <= point.extra_presses <= point.without_bank_steps <= point.moves
        calm = [point for point in curve.points if point.extra_presses == 0]
        assert curve.calm == (calm[0] if calm else None)


def test_what_a_larger_switcher_is_worth_on_the_demo() -> None:
    """Two memories more take 45 extra presses to 10; what helps most is counted with copies.

    The two figures of the demo were found apart from this program, by a search over all sets of
    pedals with the extra presses of each counted.
    """
    rig = load(DEMOS / "quay-street.toml")[1]
    told = curves(rig, Question("curve"), Control(seconds=10)).details["curves"]
    memories = {point["value"]: point for point in told[1]["points"]}
    assert (memories[8]["extra_presses"], memories[10]["extra_presses"]) == (45, 10)
    assert memories[8]["with_copies"]["moves"] < memories[8]["moves"]
    said = worth_most(told)
    assert re.match(r"With copies, 1[02] memories instead of 8 would help most: 10 extra", said)


@pytest.mark.parametrize("seed", range(40))
def test_more_is_never_worse_where_a_smaller_plan_is_kept(seed: int) -> None:
    """More loops never cost more; more memories or larger banks only where banks lie otherwise.

    What is nested is told here by the counting rules themselves: a plan for the smaller switcher
    is counted on the larger, each preset in the memory that it had.
    """
    rig, asked = drawn(seed)
    asked = Question(keep_order=asked.keep_order, sharing=asked.sharing)
    for kind, values in (("loops", range(5)), ("memories", range(2, 9)), ("bank_size", (1, 2, 4))):
        curve = moves_curve(rig, kind, asked, values=values)
        known = [point for point in curve.points if point.weight is not None]
        least = 1 << 30
        for point in known:
            assert point.weight is not None
            assert point.bound <= point.weight
            assert (point.better is not None) == (point.weight > least)
            least = min(least, point.weight)
        if kind != "memories":
            moves = [point.weight for point in known]
            assert moves == sorted(moves, reverse=True)  # banks of 1, 2, 4: neighbours joined


def test_keeping_memories_costs_no_more_on_a_nested_switcher() -> None:
    """Whether two switchers are nested, against the steps between all their memories.

    Source: the counting rules of the rig file: banks on a ring, the shorter way round, or from end
    to end.
    """
    sizes = [
        (memories, size, buttons, wraps)
        for memories in range(1, 13)
        for size in range(1, 7)
        for buttons, wraps in (("up-down", True), ("up", True), ("up-down", False))
    ]
    found = 0
    for (few, size, *buttons), (many, wide, *others) in itertools.product(sizes, repeat=2):
        if others != buttons or few > many or (size != wide and few != many):
            continue
        kind = "memories" if size == wide else "bank_size"
        small, large = switcher_of(few, size, *buttons), switcher_of(many, wide, *buttons)
        if not nested(kind, small, large):
            continue
        found += 1
        for a, b in itertools.product(range(few), repeat=2):
            assert steps(large, a, b) <= steps(small, a, b)
    assert found > 100


def switcher_of(memories: int, size: int, buttons: str, wraps: bool) -> Switcher:
    """A switcher with so many memories in banks of a size."""
    return Switcher.model_validate(switcher(memories, size, bank_buttons=buttons, bank_wrap=wraps))


def steps(board: Switcher, a: int, b: int) -> int:
    """Bank steps from one memory (from 0) to another."""
    problem = bank_problem(board, np.zeros((0, 0)))
    return int(problem.steps[a // board.bank_size, b // board.bank_size])


def test_a_curve_in_words() -> None:
    """The sentence tells of the switcher at hand first, then of those that save something more."""
    curve = moves_curve(board(), "loops", Question(keep_order=False))
    assert [(point.value, point.moves, point.proved, point.now) for point in curve.points] == [
        (0, 9, True, False),
        (1, 9, True, False),
        (2, 5, True, False),
        (3, 4, True, True),
    ]
    assert curve.before.moves == 5
    assert [point.extra_presses for point in curve.points] == [5, 5, 1, 0]
    assert sentence(curve) == (
        "with the 3 loops that you have, a plan has 0 extra presses and 4 presses; more would save "
        "nothing; nothing is crowded then"
    )


def test_bank_size_and_memory_curves() -> None:
    """Smaller banks cost bank steps; fewer memories cost moves until nothing fits."""
    rig = board(
        switcher=switcher(4, 4, bank_buttons="none"),
        presets=[preset("clean", memory=1), preset("loud", 1, 2, memory=2)],
        songs=[song("a", "clean", "loud", "clean")],
        setlists=[setlist("night", "a")],
    )
    free = Question(keep_order=False)
    banks = moves_curve(rig, "bank_size", free, values=[1, 2])
    assert [point.moves for point in banks.points] == [4, 2]
    memories = moves_curve(rig, "memories", free, values=[1, 2])
    assert [point.moves for point in memories.points] == [4, 2]
    usual = moves_curve(rig, "bank_size", free)
    assert [point.value for point in usual.points] == [1, 2, 3, 4]


@pytest.mark.parametrize(
    ("kind", "values", "message"),
    [
        ("loop", None, "a curve is over loops, memories or bank_size, not loop"),
        ("memories", [0], "memories must be 1 to 128, not 0"),
        ("bank_size", [-1], "bank size must be 1 to 128, not -1"),
    ],
)
def test_silly_curves(kind: str, values: list[int] | None, message: str) -> None:
    """A curve over nothing, or over impossible sizes, is refused."""
    with pytest.raises(PlanError, match=message):
        moves_curve(board(), kind, values=values)


def test_a_stopped_curve_keeps_its_points() -> None:
    """Cancelled half-way, a curve has the points found so far and says that it is not whole."""
    asked: list[int] = []

    def cancelled() -> bool:
        asked.append(1)
        return len(asked) > 8

    curve = moves_curve(board(), "loops", control=Control(cancelled=cancelled))
    assert not curve.complete
    assert len(curve.points) < 4


def test_pedals_are_weighed() -> None:
    """Each pedal's figures are those of plans that force it in and out."""
    rig, asked = board(), Question(keep_order=False)
    said = explain_plan(rig, asked)
    for reason in said.pedals:
        for way, moves in (("in", reason.moves_in), ("out", reason.moves_out)):
            plan = plan_loops(rig, Question(pins={reason.pedal: way}))
            assert plan.objective["moves_without_bank_steps"] == moves
            priced = reason.all_in if way == "in" else reason.all_out
            assert priced is not None
            assert moves <= priced <= plan.moves_after
    assert [of_pedal(rig, reason) for reason in said.pedals] == [
        "comp earns its loop by 3 moves: in a loop 5 moves, outside 8",
        "drive is better outside by 3 moves: in a loop 8 moves, outside 5",
        "boost earns its loop by 3 moves: in a loop 5 moves, outside 8",
    ]


def test_figures_of_pedals_are_those_of_the_plan() -> None:
    """Where a pedal is as the plan has it, its figure is the plan's own, bank steps and all.

    The other way it is one of a plan with the pedal pinned, which has a bound by itself.
    """
    rig = load(DEMOS / "quay-street.toml")[1]
    made = plan_all(rig, Question(first="moves"))
    said = {pedal.pedal: pedal for pedal in explain_plan(made.rig).pedals}
    for worth in said.values():
        if worth.all_in is not None:
            assert made.moves_after == (worth.all_in if worth.inside else worth.all_out)
    pinned = plan_all(rig, Question(pins={"chorus": "in"}, first="moves"))
    assert pinned.parts[0].bound <= said["chorus"].moves_in <= said["chorus"].all_in
    assert pinned.moves_after <= said["chorus"].all_in


def test_presets_and_worst_changes_are_explained() -> None:
    """A preset's sections are listed, and a change of two moves says what forces it."""
    rig = board()
    said = explain_plan(rig)
    assert said.presets[1].sections == ("songs.b.sections.0",)
    assert of_preset(rig, said.presets[1]) == "rich: 1 section of 1 song (b)"
    (change,) = said.changes
    assert (change.place, change.moves) == ("songs.a.sections.4", 2)
    assert of_change(rig, change) == (
        "a, section 5 (Part): 2 moves (switch 1 (clean), drive on): drive outside the loops"
    )


def test_a_pedal_where_it_stands_costs_no_more_than_the_rig_does() -> None:
    """One sound in both banks saves steps that a plan anew has: the rig's own figure counts."""
    channels = {"a": "clean", "b": "crunch", "a-again": "clean", "c": "lead"}
    rig = make_rig(
        amp={"channels": ["clean", "crunch", "lead"]},
        switcher=switcher(4, 2),
        pedals=[pedal("wah", "wah")],
        loops=[loop(1)],
        chain={"front": [1, "wah"], "fx": []},
        presets=[
            preset(name, memory=at, channel=channel)
            for at, (name, channel) in enumerate(channels.items(), 1)
        ],
        songs=[
            song("x", "a", "b", "a", "b"),
            song("y", "a-again", "c", "a-again", section("c", plus=["wah"])),
        ],
    )
    (wah,) = explain_plan(rig).pedals
    assert (wah.inside, wah.all_out) == (False, 7)
    assert plan_all(rig, Question(pins={"wah": "out"}, first="moves")).rig == rig
    assert plan_loops(rig, Question(pins={"wah": "out"}, first="moves")).rig == rig


def test_what_a_larger_switcher_cannot_do_a_smaller_one_cannot() -> None:
    """By hand: the 6 of the largest holds for all smaller ones, and no bound is above a weight.

    The 8 that is proved counts bank steps too, which a smaller bank may not need.
    """

    def point(value: int, weight: int | None, bound: int) -> CurvePoint:
        board = Switcher(memories=8, bank_size=4)
        return CurvePoint(value, weight, bound, None, None, None, None, 0, 0, False, board)

    points = [point(1, 9, 3), point(2, None, 0), point(3, 9, 7), point(4, 8, 8), point(5, 8, 6)]
    _back(points)
    assert [its.bound for its in points] == [7, 0, 7, 8, 6]
    points = [point(1, 5, 2), point(2, 8, 8), point(3, 8, 6)]
    _back(points)
    assert [its.bound for its in points] == [5, 8, 6]
