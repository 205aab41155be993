"""The search for what each bank should hold, where there are memories to spare for copies.

It starts from contents that are known, from songs gathered into banks that hold all they need, and
at random; from each it exchanges presets and takes a worse answer now and then, ever more seldom.
Where there are only a few ways to fill the banks it looks at all of them; else it proves nothing,
and `ContentsProblem.bound` stands beside its answer.

Source: S. Kirkpatrick, C. Gelatt, M. Vecchi, "Optimization by Simulated Annealing", Science 220
(1983).
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable, Iterator, Sequence

from rigtui.plan.ask.control import Control
from rigtui.plan.memories.banks import FAR
from rigtui.plan.memories.contents import (
    Contents,
    ContentsProblem,
    Pricer,
    Score,
    contents_of,
    masks_of,
)

_OFTEN = 64
"""Exchanges between two looks at the clock."""
_HOT, _WARM, _COLD = 6.0, 2.0, 0.3
"""How many steps worse an exchange may well be: at random, from a good start, and in the end."""

_EVERY = 6000
"""Ways to fill the banks up to which all are looked at."""
_MOST_TRIES = 20_000

Exchange = list[tuple[int, int, int]]
"""Bank, place in it, and the preset that goes there."""


class ContentsSearch:
    """One search; `best` and `score` are what it has by then."""

    def __init__(
        self,
        problem: ContentsProblem,
        control: Control | None = None,
        better: Callable[[Contents, Score], None] | None = None,
        *,
        most: int | None = None,
        seed: int = 1,
        tries: int | None = None,
    ) -> None:
        """Prepare a search.

        Args:
            problem: The presets; there must be room for each of them once.
            control: Stops the search.
            better: Called with contents that are the best so far, and what they cost.
            most: Memories that may be filled; all where not given.
            seed: Of the draw.
            tries: Exchanges to try from one start; as the size asks for where not given.
        """
        self.problem, self.control = problem, control or Control()
        self.pricer = Pricer(problem)
        memories = sum(problem.rooms)
        self.most = memories if most is None else most
        self.tries = tries or min(_MOST_TRIES, 60 * memories * problem.presets)
        self.proved = False
        """Whether nothing better exists."""
        self.best: Contents | None = None
        self.score = Score(FAR, FAR, FAR, FAR)
        self._better = better
        self._draw = random.Random(seed)
        self._pinned = {(bank, preset) for preset, bank in problem.pins.items()}
        played = [song.times for song in problem.songs if song.presets]
        self._scale = max(1.0, sum(played) / max(1, len(played)))

    def run(self, starts: Sequence[Contents], rounds: int = 6, *, tidy: bool = True) -> None:
        """Search from each start, then from songs gathered in banks, then at random.

        Args:
            starts: Contents to do at least as well as.
            rounds: Starts in a row that may bring nothing before the search ends.
            tidy: Whether copies that save nothing are taken out, and steps between songs spared.
        """
        for start in starts:  # all of them, however little time there is
            self._offer(masks_of(self.problem, start))
        if tidy:
            self._pare()  # among equals the answer is near to what is known
        if len(self.problem.rooms) < 2 or not self.problem.presets:
            if self.best is None:
                self._offer(masks_of(self.problem, self._gathered()))
            return
        if self._ways() <= _EVERY:
            self._look_at_all()
            return
        vain = 0
        for nth in itertools.count():
            if self._done or self.control.over or (vain >= rounds and nth > len(starts)):
                break
            known = self.score
            if nth < len(starts):
                self._anneal(starts[nth], _WARM)
            elif nth == len(starts):
                self._anneal(self._gathered(), _WARM)
            else:
                self._anneal(self._scattered(), _HOT)
            vain = 0 if self.score < known else vain + 1
        if tidy:
            self._pare()

    def _ways(self) -> int:
        """How many ways there are to fill the banks, those that leave presets out included."""
        n = self.problem.presets
        return math.prod(
            sum(math.comb(n, held) for held in range(room + 1)) for room in self.problem.rooms
        )

    def _look_at_all(self) -> None:
        """Look at every way to fill the banks."""
        problem = self.problem
        banks = [list(_subsets(problem.presets, room)) for room in problem.rooms]
        for nth, contents in enumerate(itertools.product(*banks)):
            if nth % _OFTEN == 0 and self.control.over:
                return
            if sum(map(len, contents)) <= self.most and problem.fits(contents):
                self._offer(masks_of(problem, contents))
        self.proved = True

    @property
    def _done(self) -> bool:
        return self.score.written + self.score.at_home <= 2 * self.problem.bound

    def _offer(self, where: Sequence[int]) -> bool:
        score = self.pricer.score(where)
        if score >= self.score:
            return False
        self.score, self.best = score, contents_of(self.problem, where)
        if self._better is not None:
            self._better(self.best, score)
        return True

    # ------------------------------------------------------------ starts

    def _gathered(self) -> Contents:
        """Gather songs into banks that hold all they need, the song with most presets first.

        Each goes where it adds the fewest presets; what is then in no bank goes where there is
        room.
        """
        banks: list[set[int]] = [set() for _ in self.problem.rooms]
        for preset, bank in self.problem.pins.items():
            banks[bank].add(preset)
        needs = {frozenset(song.presets): 0 for song in self.problem.songs}
        for song in self.problem.songs:
            needs[frozenset(song.presets)] += song.times
        left = set(range(self.problem.presets)) - set().union(*banks)
        for need in sorted(needs, key=lambda need: (-len(need), -needs[need], sorted(need))):
            spare = self.most - sum(map(len, banks)) - len(left - need)
            ways = [
                (len(need - held), bank)
                for bank, held in enumerate(banks)
                if len(held | need) <= self.problem.rooms[bank]
            ]
            if ways and len(need - banks[min(ways)[1]]) <= spare:
                banks[min(ways)[1]] |= need
                left -= need
        return self._housed(banks, left)

    def _scattered(self) -> Contents:
        """Fill the banks at random, each preset once and then copies."""
        banks: list[set[int]] = [set() for _ in self.problem.rooms]
        for preset, bank in self.problem.pins.items():
            banks[bank].add(preset)
        left = set(range(self.problem.presets)) - set().union(*banks)
        order = list(range(len(banks)))
        self._draw.shuffle(order)
        housed = self._housed([banks[bank] for bank in order], left, order)
        banks = [set(presets) for presets in housed]
        spare = self.most - sum(map(len, banks))
        for bank, room in enumerate(self.problem.rooms):
            others = [preset for preset in range(self.problem.presets) if preset not in banks[bank]]
            self._draw.shuffle(others)
            copies = set(others[: min(spare, room - len(banks[bank]))])
            banks[bank] |= copies
            spare -= len(copies)
        return tuple(tuple(sorted(presets)) for presets in banks)

    def _housed(
        self, banks: list[set[int]], left: set[int], order: Sequence[int] | None = None
    ) -> Contents:
        """Put presets that are in no bank where there is most room."""
        order = range(len(banks)) if order is None else order
        rooms = [self.problem.rooms[bank] for bank in order]
        waiting = sorted(left)
        if order != range(len(banks)):
            self._draw.shuffle(waiting)
        for preset in waiting:
            most = max(range(len(banks)), key=lambda at: rooms[at] - len(banks[at]))
            banks[most].add(preset)
        contents: list[tuple[int, ...]] = [()] * len(banks)
        for at, bank in enumerate(order):
            contents[bank] = tuple(sorted(banks[at]))
        return tuple(contents)

    # ------------------------------------------------------------ exchanges

    def _anneal(self, start: Contents, hot: float) -> None:
        """Exchange presets; a dearer exchange is taken ever more seldom."""
        problem, draw, price = self.problem, self._draw, self._price
        banks = [
            [*presets, *([-1] * (room - len(presets)))]
            for presets, room in zip(start, problem.rooms)
        ]
        where = masks_of(problem, start)
        self._offer(where)
        if self._done:
            return
        costs = [price(at, where) for at in range(len(problem.songs))]
        least = total = sum(costs)
        heat = hot * self._scale
        for nth in range(self.tries):
            if nth % _OFTEN == 0:
                if self.control.over:
                    break
                heat = self._scale * hot * (_COLD / hot) ** (nth / self.tries)
            exchange = self._exchange(banks, where)
            if exchange is None:
                continue
            before = [(bank, place, banks[bank][place]) for bank, place, _ in exchange]
            masks = self._put(banks, where, exchange)
            touched = {song for preset in masks for song in self.pricer.users[preset]}
            prices = {song: price(song, where) for song in touched}
            dearer = sum(prices[song] - costs[song] for song in touched)
            if dearer > 0 and draw.random() >= math.exp(-dearer / heat):
                for bank, place, preset in before:
                    banks[bank][place] = preset
                for preset, mask in masks.items():
                    where[preset] = mask
                continue
            for song, cost in prices.items():
                costs[song] = cost
            total += dearer
            if total < least:
                least = total
                self._offer(where)
        self._offer(where)

    def _price(self, at: int, where: Sequence[int]) -> int:
        written, at_home = self.pricer.song(at, where)
        return self.problem.songs[at].times * (written + at_home)

    def _exchange(self, banks: list[list[int]], where: list[int]) -> Exchange | None:
        """Draw an exchange; None where what was drawn makes no sense."""
        draw, pinned = self._draw, self._pinned
        kind = draw.random()
        home, other = draw.randrange(len(banks)), draw.randrange(len(banks))
        place = draw.randrange(len(banks[home]))
        old = banks[home][place]
        if kind < 0.6:  # put a preset here in place of another
            new = draw.randrange(self.problem.presets)
            if where[new] >> home & 1 or (home, old) in pinned:
                return None
            if old < 0 and sum(mask.bit_count() for mask in where) >= self.most:
                return None
            if old < 0 or where[old] != 1 << home:
                return [(home, place, new)]
            homes = [bank for bank in range(len(banks)) if where[new] >> bank & 1]
            other = draw.choice(homes)  # its only memory: then it goes where the new one was
            if where[old] >> other & 1 or (other, new) in pinned:
                return None
            return [(home, place, new), (other, banks[other].index(new), old)]
        if home == other:
            return None
        if kind < 0.95:  # exchange two
            there = draw.randrange(len(banks[other]))
            new = banks[other][there]
            if old in banks[other] or new in banks[home]:
                return None
            if (home, old) in pinned or (other, new) in pinned:
                return None
            return [(home, place, new), (other, there, old)]
        if len(banks[home]) != len(banks[other]):  # exchange two whole banks
            return None
        if any(bank in (home, other) for bank in self.problem.pins.values()):
            return None
        here = [(home, at, preset) for at, preset in enumerate(banks[other])]
        return here + [(other, at, preset) for at, preset in enumerate(banks[home])]

    @staticmethod
    def _put(banks: list[list[int]], where: list[int], exchange: Exchange) -> dict[int, int]:
        """Make an exchange; return the presets touched, and their banks before."""
        masks: dict[int, int] = {}
        for bank, place, _ in exchange:
            preset = banks[bank][place]
            if preset >= 0:
                masks.setdefault(preset, where[preset])
                where[preset] &= ~(1 << bank)
        for bank, place, preset in exchange:
            if preset >= 0:
                masks.setdefault(preset, where[preset])
                where[preset] |= 1 << bank
            banks[bank][place] = preset
        return masks

    # ------------------------------------------------------------ the end

    def _pare(self) -> None:
        """Take out copies that save nothing, and exchange what spares steps between songs."""
        better = self.best is not None
        while better and not self.control.over:
            better = False
            assert self.best is not None
            where = masks_of(self.problem, self.best)
            for trial in self._near(where):
                if self.control.over:
                    return
                if self._offer(trial):
                    better = True
                    break

    def _near(self, where: list[int]) -> list[list[int]]:
        """Contents a step away: a copy less, two banks exchanged, two presets exchanged."""
        banks, rooms = range(len(self.problem.rooms)), self.problem.rooms
        near = []
        for preset, mask in enumerate(where):
            for bank in banks:
                if mask >> bank & 1 and mask != 1 << bank and (bank, preset) not in self._pinned:
                    near.append(_with(where, {preset: mask ^ 1 << bank}))
        pinned = set(self.problem.pins.values())
        for first in banks:
            for other in range(first + 1, len(rooms)):
                if rooms[first] == rooms[other] and not pinned & {first, other}:
                    both = 1 << first | 1 << other
                    near.append([m ^ both if m & both not in (0, both) else m for m in where])
        for a, old in enumerate(where):
            for b in range(a + 1, len(where)):
                if a not in self.problem.pins and b not in self.problem.pins:
                    near.append(_with(where, {a: where[b], b: old}))
        return near


def _subsets(presets: int, room: int) -> Iterator[tuple[int, ...]]:
    """Every way to fill a bank."""
    for held in range(room + 1):
        yield from itertools.combinations(range(presets), held)


def _with(where: list[int], masks: dict[int, int]) -> list[int]:
    return [masks.get(preset, mask) for preset, mask in enumerate(where)]
