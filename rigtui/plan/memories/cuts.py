"""Cuts of a small weighted graph, for all sets of its nodes at once.

Bank steps are sums of cuts. On a ring of 2m banks the steps between two of them are the number of
the m ways to halve the ring that part them (an even cycle lies without distortion in a cube); on
a ring of 2m + 1, half the number of arcs of m banks that part them; where the banks do not wrap
round, the number of gaps between neighbours that part them. So the lightest cuts of the right size
bound the steps from below, whatever the partition.

Source: isometric embedding of cycles in hypercubes, D. Djokovic, "Distance-preserving subgraphs
of hypercubes", J. Combin. Theory B 14 (1973); checked here by brute force in tests/plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.control import Control
from rigtui.plan.memories.banks import BankProblem, Ints

Table = npt.NDArray[np.int32]
_Row = npt.NDArray[Any]
MOST_NODES = 24
"""Nodes up to which every cut fits in one table (64 MB)."""
MOST_SPLIT = 34
"""Nodes up to which the lightest cut of a size is found half against half."""
_SMALL = 13
_BLOCK = 18
"""Long tables are worked on in pieces of 2**18, between which a planner can be stopped."""


def pieces(length: int, control: Control | None) -> Iterator[slice]:
    """Yield slices of a long table; asks before each whether to stop."""
    for at in range(0, length, 1 << _BLOCK):
        if control is not None:
            control.stop_if_over()
        yield slice(at, min(length, at + (1 << _BLOCK)))


def picked(table: _Row, wanted: Callable[[slice], _Row], control: Control | None) -> Ints:
    """Places of a long table where a test of a piece of it is true."""
    places = [np.flatnonzero(wanted(some)) + some.start for some in pieces(len(table), control)]
    return np.concatenate(places) if places else np.zeros(0, dtype=np.int64)


def ranked(values: _Row) -> Ints:
    """Places in order of the values, equals as they stood; quick where they are small."""
    if len(values) and int(values.min()) >= 0 and int(values.max()) < 1 << 16:
        values = values.astype(np.uint16)  # sorted by its digits, not by comparing
    return np.argsort(values, kind="stable")


def sums(values: npt.NDArray[np.int32]) -> Table:
    """Sum of the values of each subset of places; 2**n numbers, place 0 the lowest bit."""
    table = np.zeros(1, dtype=np.int32)
    for value in values:
        table = np.concatenate((table, table + np.int32(value)))
    return table


def cut_table(weight: Ints, control: Control | None = None) -> Table:
    """The weight of the edges that leave each set of nodes; 2**n numbers."""
    n = len(weight)
    small = weight.astype(np.int32)
    cuts = np.zeros(1 << n, dtype=np.int32)
    degree = small.sum(axis=1)
    for node in range(n):
        half = 1 << node
        inside = sums(2 * small[node, : min(node, _BLOCK)])
        for some in pieces(half, control):
            nodes = [high for high in range(_BLOCK, node) if some.start >> high & 1]
            share = degree[node] - 2 * small[node, nodes].sum(dtype=np.int32)
            upper = slice(some.start + half, some.stop + half)
            np.subtract(cuts[some], inside, out=cuts[upper])
            cuts[upper] += share
    return cuts


def sizes(n: int) -> npt.NDArray[np.uint8]:
    """How many nodes each set has."""
    return np.bitwise_count(np.arange(1 << n, dtype=np.uint32))


class _Halves:
    """A graph in two halves: the cuts of one set on the left with all sets on the right at once.

    The sets on the right are sorted by size, so that each size is one stretch of a vector. The
    sets on the left are walked as a tree: one more node is one vector added.
    """

    def __init__(self, weight: Ints) -> None:
        n = len(weight)
        self.low = n // 2
        inner, outer = slice(0, self.low), slice(self.low, n)
        across = weight[inner, outer].astype(np.int32)
        right = n - self.low
        size = sizes(right)
        self.sets = np.argsort(size, kind="stable")
        self.starts = np.searchsorted(size[self.sets], np.arange(right + 2))
        # Half the width is twice the speed, where no sum can overflow it.
        kind: type[np.signedinteger[Any]] = np.int32
        if int(weight.sum()) < 1 << 14:
            kind = np.int16
        own = cut_table(weight[outer, outer]) + sums(across.sum(axis=0))
        self.right = own[self.sets].astype(kind)
        self.added = [(-2 * sums(row))[self.sets].astype(kind) for row in across]
        self.left = (cut_table(weight[inner, inner]) + sums(across.sum(axis=1))).tolist()

    def stretches(self, wanted: set[int], control: Control) -> Iterator[tuple[int, int, int, _Row]]:
        """Yield (left set, its share of the cut, start on the right, shares of the right sets).

        Only sets that hold the first node: every other one is the complement of such a set.
        """
        right = len(self.starts) - 2

        def down(node: int, mask: int, row: _Row) -> Iterator[tuple[int, int, int, _Row]]:
            if node == self.low:
                control.stop_if_over()
                size = mask.bit_count()
                for whole in wanted:
                    if 0 <= whole - size <= right:
                        start, end = self.starts[whole - size : whole - size + 2]
                        yield mask, self.left[mask], start, row[start:end]
                return
            if node:
                yield from down(node + 1, mask, row)
            yield from down(node + 1, mask | 1 << node, row + self.added[node])

        return down(0, 0, self.right)


def _too_large(weight: Ints) -> bool:
    return len(weight) > MOST_SPLIT or int(weight.sum()) >= 1 << 28


def lightest_cut(weight: Ints, low: int, high: int, control: Control | None = None) -> int:
    """The lightest cut by a set of `low` to `high` nodes; 0 where the graph is too large."""
    n = len(weight)
    low, high = max(low, 0), min(high, n)
    if low > high or low == 0 or high == n or _too_large(weight):
        return 0
    if n <= _SMALL:
        every, size = cut_table(weight), sizes(n)
        return int(every[(size >= low) & (size <= high)].min())
    wanted = {size for side in range(low, high + 1) for size in (side, n - side)}
    least = 1 << 30
    for _, share, _, row in _Halves(weight).stretches(wanted, control or Control()):
        least = min(least, share + int(row.min()))
    return least


def light_sets(
    weight: Ints, low: int, high: int, most: int, limit: int, control: Control | None = None
) -> tuple[Ints, Ints] | None:
    """All sets of `low` to `high` nodes whose cut is at most `most`, lightest first.

    Returns:
        The sets as bit masks and their cuts; None where there are more than `limit`, or the graph
        is too large.
    """
    n = len(weight)
    low, high = max(low, 0), min(high, n)
    if _too_large(weight):
        return None
    if n <= _SMALL:
        table, size = cut_table(weight), sizes(n)
        masks = np.flatnonzero((table <= most) & (size >= low) & (size <= high))
        cuts = table[masks].astype(np.int64)
    else:
        listed = _list_halves(weight, low, high, most, limit, control or Control())
        if listed is None:
            return None
        masks, cuts = listed
    if len(masks) > limit:
        return None
    if control is not None:
        control.stop_if_over()
    order = ranked(cuts)
    return masks[order], cuts[order]


def _list_halves(
    weight: Ints, low: int, high: int, most: int, limit: int, control: Control
) -> tuple[Ints, Ints] | None:
    n, halves = len(weight), _Halves(weight)
    wanted = {size for side in range(low, high + 1) for size in (side, n - side)}
    masks, cuts, listed = [np.zeros(0, np.int64)], [np.zeros(0, np.int64)], 0
    for left, share, start, row in halves.stretches(wanted, control):
        if share + int(row.min()) > most:
            continue
        where = np.flatnonzero(row <= most - share)
        listed += len(where)
        if listed > limit:
            return None
        masks.append(halves.sets[start + where] << halves.low | left)
        cuts.append(row[where].astype(np.int64) + share)
    half, its = np.concatenate(masks), np.concatenate(cuts)
    control.stop_if_over()
    both = np.concatenate((half, ((1 << n) - 1) ^ half))
    count = np.bitwise_count(both)
    kept = (count >= low) & (count <= high)
    return both[kept], np.concatenate((its, its))[kept]


def steps_bound(problem: BankProblem, control: Control | None = None) -> int:
    """A lower bound on the bank steps of any partition, from the lightest cuts alone."""
    banks, n = problem.banks, problem.n
    arc = banks // 2
    if problem.in_line:
        return _line_bound(problem, control)
    room = sorted(problem.room)
    most, least = sum(room[-arc:]), n - sum(room[-(banks - arc) :])
    cut = lightest_cut(problem.weight, least, most, control)
    return cut * arc if banks % 2 == 0 else -(-cut * banks // 2)


def _line_bound(problem: BankProblem, control: Control | None) -> int:
    n, total = problem.n, 0
    known: dict[tuple[int, int], int] = {}
    for end in range(1, problem.banks):
        low = max(0, n - sum(problem.room[end:]))
        high = min(n, sum(problem.room[:end]))
        sizes_ = min((low, high), (n - high, n - low))  # a set and the rest of it cut the same
        if sizes_ not in known:
            known[sizes_] = lightest_cut(problem.weight, *sizes_, control)
        total += known[sizes_]
    return total
