"""Banks in a line, exactly: the first t banks grow from set to set, and steps are cuts between.

Banks that do not wrap round are a line, and so is a ring so long that no way round it is a short
cut. With S(t) the presets in the first t banks, the steps are the sum over t of cut(S(t)), so a
dynamic programme over all sets of presets finds the least: g(t, S) = cut(S) + min of g(t - 1, S')
over S' within S, at most a bank smaller. A preset pinned to bank t is in S(t), not in S(t - 1).
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.control import Control
from rigtui.plan.memories.banks import MOST_TIES, BankProblem, Best, Ints
from rigtui.plan.memories.cuts import MOST_NODES, cut_table, picked, pieces

_Costs = npt.NDArray[np.integer[Any]]
_FAR, _SHORT = 1 << 29, 1 << 14
"""More than any cost, in 32 bits and in 16, and twice as much still fits."""
_MOST_CELLS = 1 << 28
"""Numbers in all tables together: 1 GB."""


class BankLine(NamedTuple):
    """Banks in a line that have room for all presets."""

    first: int
    """The first of these banks."""
    room: tuple[int, ...]
    """How many presets each of them holds at most."""
    pins: tuple[int, ...]
    """The presets that each of them must hold, as a bit mask."""

    @property
    def backward(self) -> BankLine:
        """The same banks from the other end."""
        return BankLine(self.first, self.room[::-1], self.pins[::-1])

    @property
    def tables(self) -> int:
        """How many tables it takes; both halves share theirs where they are alike."""
        banks = len(self.room)
        return (banks + 1) // 2 if self == self.backward else banks


def row_of(problem: BankProblem) -> BankLine | None:
    """Return banks in a line that are enough, where all steps then are along it; None if none are.

    Two neighbouring banks that fit into one bank may as well be one: so at most 2n/(size + 1) + 1
    banks are in use, and by concavity the empty ones lie together. Of banks that do not wrap round
    the first are enough, unless a preset is pinned further on. A row that spans no more than half
    the ring has all its steps along the row.
    """
    banks, room = problem.banks, problem.room
    if problem.in_line:
        if not any(problem.pins.values()) and all(a >= b for a, b in pairwise(room)):
            banks = min(banks, 2 * (problem.n // (room[-2] + 1)) + 1)
        pins = [0] * banks
        for preset, bank in problem.pins.items():
            pins[bank] |= 1 << preset
        return BankLine(0, room[:banks], tuple(pins))
    size = max(room)
    full = [bank for bank in range(banks) if room[bank] == size]
    useful = 2 * (problem.n // (size + 1)) + 1
    if problem.pins or problem.up_only or useful > len(full) or useful > banks // 2 + 1:
        return None
    starts = (bank for bank in full if room[bank : bank + useful] == (size,) * useful)
    return BankLine(next(starts, 0), (size,) * useful, (0,) * useful)


def best_line(problem: BankProblem, best: Best, control: Control) -> bool:
    """Find the best partition where banks form a line; return whether it applies."""
    row = row_of(problem)
    if row is None or not 0 < problem.n <= MOST_NODES or row.tables << problem.n > _MOST_CELLS:
        return False
    for chain in least_chains(problem.weight, row, control):
        at = [0] * problem.n
        inside = 0
        for bank, mask in enumerate(chain):
            for preset in range(problem.n):
                if (mask & ~inside) >> preset & 1:
                    at[preset] = row.first + bank
            inside = mask
        best.offer(at)
    return True


def least_chains(weight: Ints, row: BankLine, control: Control) -> list[list[int]]:
    """All cheapest ways (up to a limit) to fill banks in a line, as the sets S(1), S(2), ...

    The two halves of the row meet in the middle: one is filled from the left, one from the right.
    """
    n, banks = len(weight), len(row.room)
    everything = (1 << n) - 1
    if banks == 1:
        return [[everything]]
    cuts: _Costs = cut_table(weight, control)
    if int(weight.sum()) * banks < _SHORT:
        cuts = cuts.astype(np.int16)  # half the width is twice the speed
    left = (banks + 1) // 2
    right = banks - left
    layers = _layers(cuts, row, left, control)
    same = row == row.backward
    layers_back = layers if same else _layers(cuts, row.backward, right, control)
    ends = layers_back[right - 1][::-1]  # the complement of a set has all other bits
    total = np.empty_like(cuts)
    for some in pieces(1 << n, control):
        np.add(layers[left - 1][some], ends[some], out=total[some])
        total[some] -= cuts[some]
    least = min(int(total[some].min()) for some in pieces(1 << n, control))
    chains = []
    for middle in picked(total, lambda some: total[some] == least, control)[:MOST_TIES]:
        control.stop_if_over()
        mask = int(middle)
        for a in _back(layers, cuts, mask, row.room[:left]):
            for b in _back(layers_back, cuts, everything ^ mask, row.backward.room[:right]):
                chains.append(a + [everything ^ cut for cut in reversed(b[:-1])] + [everything])
                if len(chains) >= MOST_TIES:
                    return chains
    return chains


def _layers(cuts: _Costs, row: BankLine, banks: int, control: Control) -> list[_Costs]:
    """What it costs at the least to fill the first banks, one more each time, with each set."""
    far = cuts.dtype.type(_SHORT - 1 if cuts.dtype == np.int16 else _FAR)
    layers: list[_Costs] = []
    inside, every = 0, sum(row.pins)
    for bank in range(banks):
        inside |= row.pins[bank]
        table = np.empty_like(cuts)
        smaller = _smaller(layers[-1], row.room[bank], control) if layers else None
        for some in pieces(len(cuts), control):
            if smaller is not None:
                np.add(smaller[some], cuts[some], out=table[some])
                np.minimum(table[some], far, out=table[some])
            sets = np.arange(some.start, some.stop, dtype=np.uint32)
            if smaller is None:
                held = np.bitwise_count(sets)
                table[some] = np.where(held <= row.room[bank], cuts[some], far)
            if every:
                table[some][sets & every != inside] = far
        layers.append(table)
    return layers


def _smaller(table: _Costs, size: int, control: Control) -> _Costs:
    """The least of all sets within each set that are at most so many presets smaller."""
    least, n = table, len(table).bit_length() - 1
    for _ in range(size):
        control.stop_if_over()
        smaller = least.copy()
        for node in range(n):
            control.stop_if_over()
            with_node = smaller.reshape(-1, 2, 1 << node)[:, 1]
            without = least.reshape(-1, 2, 1 << node)[:, 0]
            np.minimum(with_node, without, out=with_node)
        least = smaller
    return least


def _back(layers: list[_Costs], cuts: _Costs, mask: int, room: tuple[int, ...]) -> list[list[int]]:
    """The cheapest ways to fill so many banks with the presets of a set."""
    banks = len(room)
    if banks == 1:
        return [[mask]]
    table = layers[banks - 2]
    wanted = layers[banks - 1][mask] - cuts[mask]
    subsets = np.zeros(1, dtype=np.int64)
    for node in range(mask.bit_length()):
        if mask >> node & 1:
            subsets = np.concatenate((subsets, subsets | 1 << node))
    held = mask.bit_count() - np.bitwise_count(subsets)
    fitting = subsets[(held <= room[-1]) & (table[subsets] == wanted)]
    chains = []
    for last in fitting[:MOST_TIES]:
        for chain in _back(layers, cuts, int(last), room[:-1]):
            chains.append([*chain, mask])
            if len(chains) >= MOST_TIES:
                return chains
    return chains
