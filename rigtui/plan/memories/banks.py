"""Which bank holds which preset: the problem, and what all its solvers share.

The cost is a sum over pairs of presets of the changes between them times the bank steps between
their banks. Where on the row of footswitches a preset stands is no concern here (see travel.py).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import numpy.typing as npt

from rigtui.model.banks import Ring
from rigtui.model.rig import Switcher

Ints = npt.NDArray[np.int64]
Partition = tuple[int, ...]
"""The bank, from 0, of each preset."""

FAR = 1 << 60
"""More than any steps cost, each weighed as much as there may be between songs."""
MOST_TIES = 64
"""Equally good partitions that a solver gives back at most."""


@dataclass(frozen=True)
class BankProblem:
    """Presets to put in banks.

    Attributes:
        flow: flow[a][b] is how often preset b is recalled right after preset a.
        room: How many memories each bank has.
        up_only: Whether banks can only be stepped upward.
        pins: Bank that a preset is pinned to.
        wraps: Whether the buttons go on from the last bank to the first.
    """

    flow: Ints
    room: tuple[int, ...]
    up_only: bool = False
    pins: dict[int, int] = field(default_factory=dict)
    wraps: bool = True

    @property
    def n(self) -> int:
        """How many presets there are."""
        return len(self.flow)

    @property
    def banks(self) -> int:
        """How many banks there are."""
        return len(self.room)

    @cached_property
    def weight(self) -> Ints:
        """Changes between two presets, either way."""
        both = self.flow + self.flow.T
        np.fill_diagonal(both, 0)
        return both

    @cached_property
    def steps(self) -> Ints:
        """Bank steps from one bank to another, by the counting rules."""
        return np.array(Ring(self.banks, self.up_only, self.wraps).table, dtype=np.int64)

    @property
    def in_line(self) -> bool:
        """Whether the banks end at both sides; two banks are as good as a ring."""
        return not self.wraps and self.banks > 2

    def cost(self, partition: Sequence[int] | Ints) -> int:
        """Bank steps of a partition."""
        at = np.asarray(partition, dtype=np.int64)
        if not len(at):
            return 0
        flow = self.flow.copy()
        np.fill_diagonal(flow, 0)
        return int((flow * self.steps[np.ix_(at, at)]).sum())

    @property
    def tabled(self) -> bool:
        """Whether what all steps cost fits into tables of 32 bits."""
        most = int(self.steps.max()) if self.banks else 0
        return 4 * int(self.weight.sum()) * max(1, most) < 1 << 29

    def fits(self, partition: Sequence[int]) -> bool:
        """Whether no bank is overfull and every pin is kept."""
        load = np.bincount(np.asarray(partition, dtype=np.int64), minlength=self.banks)
        return bool((load <= np.asarray(self.room)).all()) and all(
            partition[preset] == bank for preset, bank in self.pins.items()
        )

    @property
    def even(self) -> bool:
        """Whether banks are interchangeable by turning the ring: all of a size, nothing pinned."""
        return not (self.pins or self.in_line) and len(set(self.room)) == 1


def bank_problem(
    switcher: Switcher, flow: Ints, pins: Mapping[int, int] | None = None
) -> BankProblem:
    """Return the problem of one switcher.

    Args:
        switcher: The switcher.
        flow: flow[a][b] is how often preset b is recalled right after preset a.
        pins: Memory, from 1, that a preset must have.
    """
    ring = switcher.ring
    banks = {preset: switcher.spot(memory).bank for preset, memory in (pins or {}).items()}
    return BankProblem(flow, switcher.rooms, ring.up_only, banks, ring.wraps)


@dataclass(frozen=True)
class Banking:
    """An answer: the best partitions found, what they cost, and a proven bound."""

    cost: int
    bound: int
    partitions: tuple[Partition, ...]
    method: str

    @property
    def proved(self) -> bool:
        """Whether nothing better exists."""
        return self.cost <= self.bound


class Best:
    """Collects the cheapest partitions that turn up, ties included."""

    def __init__(self, problem: BankProblem) -> None:
        self.problem = problem
        self.cost = FAR
        self.partitions: dict[Partition, None] = {}

    def offer(self, partition: Iterable[int], cost: int | None = None) -> bool:
        """Take a partition that fits; return whether it is better than all before."""
        whole = tuple(int(bank) for bank in partition)
        cost = self.problem.cost(whole) if cost is None else cost
        if cost > self.cost:
            return False
        better = cost < self.cost
        if better:
            self.cost, self.partitions = cost, {}
        if len(self.partitions) < MOST_TIES:
            self.partitions.setdefault(whole)
        return better
