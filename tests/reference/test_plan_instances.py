"""The planner's inner problems on published instances with known optima.

Sources beside each table. Banks of one switch on a line are the minimum linear arrangement, two
banks of half the presets are the minimum bisection, and one preset to a place with given
distances is the quadratic assignment problem.
"""

from __future__ import annotations

from functools import cached_property

import networkx as nx
import numpy as np
import pytest

from rigtui.plan.ask.control import Control
from rigtui.plan.memories.bank_line import BankLine, least_chains
from rigtui.plan.memories.bank_ring import best_ring
from rigtui.plan.memories.bank_search import branch, search
from rigtui.plan.memories.bank_solve import solve_banks
from rigtui.plan.memories.banks import BankProblem, Best, Ints
from rigtui.plan.memories.cuts import cut_table, lightest_cut
from rigtui.plan.memories.travel import best_places

# Minimum linear arrangement: closed forms are classical (from memory: path n - 1, cycle
# 2(n - 1), complete graph (n^3 - n)/6, star floor(n^2/4), cube 2^(d-1)(2^d - 1)); the others
# were found by trying all orders. Survey: J. Diaz, J. Petit, M. Serna, "A survey of graph layout
# problems", ACM Computing Surveys 34 (2002).
ARRANGEMENTS = {
    "path of 6": (nx.path_graph(6), 5),
    "cycle of 6": (nx.cycle_graph(6), 10),
    "complete 5": (nx.complete_graph(5), 20),
    "complete 6": (nx.complete_graph(6), 35),
    "binary tree of 7": (nx.balanced_tree(2, 2), 8),
    "wheel of 7": (nx.wheel_graph(7), 24),
    "star of 7": (nx.star_graph(6), 12),
    "cube": (nx.hypercube_graph(3), 28),
    "complete bipartite 3, 3": (nx.complete_bipartite_graph(3, 3), 19),
    "grid 2 x 3": (nx.grid_2d_graph(2, 3), 11),
    "grid 3 x 3": (nx.grid_2d_graph(3, 3), 24),
}

# Minimum bisection: cube 2^(d-1) and complete graph n^2/4 are closed forms (from memory); the
# others were found by trying all halves. The graphs are networkx's own.
BISECTIONS = {
    "path of 6": (nx.path_graph(6), 1),
    "cycle of 8": (nx.cycle_graph(8), 2),
    "complete 6": (nx.complete_graph(6), 9),
    "complete 8": (nx.complete_graph(8), 16),
    "cube": (nx.hypercube_graph(3), 4),
    "cube in four dimensions": (nx.hypercube_graph(4), 8),
    "grid 4 x 4": (nx.grid_2d_graph(4, 4), 4),
    "Petersen": (nx.petersen_graph(), 5),
    "barbell": (nx.barbell_graph(5, 0), 1),
    "complete bipartite 4, 4": (nx.complete_bipartite_graph(4, 4), 8),
    "dodecahedron": (nx.dodecahedral_graph(), 6),
}

# Quadratic assignment: docstring of scipy.optimize.quadratic_assignment, two examples.
ASSIGNMENTS = {
    "four places": (
        [[0, 80, 150, 170], [80, 0, 130, 100], [150, 130, 0, 120], [170, 100, 120, 0]],
        [[0, 5, 2, 7], [0, 0, 3, 8], [0, 0, 0, 3], [0, 0, 0, 0]],
        3260,
    ),
    "where the default method of scipy gets 178": (
        [[0, 5, 8, 6], [5, 0, 5, 1], [8, 5, 0, 2], [6, 1, 2, 0]],
        [[0, 1, 8, 4], [1, 0, 5, 2], [8, 5, 0, 5], [4, 2, 5, 0]],
        176,
    ),
}


def weight_of(graph: nx.Graph) -> Ints:
    """The adjacency matrix of a graph."""
    return nx.to_numpy_array(graph, dtype=np.int64)


@pytest.mark.parametrize("name", ARRANGEMENTS)
def test_linear_arrangements(name: str) -> None:
    """Presets on a row of switches, and in banks of one, reach the known minimum."""
    graph, least = ARRANGEMENTS[name]
    weight, n = weight_of(graph), len(graph)
    places, travel, proved = best_places(weight, n, {}, [None] * n)
    assert (travel, proved) == (least, True)
    assert sorted(places) == list(range(n))
    cuts = cut_table(weight)
    for chain in least_chains(weight, BankLine(0, (1,) * n, (0,) * n), Control()):
        assert sum(int(cuts[mask]) for mask in chain) == least
    banks = solve_banks(BankProblem(np.triu(weight), (1,) * n, wraps=False))
    assert (banks.cost, banks.proved) == (least, True)


@pytest.mark.parametrize("name", BISECTIONS)
def test_bisections(name: str) -> None:
    """Two banks of half the presets reach the known minimum, and so does the bound."""
    graph, least = BISECTIONS[name]
    weight, n = weight_of(graph), len(graph)
    problem = BankProblem(np.triu(weight), (n // 2, n // 2))
    best = Best(problem)
    search(problem, best, 150, Control())
    assert best.cost >= least  # a heuristic may miss it, never beat it
    assert best_ring(problem, best, Control()) == best.cost == least
    assert lightest_cut(weight, n // 2, n // 2) == least


class Placed(BankProblem):
    """A problem whose places are as far apart as a table says."""

    distances: Ints

    @cached_property
    def steps(self) -> Ints:  # type: ignore[override]
        return self.distances


@pytest.mark.parametrize("name", ASSIGNMENTS)
def test_quadratic_assignments(name: str) -> None:
    """One preset to a place: branch and bound proves the published optimum."""
    distances, flow, least = ASSIGNMENTS[name]
    costs = []
    for first in range(4):  # places are not alike, so the first preset tries each of them
        problem = Placed(np.array(flow, dtype=np.int64), (1,) * 4, False, {0: first})
        object.__setattr__(problem, "distances", np.array(distances, dtype=np.int64))
        best = Best(problem)
        assert branch(problem, best, 10**5, Control())
        costs.append(best.cost)
    assert min(costs) == least
