"""Putting presets in banks by swapping (good, unproved) and by branch and bound (small, exact)."""

from __future__ import annotations

import random

import numpy as np

from rigtui.plan.ask.control import Control
from rigtui.plan.ask.result import Stopped
from rigtui.plan.memories.banks import FAR, BankProblem, Best, Ints, Partition


class _SwapCosts:
    """What each preset would cost in each bank, kept up to date."""

    def __init__(self, problem: BankProblem, at: Ints) -> None:
        self.out = problem.flow.copy()
        np.fill_diagonal(self.out, 0)
        self.steps = problem.steps
        self.at = at
        self.cost = self.out @ self.steps[:, at].T + self.out.T @ self.steps[at, :]

    def move(self, preset: int, bank: int) -> None:
        """Put a preset in another bank."""
        old = self.at[preset]
        away = self.steps[:, bank] - self.steps[:, old]
        back = self.steps[bank, :] - self.steps[old, :]
        self.cost += np.outer(self.out[:, preset], away) + np.outer(self.out[preset, :], back)
        self.at[preset] = bank

    def swaps(self) -> Ints:
        """How much dearer each exchange of two presets would be."""
        at, own = self.at, np.arange(len(self.at))
        there = self.cost[:, at]  # there[u][v]: u in v's bank
        here = self.cost[own, at]
        between = self.steps[np.ix_(at, at)]
        old = self.out * between
        new = self.out * between.T
        pair = old + old.T + new + new.T
        dearer: Ints = there + there.T - here[:, None] - here[None, :] + pair
        return dearer


def search(
    problem: BankProblem,
    best: Best,
    rounds: int,
    control: Control,
    seed: int = 1,
    first: Partition | None = None,
) -> None:
    """Swap and move presets, each step the best that was not just undone (tabu search).

    Stops early when told to; `best` then holds what was found. It starts from a few partitions,
    of which `first` is the first, if that is given.

    Source: F. Glover, "Tabu Search - Part I", ORSA Journal on Computing 1 (1989).
    """
    draw = random.Random(seed)
    n, room = problem.n, np.asarray(problem.room)
    free = [preset for preset in range(n) if preset not in problem.pins]
    fixed = np.isin(np.arange(n), list(problem.pins))
    try:
        for start in range(max(1, rounds // 150)):
            at = np.asarray(
                first
                if first is not None and not start
                else _start(problem, draw, free, greedy=start % 2 == 0)
            )
            table = _SwapCosts(problem, at)
            cost = problem.cost(at)
            best.offer(at, cost)
            tabu = np.zeros((n, problem.banks), dtype=np.int64)
            for step in range(1, 151):
                if step % 16 == 0:
                    control.stop_if_over()
                load = np.bincount(at, minlength=problem.banks)
                swaps = table.swaps()
                moves = table.cost - table.cost[np.arange(n), at][:, None]
                barred = tabu[:, at] > step
                swaps[barred & barred.T] += FAR
                swaps[at[:, None] == at[None, :]] = 2 * FAR
                swaps[fixed, :] = swaps[:, fixed] = 2 * FAR
                moves[tabu > step] += FAR
                moves[:, load >= room] = 2 * FAR
                moves[np.arange(n), at] = 2 * FAR
                moves[fixed] = 2 * FAR
                by_swap, by_move = int(swaps.min()), int(moves.min())
                if min(by_swap, by_move) >= FAR // 2:
                    break
                if by_move <= by_swap:
                    preset, bank = divmod(int(moves.argmin()), problem.banks)
                    tabu[preset, at[preset]] = step + 4 + draw.randrange(6)
                    table.move(preset, bank)
                    cost += by_move
                else:
                    preset, other = divmod(int(swaps.argmin()), n)
                    a, b = int(at[preset]), int(at[other])
                    tabu[preset, a] = tabu[other, b] = step + 4 + draw.randrange(6)
                    table.move(preset, b)
                    table.move(other, a)
                    cost += by_swap
                best.offer(at, cost)
    except Stopped:
        return


def _start(
    problem: BankProblem, draw: random.Random, free: list[int], *, greedy: bool
) -> Partition:
    """A first partition: at random, or each preset where it costs least by then."""
    room = list(problem.room)
    at = [-1] * problem.n
    for preset, bank in problem.pins.items():
        at[preset] = bank
        room[bank] -= 1
    order = list(free)
    draw.shuffle(order)
    if greedy:
        order.sort(key=lambda preset: -int(problem.weight[preset].sum()))
    flow, steps = problem.flow, problem.steps
    for preset in order:
        choices = [bank for bank in range(problem.banks) if room[bank] > 0]
        if greedy:
            placed = [other for other in range(problem.n) if at[other] >= 0]

            def price(bank: int, preset: int = preset, placed: list[int] = placed) -> int:
                return sum(
                    int(flow[preset, o]) * int(steps[bank, at[o]])
                    + int(flow[o, preset]) * int(steps[at[o], bank])
                    for o in placed
                )

            bank = min(choices, key=price)
        else:
            bank = draw.choice(choices)
        at[preset] = bank
        room[bank] -= 1
    return tuple(at)


def branch(problem: BankProblem, best: Best, nodes: int, control: Control) -> bool:
    """Try all partitions, leaving out what cannot be as good as the best (ties are kept).

    Presets are placed from the busiest on. What is not placed yet costs at least what it would
    by itself: the same search over the last presets alone, solved before (a Russian doll).

    Args:
        problem: The problem.
        best: The best so far, bettered here.
        nodes: How many partial partitions to look at before giving up.
        control: Stops the search.

    Returns:
        Whether the search came to its end, so that the best is proved.

    Source: G. Verfaillie, M. Lemaitre, T. Schiex, "Russian Doll Search", AAAI 1996.
    """
    return _Dolls(problem, best, nodes, control).run()


class _Dolls:
    def __init__(self, problem: BankProblem, best: Best, nodes: int, control: Control) -> None:
        self.problem, self.best, self.control = problem, best, control
        self.left = nodes
        weight = problem.weight
        pinned = list(problem.pins)
        others = [preset for preset in range(problem.n) if preset not in problem.pins]
        order = list(pinned)
        while others:  # next the preset that is tied most to those before it
            near = [
                (int(weight[preset, order].sum()), int(weight[preset].sum()), -preset)
                for preset in others
            ]
            order.append(others.pop(near.index(max(near))))
        self.order = order
        self.flow = problem.flow[np.ix_(order, order)].tolist()
        self.steps = problem.steps.tolist()
        self.inner = [0] * (problem.n + 1)
        """Least cost of the presets from a place in the order on, among themselves."""

    def run(self) -> bool:
        n = self.problem.n
        for first in range(n - 1, -1, -1):
            self.limit, self.ties = self.best.cost, first == 0
            room = list(self.problem.room)
            costs = [[0] * self.problem.banks for _ in range(n)]
            self.least = self.limit
            if not self._place(first, first, 0, room, costs, []):
                return False
            self.inner[first] = self.least
        return True

    def _place(
        self,
        first: int,
        place: int,
        cost: int,
        room: list[int],
        costs: list[list[int]],
        banks: list[int],
    ) -> bool:
        problem = self.problem
        n = problem.n
        if place == n:
            if first == 0:
                at = [0] * n
                for preset, bank in zip(self.order, banks):
                    at[preset] = bank
                self.best.offer(at, cost)
            self.least = min(self.least, cost)
            self.limit = min(self.limit, cost)
            return True
        self.left -= 1
        if self.left < 0 or (self.left % 512 == 0 and self.control.over):
            return False
        open_banks = [bank for bank in range(problem.banks) if room[bank] > 0]
        pin = problem.pins.get(self.order[place])
        mine = costs[place]
        choices = sorted(open_banks, key=mine.__getitem__) if pin is None else [pin]
        if pin is None and place == first and problem.even:
            choices = choices[:1]  # banks can be told apart only by what they hold
        for bank in choices:
            if room[bank] <= 0:
                continue
            total = cost + mine[bank]
            rest = [
                [
                    c + self.flow[later][place] * self.steps[b][bank]
                    + self.flow[place][later] * self.steps[bank][b]
                    for b, c in enumerate(costs[later])
                ]
                for later in range(place + 1, n)
            ]  # fmt: skip
            bound = total + self.inner[place + 1] + sum(map(min, rest))
            if bound > self.limit or (bound == self.limit and not self.ties):
                continue
            room[bank] -= 1
            banks.append(bank)
            kept = costs[: place + 1] + rest
            done = self._place(first, place + 1, total, room, kept, banks)
            banks.pop()
            room[bank] += 1
            if not done:
                return False
        return True
