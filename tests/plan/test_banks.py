"""Banks: every solver against all partitions there are, on small problems drawn at random."""

from __future__ import annotations

import itertools
import random
from typing import Any

import numpy as np
import pytest
from plan.evenings import preset_flow

from rigtui.model.rig import Switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.memories import bank_pairs, bank_solve, cuts, placing
from rigtui.plan.memories.bank_line import best_line, row_of
from rigtui.plan.memories.bank_pairs import pair_bound
from rigtui.plan.memories.bank_ring import best_ring
from rigtui.plan.memories.bank_search import branch, search
from rigtui.plan.memories.bank_solve import solve_banks
from rigtui.plan.memories.bank_up import best_up
from rigtui.plan.memories.bank_wide import best_half_empty, best_wide
from rigtui.plan.memories.banks import Banking, BankProblem, Best, Partition
from rigtui.plan.memories.cuts import cut_table, light_sets, lightest_cut, steps_bound
from rigtui.plan.memories.placing import Gaps


def drawn(seed: int, *, most: int = 6, banks: tuple[int, int] = (1, 5)) -> BankProblem:
    """A random problem: part-filled last banks, pins, and any kind of bank buttons."""
    draw = random.Random(seed)
    n = draw.randint(1, most)
    flow = np.array([[draw.choice((0, 0, 1, 2, 5)) for _ in range(n)] for _ in range(n)])
    while True:
        count, size = draw.randint(*banks), draw.randint(1, 4)
        room = [size] * count
        room[-1] = draw.choice((size, draw.randint(1, size)))
        if sum(room) >= n:
            break
    pins: dict[int, int] = {}
    if draw.random() < 0.3:
        for preset in draw.sample(range(n), draw.randint(1, min(2, n))):
            bank = draw.randrange(count)
            if list(pins.values()).count(bank) < room[bank]:
                pins[preset] = bank
    up, wraps = draw.choice(((True, True), (False, True), (False, True), (False, False)))
    return BankProblem(flow, tuple(room), up, pins, wraps)


def fitting(problem: BankProblem) -> list[Partition]:
    """Every partition there is, the cheapest first."""
    every = itertools.product(range(problem.banks), repeat=problem.n)
    return sorted(filter(problem.fits, every), key=problem.cost)


def brute_force(problem: BankProblem) -> int:
    """The least cost by trying every partition."""
    return problem.cost(fitting(problem)[0])


def check(problem: BankProblem) -> set[str]:
    """Check every solver that applies; return their names."""
    every = fitting(problem)
    least = problem.cost(every[0])
    used = {"branch"}
    best = Best(problem)
    assert branch(problem, best, 10**7, Control())
    assert best.cost == least
    heuristic = Best(problem)
    search(problem, heuristic, 300, Control())
    assert heuristic.cost >= least
    assert all(problem.fits(partition) for partition in heuristic.partitions)
    assert steps_bound(problem) <= least
    line = Best(problem)
    if best_line(problem, line, Control()):
        used.add("line" if problem.wraps else "line with ends")
        assert line.cost == least
    rings = []
    for start in (next(iter(heuristic.partitions)), every[-1]):  # a good one, and the worst
        ring = Best(problem)
        ring.offer(start)
        bound = best_ring(problem, ring, Control())
        if bound is not None:
            used.add(f"ring of {problem.banks}")
            assert bound == ring.cost == least
        rings.append(ring)
    for solved in (best, line, *rings):
        for partition in solved.partitions:
            assert problem.fits(partition)
            assert problem.cost(partition) == solved.cost
    return used


def test_against_all_partitions() -> None:
    """On 350 small problems each exact solver finds the least cost, and bounds hold."""
    used: set[str] = set()
    for seed in range(350):
        used |= check(drawn(seed, most=5))
    assert used == {"branch", "line", "line with ends", "ring of 2", "ring of 3", "ring of 4"}


@pytest.mark.long
def test_against_all_partitions_thoroughly() -> None:
    """The same on thousands of problems of up to seven presets."""
    for seed in range(1000, 2500):
        check(drawn(seed, most=7, banks=(2, 4)))
    for seed in range(5000, 5500):
        check(drawn(seed, most=6, banks=(4, 8)))


@pytest.mark.parametrize("seed", range(12))
def test_a_nearly_full_ring_of_four_with_a_part_filled_bank(seed: int) -> None:
    """Each half of the ring is cut off by sizes of its own: the least is found all the same."""
    draw = random.Random(seed)
    n, size = 6 + seed % 2, draw.choice((2, 3))
    room = [size] * 4
    room[draw.randrange(4)] = 1
    flow = np.array([[draw.choice((0, 1, 2, 5)) for _ in range(n)] for _ in range(n)])
    problem = BankProblem(flow, tuple(room))
    every = fitting(problem)
    ring = Best(problem)
    ring.offer(every[-1])
    assert best_ring(problem, ring, Control()) == ring.cost == problem.cost(every[0])


@pytest.mark.parametrize("seed", range(20))
def test_all_partitions_that_cost_as_little_are_kept(seed: int) -> None:
    """Where banks differ, trying all keeps every partition of the least cost, and no other."""
    draw = random.Random(seed)
    n = draw.randint(3, 5)
    flow = np.array([[draw.choice((0, 0, 1, 2)) for _ in range(n)] for _ in range(n)])
    problem = BankProblem(flow, (2, 2, 1), pins={0: draw.randrange(3)} if seed % 2 else {})
    best = Best(problem)
    assert branch(problem, best, 10**6, Control())
    every = fitting(problem)
    least = problem.cost(every[0])
    assert set(best.partitions) == {at for at in every if problem.cost(at) == least}


def spans(n: int) -> list[tuple[int, int]]:
    """Ranges of sizes that leave nodes on both sides."""
    return [(low, high) for low in range(1, n) for high in range(low, n)]


@pytest.mark.parametrize("n", [3, 6, 9])
def test_cuts_by_tables_and_by_halves(n: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The cut table, the halved graph and a count edge by edge agree."""
    draw = np.random.default_rng(n)
    weight = draw.integers(0, 5, (n, n))
    weight = np.triu(weight, 1) + np.triu(weight, 1).T
    table = cut_table(weight)
    for mask in range(1 << n):
        inside = [node for node in range(n) if mask >> node & 1]
        outside = [node for node in range(n) if not mask >> node & 1]
        assert table[mask] == weight[np.ix_(inside, outside)].sum()
    most = int(np.median(table))
    by_table = [light_sets(weight, low, high, most, 10**6) for low, high in spans(n)]
    assert sum(len(light[0]) for light in by_table if light) > len(by_table)
    least = [lightest_cut(weight, low, high) for low, high in spans(n)]
    monkeypatch.setattr(cuts, "_SMALL", 1)
    by_halves = [light_sets(weight, low, high, most, 10**6) for low, high in spans(n)]
    assert [lightest_cut(weight, low, high) for low, high in spans(n)] == least
    for first, second in zip(by_table, by_halves, strict=True):
        assert set(zip(*map(list, first))) == set(zip(*map(list, second)))


def test_a_long_ring_is_a_line() -> None:
    """Banks in use that span at most half the ring are a line; more are not."""
    flow = np.ones((8, 8), dtype=np.int64)
    row = row_of(BankProblem(flow, (4,) * 8))
    assert row is not None
    assert row.room == (4, 4, 4)
    assert row_of(BankProblem(flow, (4,) * 3)) is None
    assert row_of(BankProblem(flow, (4,) * 8, pins={0: 2})) is None


def wide_ring(seed: int) -> BankProblem:
    """A ring of three banks, or of five and more; the last may be part-filled, some have a pin."""
    draw = random.Random(seed)
    banks, n = draw.choice((3, 5, 6, 7, 8)), draw.randint(4, 5)
    size = max(-(-n // banks), draw.choice((1, 1, 2, 3)))
    room = [size] * banks
    if draw.random() < 0.4 and sum(room) > n:
        room[-1] -= 1
    flow = np.array([[draw.choice((0, 1, 1, 2, 5)) for _ in range(n)] for _ in range(n)])
    pins = {draw.randrange(n): room.index(size)} if draw.random() < 0.3 else {}
    return BankProblem(flow, tuple(room), pins=pins)


def test_wide_rings_by_light_cuts() -> None:
    """Light cuts that fit together prove the least of most rings, whatever they begin from.

    Where most banks may stay empty, the rings left half empty do. No bound is above the least.
    """
    proved = {best_wide: 0, best_half_empty: 0}
    for seed in range(60):
        problem = wide_ring(seed)
        every = fitting(problem)
        least = problem.cost(every[0])
        for solver in proved:
            best = Best(problem)
            best.offer(every[len(every) // 2])
            bound = solver(problem, best, Control())
            assert bound <= least <= best.cost
            for partition in best.partitions:
                assert problem.fits(partition)
                assert problem.cost(partition) == best.cost
            proved[solver] += bound == least == best.cost
    assert proved == {best_wide: 19, best_half_empty: 30}


@pytest.mark.parametrize("seed", range(200))
def test_banks_that_do_not_wrap(seed: int) -> None:
    """A line of banks is proved to be the least, part-filled banks and pinned presets included."""
    draw = random.Random(seed)
    n, banks = draw.randint(2, 6), draw.randint(3, 6)
    size = draw.randint(max(1, -(-n // banks)), 3) if n <= 3 * banks else 3
    room = [size] * (banks - 1) + [draw.randint(1, size)]
    room[0] += draw.randint(0, 1)
    if sum(room) < n:
        room[-1] = size
    flow = np.array([[draw.choice((0, 0, 1, 2, 3, 5)) for _ in range(n)] for _ in range(n)])
    pins = {at: draw.randrange(banks) for at in range(draw.choice((0, 0, 1)))}
    problem = BankProblem(flow, tuple(room), pins=pins, wraps=False)
    solved = solve_banks(problem)
    assert solved.proved
    assert solved.cost == brute_force(problem)
    assert all(problem.fits(at) for at in solved.partitions)
    line = Best(problem)
    assert best_line(problem, line, Control())
    assert line.cost == solved.cost
    assert steps_bound(problem) <= solved.cost


@pytest.mark.parametrize(
    ("banks", "up", "nodes", "method"),
    [
        (3, False, 10**6, "light cuts of the ring"),
        (4, False, 10**6, "light cuts of the ring"),
        (5, False, 10**6, "branch and bound"),
        (5, False, 0, "light cuts of the ring"),
        (7, False, 0, "light cuts of the ring"),
        (5, True, 10**6, "sets of presets, bank by bank"),
    ],
)
def test_which_solver_proves_which_ring(
    banks: int, up: bool, nodes: int, method: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The one said to have proved it did; one preset to a bank, all changes equal."""
    monkeypatch.setattr(bank_solve, "_BRANCH_NODES", nodes)
    monkeypatch.setattr(bank_solve, "_TINY", 0)
    flow = 1 - np.eye(banks, dtype=np.int64)
    solved = solve_banks(BankProblem(flow, (1,) * banks, up))
    assert solved.proved
    assert solved.method == method


def test_too_many_light_sets_are_not_listed() -> None:
    """A list of light cuts that would be too long is refused, not cut short."""
    weight = np.zeros((6, 6), dtype=np.int64)
    assert light_sets(weight, 3, 3, 0, 19) is None
    sets = light_sets(weight, 3, 3, 0, 20)
    assert sets is not None
    assert len(sets[0]) == 20
    assert lightest_cut(weight, 3, 3) == 0


@pytest.mark.parametrize("seed", range(150))
def test_upward_rings_and_pairs_of_arcs(seed: int) -> None:
    """Banks stepped upward are placed best, and no bound is above that, by trying everything."""
    draw = random.Random(seed)
    n, banks = draw.randint(2, 5), draw.choice((3, 4, 5))
    room = [max(1, -(-n // banks) + draw.randint(0, 1))] * banks
    room[-1] = max(1, room[-1] - draw.randint(0, 1))
    if sum(room) < n:
        room[0] += 1
    flow = np.array([[draw.choice((0, 0, 1, 2, 3, 5)) for _ in range(n)] for _ in range(n)])
    np.fill_diagonal(flow, 0)
    pins = {0: draw.randrange(banks)} if draw.random() < 0.3 else {}
    for up in (False, True):
        problem = BankProblem(flow, tuple(room), up, pins)
        every = (at for at in itertools.product(range(banks), repeat=n) if problem.fits(at))
        least = min(problem.cost(at) for at in every)
        if up:
            solved = Best(problem)
            assert best_up(problem, solved, Control())
            assert solved.cost == least
            assert all(problem.fits(at) for at in solved.partitions)
        else:
            assert pair_bound(problem, least, Control()) <= least
            assert pair_bound(problem, least + 9, Control()) <= least


def lightest(problem: BankProblem) -> tuple[int, int]:
    """What an arc of half the ring cuts off at least, and two that do not meet, of all sets."""
    arc, n, room = problem.banks // 2, problem.n, sorted(problem.room)
    low, high = max(0, n - sum(room[-(problem.banks - arc) :])), min(n, sum(room[-arc:]))
    sets = [mask for mask in range(1 << n) if low <= mask.bit_count() <= high]
    cuts = cut_table(problem.weight)
    pairs = (int(cuts[a] + cuts[b]) for a, b in itertools.combinations(sets, 2) if not a & b)
    return min(int(cuts[mask]) for mask in sets), min(pairs)


@pytest.mark.parametrize(("most_sets", "exact"), [(10**6, 40), (3, 33)])
def test_a_bound_by_pairs_is_all_that_pairs_say(
    most_sets: int, exact: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Twice the steps of an odd ring are what its arcs cut off, each of them in two pairs.

    Where more sets are light than can be listed the bound is often lower.
    """
    monkeypatch.setattr(bank_pairs, "_MOST_SETS", most_sets)
    reached = 0
    for seed in range(40):
        draw = random.Random(seed)
        n, banks = draw.randint(5, 8), draw.choice((3, 5))
        flow = np.array([[draw.choice((0, 1, 2, 5)) for _ in range(n)] for _ in range(n)])
        problem = BankProblem(flow, (-(-n // banks),) * banks)
        arc, pair = lightest(problem)
        most = draw.choice((arc * banks // 2 + 1, pair * banks // 4, 10**4))
        wanted = min(pair, 4 * most // banks + 1) if arc else 0
        bound = pair_bound(problem, most, Control())
        assert bound <= -(-wanted * banks // 4)
        reached += bound == -(-wanted * banks // 4)
    assert reached == exact


def test_no_step_inside_a_song_is_given_for_one_between(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the search for fewer steps between songs loses some inside, the first answer stays."""
    board = Switcher(memories=4, bank_size=2)
    flow = np.array([[0, 0, 9, 0], [0, 0, 0, 9], [9, 0, 0, 0], [0, 9, 0, 0]])
    gaps = Gaps(np.array([[0, 1, 0, 0], [0] * 4, [0] * 4, [0] * 4]), (1, 0, 0, 0))
    best = placing.place(board, flow, gaps=gaps)
    solve = placing._solve
    calls = []

    def worse(problem: BankProblem, *rest: Any) -> Banking:
        banking = solve(problem, *rest)
        calls.append(problem)
        if len(calls) < 2:
            return banking
        torn = (0, 0, 1, 1)
        return Banking(problem.cost(torn), 0, (torn,), "torn apart")

    monkeypatch.setattr(placing, "_solve", worse)
    assert placing.place(board, flow, gaps=gaps).bank_steps == best.bank_steps == 0
    assert len(calls) == 2


@pytest.mark.parametrize(("presets", "bank_size"), [(12, 4), (20, 4), (28, 1)])
def test_very_long_evenings_are_placed_as_short_ones(presets: int, bank_size: int) -> None:
    """However often a change comes, the placement is the same: ten million changes are no limit."""
    flow, between = preset_flow(presets), preset_flow(presets, songs=5, seed=2)
    board = Switcher(name="x", memories=presets + presets % bank_size, bank_size=bank_size)
    once, often = (
        placing.place(board, flow * times, gaps=Gaps(between * times, (0,) * presets))
        for times in (1, 100_000)
    )
    assert often.bank_steps == 100_000 * once.bank_steps
    assert often.bound <= often.bank_steps


def test_the_cut_table_is_made_in_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    """A table that is too long to be made at a stretch is the same."""
    weight = np.random.default_rng(3).integers(0, 5, (6, 6))
    weight = np.triu(weight, 1) + np.triu(weight, 1).T
    whole = cut_table(weight)
    monkeypatch.setattr(cuts, "_BLOCK", 2)
    assert cut_table(weight).tolist() == whole.tolist()


def test_the_bound_of_a_row_of_banks_is_what_each_gap_must_cost() -> None:
    """Six presets used in a row, one to a bank: a step for each change, and the bound says so."""
    flow = np.diag(np.ones(5, dtype=np.int64), 1)
    assert steps_bound(BankProblem(flow, (1,) * 6, wraps=False)) == 5
