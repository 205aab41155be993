"""From presets and the changes between them to memories: banks first, then places on the row."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from rigtui.model.banks import Spot
from rigtui.model.rig import Switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.memories.bank_solve import solve_banks
from rigtui.plan.memories.banks import Banking, BankProblem, Ints, Partition, bank_problem
from rigtui.plan.memories.travel import best_places

_MOST_TURNED = 6
_MOST_EXACT_BETWEEN = 16
"""Presets up to which the steps between songs are made as few as can be; above, as was found."""
_ROUNDS = 300
"""Steps of the search by swapping for fewer of them."""


@dataclass(frozen=True, slots=True)
class Placement:
    """A memory for each preset."""

    memories: tuple[int, ...]
    bank_steps: int
    bound: int
    """No placement needs fewer bank steps."""
    travel: int
    """Switches that the foot passes within banks."""
    travel_proved: bool
    """Whether no placement with the banks of any of the best partitions travels less."""
    method: str

    @property
    def proved(self) -> bool:
        """Whether the bank steps cannot be bettered."""
        return self.bank_steps <= self.bound


@dataclass(frozen=True)
class Gaps:
    """What is recalled on the way from one song of a setlist to the next."""

    flow: Ints
    """flow[a][b] is how often a song that ends on preset a is followed by one that starts on b."""
    first: tuple[int, ...]
    """How often a setlist starts on each preset, bank 1 shown."""

    def steps(self, problem: BankProblem, partition: Partition) -> int:
        """Bank steps between songs."""
        at = np.asarray(partition, dtype=np.int64)
        return int((self.flow * problem.steps[np.ix_(at, at)]).sum())

    def first_steps(self, problem: BankProblem, partition: Partition) -> int:
        """Bank steps before the first songs."""
        return sum(
            int(problem.steps[0, bank]) * often for bank, often in zip(partition, self.first)
        )


def place(
    switcher: Switcher,
    flow: Ints,
    pins: Mapping[int, int] | None = None,
    old: Sequence[int | None] = (),
    control: Control | None = None,
    *,
    starts: Sequence[int] = (),
    gaps: Gaps | None = None,
    rounds: int = 450,
    exact: bool = True,
) -> Placement:
    """Give each preset a memory: fewest bank steps inside songs, then between songs, then least
    travel, then fewest moved.

    Args:
        switcher: The switcher; it must have a memory for each preset.
        flow: flow[a][b] is how often preset b is recalled right after preset a.
        pins: Memory, from 1, that a preset must have.
        old: Memory, from 1, that each preset has now, or None.
        control: Progress and cancel.
        starts: How often each preset is recalled first with bank 1 shown, as at power-on.
        gaps: What is recalled on the way from song to song.
        rounds: Steps of the search by swapping.
        exact: Whether to go on for a proof.
    """
    n = len(flow)
    pins = pins or {}
    old = list(old) or [None] * n
    known = [
        memory if memory is not None and memory <= switcher.memories else None for memory in old
    ]
    spots = [None if memory is None else switcher.spot(memory) for memory in known]
    problem = bank_problem(switcher, flow, pins)
    held = {preset: switcher.spot(memory).switch for preset, memory in pins.items()}
    start = None
    if all(spot is not None for spot in spots):
        start = tuple(spot.bank for spot in spots if spot is not None)
    banking = _solve(problem, starts, control, start, rounds, exact)
    between = gaps or Gaps(np.zeros((n, n), dtype=np.int64), (0,) * n)
    if gaps is not None:
        banking = _then_between(problem, starts, control, banking, gaps, exact)
    row = _Rows(problem, held, spots, control)
    partitions = banking.partitions[: 1 if control is not None and control.over else None]
    steps = {partition: between.steps(problem, partition) for partition in partitions}
    fewest = min(steps.values())
    partitions = tuple(partition for partition in partitions if steps[partition] == fewest)
    least = min(row.travel(partition) for partition in partitions)
    tied = [partition for partition in partitions if row.travel(partition) == least][:_MOST_TURNED]
    turned = tied
    if control is None or not control.over:
        turned = [its for partition in tied for its in _turned(problem, partition, any(starts))]
    best = min(
        turned,
        key=lambda partition: (
            between.first_steps(problem, partition),
            row.travel(partition),
            row.moved(partition),
            partition,
        ),
    )
    places = row.places(best)
    return Placement(
        tuple(switcher.memory_at(Spot(*spot)) for spot in zip(best, places)),
        banking.cost,
        banking.bound,
        row.travel(best),
        row.proved,
        banking.method,
    )


def _then_between(
    problem: BankProblem,
    starts: Sequence[int],
    control: Control | None,
    banking: Banking,
    gaps: Gaps,
    exact: bool,
) -> Banking:
    """Among partitions with as few steps inside songs, those with the fewest between them.

    A step inside a song is made to weigh more than all steps between songs together. For few
    presets that is solved exactly; for more, the partitions found are bettered by swapping.
    """
    n = problem.n
    if not gaps.flow.any() or not banking.partitions or not n:
        return banking
    big = 1 + int(gaps.flow.sum()) * int(problem.steps.max())
    both = replace(problem, flow=problem.flow * big + gaps.flow)
    start = min(banking.partitions, key=lambda partition: gaps.steps(problem, partition))
    quick = not (exact and banking.proved and n <= _MOST_EXACT_BETWEEN)
    more = _solve(both, [big * times for times in starts], control, start, _ROUNDS, not quick)
    inside = more.cost // big
    if inside > banking.cost:
        return banking
    bound = max(banking.bound, more.bound // big)
    return Banking(inside, min(bound, inside), more.partitions, banking.method)


def _solve(
    problem: BankProblem,
    starts: Sequence[int],
    control: Control | None,
    start: Partition | None,
    rounds: int,
    exact: bool,
) -> Banking:
    """Solve the banks; what is first recalled from bank 1 is tied to a ghost that stands there."""
    if not any(starts) or problem.banks == 1:
        return solve_banks(problem, control, start=start, rounds=rounds, exact=exact)
    n = problem.n
    flow = np.zeros((n + 1, n + 1), dtype=np.int64)
    flow[:n, :n] = problem.flow
    flow[n, :n] = starts
    room = (problem.room[0] + 1, *problem.room[1:])
    haunted = replace(problem, flow=flow, room=room, pins={**problem.pins, n: 0})
    start = None if start is None else (*start, 0)
    banking = solve_banks(haunted, control, start=start, rounds=rounds, exact=exact)
    partitions = tuple(dict.fromkeys(partition[:n] for partition in banking.partitions))
    return Banking(banking.cost, banking.bound, partitions, banking.method)


def _turned(problem: BankProblem, partition: Partition, tied: bool) -> Iterator[Partition]:
    """The same partition with the ring turned, and turned over, where all banks are alike.

    A line of banks is turned over, and what leaves banks free at an end is moved along.
    """
    yield partition
    if tied or problem.pins or not partition:
        return
    banks = problem.banks
    if problem.in_line:
        first, last = min(partition), max(partition)
        for by in range(banks - (last - first)):
            for turned in (
                tuple(bank - first + by for bank in partition),
                tuple(last - bank + by for bank in partition),
            ):
                if problem.fits(turned):
                    yield turned
        return
    if not problem.even:
        return
    for by in range(1, banks):
        yield tuple((bank + by) % banks for bank in partition)
    if not problem.up_only:
        for by in range(banks):
            yield tuple((by - bank) % banks for bank in partition)


class _Rows:
    """Places on the row of switches, remembered for each set of presets in a bank."""

    def __init__(
        self,
        problem: BankProblem,
        pins: Mapping[int, int],
        old: Sequence[Spot | None],
        control: Control | None,
    ) -> None:
        self.problem, self.pins, self.old, self.control = problem, pins, old, control
        self.proved = True
        self._known: dict[tuple[int, tuple[int, ...]], tuple[tuple[int, ...], int]] = {}

    def _bank(self, bank: int, members: tuple[int, ...]) -> tuple[tuple[int, ...], int]:
        known = self._known.get((bank, members))
        if known is None:
            weight = self.problem.weight[np.ix_(members, members)]
            pins = {
                at: self.pins[preset] for at, preset in enumerate(members) if preset in self.pins
            }
            old: list[int | None] = []
            for preset in members:
                spot = self.old[preset]
                old.append(spot.switch if spot is not None and spot.bank == bank else None)
            places, travel, proved = best_places(
                weight, self.problem.room[bank], pins, old, self.control
            )
            self.proved &= proved
            known = self._known[bank, members] = (places, travel)
        return known

    def _banks(self, partition: Partition) -> Iterator[tuple[int, tuple[int, ...]]]:
        for bank in range(self.problem.banks):
            members = tuple(preset for preset, at in enumerate(partition) if at == bank)
            if members:
                yield bank, members

    def travel(self, partition: Partition) -> int:
        """Switches that the foot passes."""
        return sum(self._bank(*members)[1] for members in self._banks(partition))

    def places(self, partition: Partition) -> list[int]:
        """The switch, from 0, of each preset."""
        at = [0] * self.problem.n
        for bank, members in self._banks(partition):
            for preset, place_ in zip(members, self._bank(bank, members)[0]):
                at[preset] = place_
        return at

    def moved(self, partition: Partition) -> int:
        """How many presets are not where they were."""
        places = self.places(partition)
        return sum(spot != (bank, at) for spot, bank, at in zip(self.old, partition, places))
