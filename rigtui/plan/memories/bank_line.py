"""Banks in a line, exactly: the first t banks grow from set to set, and steps are cuts between.

A ring so long that no way round it is a short cut is a line. With S(t) the presets in the first t
banks, the steps are the sum over t of cut(S(t)), so a dynamic programme over all sets of presets
finds the least: g(t, S) = cut(S) + min of g(t - 1, S') over S' within S, at most a bank smaller.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.control import Control
from rigtui.plan.memories.banks import MOST_TIES, BankProblem, Best, Ints
from rigtui.plan.memories.cuts import MOST_NODES, cut_table, picked, pieces

_Costs = npt.NDArray[np.integer[Any]]
_FAR, _SHORT = 1 << 29, 1 << 14
"""More than any cost, in 32 bits and in 16."""


def line_length(problem: BankProblem) -> int | None:
    """How many banks in a row are enough, where the ring then is as good as a line; else None.

    Two neighbouring banks that fit into one bank may as well be one: so at most 2n/(size + 1) + 1
    banks are in use, and by concavity the empty ones lie together. If the row spans no more than
    half the ring, all its steps are along the row.
    """
    size = max(problem.room)
    full = sum(room == size for room in problem.room)
    useful = 2 * (problem.n // (size + 1)) + 1
    if problem.pins or problem.up_only or useful > full or useful > problem.banks // 2 + 1:
        return None
    return useful


def best_line(problem: BankProblem, best: Best, control: Control) -> bool:
    """Find the best partition where banks form a line; return whether it applies."""
    length = line_length(problem)
    if length is None or problem.n > MOST_NODES or not problem.n:
        return False
    size = max(problem.room)
    first = _first_row(problem, length, size)
    chains = least_chains(problem.weight, size, length, control)
    for chain in chains:
        at = [0] * problem.n
        inside = 0
        for bank, mask in enumerate(chain):
            for preset in range(problem.n):
                if (mask & ~inside) >> preset & 1:
                    at[preset] = first + bank
            inside = mask
        best.offer(at)
    return True


def _first_row(problem: BankProblem, length: int, size: int) -> int:
    """The first of enough full banks in a row (only the last bank may be smaller)."""
    for first in range(problem.banks - length + 1):
        if all(room == size for room in problem.room[first : first + length]):
            return first
    return 0


def least_chains(weight: Ints, size: int, banks: int, control: Control) -> list[list[int]]:
    """All cheapest ways (up to a limit) to fill banks in a line, as the sets S(1), S(2), ...

    The two halves of the row meet in the middle: filled from the left and from the right, each
    side is the same table read forward and backward.
    """
    n = len(weight)
    cuts: _Costs = cut_table(weight, control)
    if int(weight.sum()) * banks < _SHORT:
        cuts = cuts.astype(np.int16)  # half the width is twice the speed
    far = cuts.dtype.type(_SHORT if cuts.dtype == np.int16 else _FAR)
    first = np.empty_like(cuts)
    for some in pieces(1 << n, control):
        held = np.bitwise_count(np.arange(some.start, some.stop, dtype=np.uint32))
        first[some] = np.where(held <= size, cuts[some], far)
    layers: list[_Costs] = [first]
    left = (banks + 1) // 2
    for _ in range(1, left):
        layers.append(_next(layers[-1], cuts, size, far, control))
    if banks == 1:
        return [[(1 << n) - 1]]
    right = banks - left
    ends = layers[right - 1][::-1]  # the complement of a set has all other bits
    total = np.empty_like(cuts)
    for some in pieces(1 << n, control):
        np.add(layers[left - 1][some], ends[some], out=total[some])
        total[some] -= cuts[some]
    least = min(int(total[some].min()) for some in pieces(1 << n, control))
    chains = []
    for middle in picked(total, lambda some: total[some] == least, control)[:MOST_TIES]:
        control.check()
        mask = int(middle)
        everything = (1 << n) - 1
        for a in _back(layers, cuts, mask, left, size):
            for b in _back(layers, cuts, everything ^ mask, right, size):
                chains.append(a + [everything ^ one for one in reversed(b[:-1])] + [everything])
                if len(chains) >= MOST_TIES:
                    return chains
    return chains


def _next(table: _Costs, cuts: _Costs, size: int, far: Any, control: Control) -> _Costs:
    """One more bank: the least of all sets at most a bank smaller, and the cut on top."""
    least, n = table, len(table).bit_length() - 1
    for _ in range(size):
        control.check()
        smaller = least.copy()
        for node in range(n):
            control.check()
            with_node = smaller.reshape(-1, 2, 1 << node)[:, 1]
            without = least.reshape(-1, 2, 1 << node)[:, 0]
            np.minimum(with_node, without, out=with_node)
        least = smaller
    total: _Costs = np.empty_like(cuts)
    for some in pieces(len(cuts), control):
        np.add(least[some], cuts[some], out=total[some])
        np.minimum(total[some], far, out=total[some])
    return total


def _back(layers: list[_Costs], cuts: _Costs, mask: int, banks: int, size: int) -> list[list[int]]:
    """The cheapest ways to fill so many banks with the presets of a set."""
    if banks == 1:
        return [[mask]]
    table = layers[banks - 2]
    wanted = layers[banks - 1][mask] - cuts[mask]
    subsets = np.zeros(1, dtype=np.int64)
    for node in range(mask.bit_length()):
        if mask >> node & 1:
            subsets = np.concatenate((subsets, subsets | 1 << node))
    held = mask.bit_count() - np.bitwise_count(subsets)
    fitting = subsets[(held <= size) & (table[subsets] == wanted)]
    chains = []
    for one in fitting[:MOST_TIES]:
        for chain in _back(layers, cuts, int(one), banks - 1, size):
            chains.append([*chain, mask])
            if len(chains) >= MOST_TIES:
                return chains
    return chains
