"""The cutting plan: by hand, against trying everything, and against an independent solver."""

from __future__ import annotations

import random
from collections import Counter
from itertools import product
from math import inf

import pytest
from rigs_made import make_rig

from rigtui.bench.cuts import cut_plan
from rigtui.bench.patterns import Found, Stock, best_patterns

Case = tuple[list[int], list[Stock], float, int]


def random_case(seed: int, pieces: int) -> Case:
    """Some pieces, up to four lengths of up to three sizes, a rest to keep or none, a trim."""
    drawn = random.Random(seed)
    sizes = [drawn.randint(8, 60) for _ in range(drawn.randint(2, pieces))]
    stocks = [
        Stock(drawn.randint(40, 160), drawn.choice((1, 1, 2)), row)
        for row in range(drawn.randint(1, 3))
    ]
    return sizes, stocks, drawn.choice((inf, inf, 20, 35)), drawn.choice((0, 0, 3))


def by_trying(case: Case) -> tuple[int, int] | None:
    """Least waste and length begun, by putting each piece on each length in turn."""
    sizes, stocks, keep, trim = case
    rooms = [stock.room for stock in stocks for _ in range(stock.many)]
    best = None
    for places in product(range(len(rooms)), repeat=len(sizes)):
        on = Counter[int]()
        for size, place in zip(sizes, places):
            on[place] += size
        rests = {place: rooms[place] - total for place, total in on.items()}
        if min(rests.values()) < 0:
            continue
        waste = sum(trim + (rest if rest < keep else 0) for rest in rests.values())
        figure = (waste, sum(rooms[place] for place in on))
        best = figure if best is None else min(best, figure)
    return best


def figures(case: Case, found: Found | None) -> tuple[int, int] | None:
    """Waste and length begun of a plan, counted anew; each piece is on it once and fits."""
    sizes, _, keep, trim = case
    if found is None:
        return None
    assert sorted(size for _, pattern in found.patterns for size in pattern) == sorted(sizes)
    for stock, many in Counter(stock for stock, _ in found.patterns).items():
        assert many <= stock.many
    rests = [stock.room - sum(pattern) for stock, pattern in found.patterns]
    assert min(rests) >= 0
    assert found.waste == sum(trim + (rest if rest < keep else 0) for rest in rests)
    return found.waste, sum(stock.room for stock, _ in found.patterns)


@pytest.mark.parametrize("seed", range(200))
def test_as_good_as_trying_everything(seed: int) -> None:
    """On small cases waste and cable begun are the least of all plans, and proved so."""
    case = random_case(seed, 6 if seed % 4 else 7)
    found = best_patterns(*case)
    assert figures(case, found) == by_trying(case)
    if found is not None:
        assert found.bound == found.waste


def by_solver(case: Case) -> int | None:
    """Least waste, as CP-SAT has it."""
    from ortools.sat.python import cp_model  # type: ignore[import-untyped]

    sizes, stocks, keep, trim = case
    rooms = [stock.room for stock in stocks for _ in range(stock.many)]
    model = cp_model.CpModel()
    wastes = []
    on = [[model.new_bool_var("") for _ in rooms] for _ in sizes]
    for row in on:
        model.add_exactly_one(row)
    for place, room in enumerate(rooms):
        used, kept = model.new_bool_var(""), model.new_bool_var("")
        rest = model.new_int_var(0, room, "")
        model.add(rest == room - sum(size * row[place] for size, row in zip(sizes, on)))
        for row in on:
            model.add_implication(row[place], used)
        if keep == inf:
            model.add(kept == 0)
        else:
            model.add(rest >= int(keep)).only_enforce_if(kept)
        waste = model.new_int_var(0, room + trim, "")
        model.add(waste >= rest + trim).only_enforce_if([used, kept.negated()])
        model.add(waste >= trim).only_enforce_if(used)
        wastes.append(waste)
    totals = [sum(size * row[place] for size, row in zip(sizes, on)) for place in range(len(rooms))]
    for place in range(1, len(rooms)):
        if rooms[place] == rooms[place - 1]:  # of lengths alike, the fuller ones first
            model.add(totals[place] <= totals[place - 1])
    model.minimize(sum(wastes))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


@pytest.mark.long
@pytest.mark.parametrize("seed", range(1000, 1200))
def test_as_good_as_a_solver(seed: int) -> None:
    """On cases of up to 10 pieces the least waste is that of CP-SAT (extra `solvers`)."""
    pytest.importorskip("ortools")
    case = random_case(seed, 10)
    sizes, stocks, keep, trim = case
    case = (sizes, [stock._replace(many=stock.many + 2) for stock in stocks], keep, trim)
    found = best_patterns(*case)
    assert (None if found is None else found.waste) == by_solver(case)
    assert found is None or found.bound <= found.waste


def test_offcuts_go_first_and_reels_stay_whole() -> None:
    """Two leads fit an offcut to the millimetre; the reel need not be begun."""
    rig = make_rig(
        reels=[{"left_mm": 10_000, "name": "reel"}, {"left_mm": 510, "name": "offcut"}],
        bench={"trim_mm": 10},
    )
    plan = cut_plan(rig, [(2, 300), (5, 200)])
    assert [(cut.stock, cut.pieces, cut.rest_mm) for cut in plan.cuts] == [
        ("offcut", ((2, 300), (5, 200)), 0)
    ]
    assert (plan.waste_mm, plan.proved, plan.missing) == (10, True, ())


def test_cuts_and_trim_are_counted() -> None:
    """A reel of 1000: 20 off its end, two leads of 300 with 2 for each saw cut, 376 to keep."""
    rig = make_rig(reels=[{"left_mm": 1000}], bench={"trim_mm": 20, "kerf_mm": 2})
    plan = cut_plan(rig, [(1, 300), (2, 300)])
    assert (plan.cuts[0].rest_mm, plan.cuts[0].kept, plan.waste_mm) == (376, True, 24)


def test_what_no_cable_is_long_enough_for_is_missing() -> None:
    """The others are cut all the same."""
    rig = make_rig(reels=[{"left_mm": 500}], bench={"trim_mm": 0})
    plan = cut_plan(rig, [(1, 600), (2, 200)])
    assert plan.missing == ((1, 600),)
    assert plan.cuts[0].pieces == ((2, 200),)
    assert cut_plan(make_rig(), [(1, 600)]).missing == ((1, 600),)
