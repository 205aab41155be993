"""Cutting stock: which pieces to cut from which lengths, with the least waste.

A rest of `keep` or more is worth keeping and is no waste; with an endless `keep` this is the
classical one-dimensional cutting stock problem. Branch and bound: the longest piece left goes onto
a length that keeps its rest, or begins one that is filled as far as it goes. Filling it further
never makes more waste, for what is saved there is at least what another length then has over.
Source: bin completion (R. E. Korf, "A new algorithm for optimal bin packing", 2002), with lengths
of several sizes and rests that are kept added.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby
from math import inf
from typing import NamedTuple

NODES = 20_000
_TRIES = 60
"""Ways to fill one length that are tried at each step, the fullest first."""


class Stock(NamedTuple):
    """Lengths at hand that are alike."""

    room: int
    many: int
    row: int
    """What the caller knows them by."""


class Found(NamedTuple):
    """The best plan found; all figures in the caller's unit of length."""

    patterns: tuple[tuple[Stock, tuple[int, ...]], ...]
    """Each length begun, with its pieces, the longest first."""
    waste: int
    """Rests too short to keep, and the trim of each length begun."""
    bound: int
    """No plan has less waste."""


def best_patterns(
    sizes: Sequence[int],
    stocks: Sequence[Stock],
    keep: float = inf,
    trim: int = 0,
    nodes: int = NODES,
) -> Found | None:
    """Return the plan with the least waste; of equals the one that begins the least length.

    Args:
        sizes: Length of each piece, whole numbers above 0, with what its cut takes.
        stocks: What there is to cut from, already without the trim.
        keep: From which length on a rest is worth keeping.
        trim: Waste of each length that is begun.
        nodes: Steps after which the search settles for the best plan so far.

    Returns:
        The plan; None if none was found: the lengths at hand are too short or too few.
    """
    search = _Search(tuple(sorted(sizes, reverse=True)), tuple(stocks), keep, trim, nodes)
    return search.run()


class _State(NamedTuple):
    """A plan that is partly made."""

    left: tuple[tuple[int, int], ...]
    """Pieces to place: length, longest first, and how many."""
    counts: tuple[int, ...]
    """Lengths at hand of each row."""
    open: tuple[tuple[int, int], ...]
    """Lengths begun whose rest is kept: what may still come off each, and its place in the plan."""
    waste: int
    begun: int


_Placed = list[tuple[Stock, list[int]]]


class _Search:
    def __init__(
        self, sizes: tuple[int, ...], stocks: tuple[Stock, ...], keep: float, trim: int, nodes: int
    ) -> None:
        self.sizes, self.keep, self.trim, self.nodes = sizes, keep, trim, nodes
        self.patience = nodes // 4
        # the shortest first, so that of equal plans the one with offcuts is met first
        self.stocks = tuple(sorted(stocks, key=lambda stock: stock.room))
        self.best: tuple[float, float] = (inf, inf)
        self.plan: _Placed = []
        self.placed: _Placed = []
        self.seen: dict[object, tuple[int, int]] = {}
        self.covers: dict[tuple[int, ...], list[int]] = {}
        self.cut_short = False

    def run(self) -> Found | None:
        left = tuple((size, len(list(group))) for size, group in groupby(self.sizes))
        root = _State(left, tuple(stock.many for stock in self.stocks), (), 0, 0)
        bound = self._bound(root)
        if not left:
            return Found((), 0, 0)
        if bound[0] < inf:
            self._go(root)
        if self.best[0] == inf:
            return None
        waste = int(self.best[0])
        proved = waste if not self.cut_short else min(waste, int(bound[0]))
        plan = tuple((stock, tuple(sorted(p, reverse=True))) for stock, p in self.plan)
        return Found(plan, waste, proved)

    def _go(self, state: _State) -> None:
        """Depth first, without recursion: a plan may begin hundreds of lengths."""
        stack = [self._branches(state)]
        undo: list[int | None] = []
        while stack:
            step = next(stack[-1], None)
            if step is None:
                stack.pop()
                if undo:
                    self._take_back(undo.pop())
                continue
            after, at = step
            self.nodes -= 1
            if self.nodes < (0 if self.best[0] < inf else -self.patience):
                self.cut_short = True
                return
            if not after.left:
                if (after.waste, after.begun) < self.best:
                    self.best = (after.waste, after.begun)
                    self.plan = [(stock, list(pieces)) for stock, pieces in self.placed]
                self._take_back(at)
                continue
            key = (after.left, after.counts, tuple(sorted(room for room, _ in after.open)))
            cost = (after.waste, after.begun)
            if self._bound(after) >= self.best or self.seen.get(key, (inf, inf)) <= cost:
                self._take_back(at)
                continue
            self.seen[key] = cost
            stack.append(self._branches(after))
            undo.append(at)

    def _take_back(self, at: int | None) -> None:
        """Undo the last step: a length begun (None), or the last piece of a length."""
        if at is None:
            self.placed.pop()
        else:
            self.placed[at][1].pop()

    def _branches(self, state: _State) -> Iterator[tuple[_State, int | None]]:
        """Each way to place the longest piece left; it is placed while the branch is followed."""
        size = state.left[0][0]
        rooms: set[int] = set()
        for nth, (room, at) in enumerate(state.open):
            if room >= size and room not in rooms:
                rooms.add(room)
                self.placed[at][1].append(size)
                after = (*state.open[:nth], (room - size, at), *state.open[nth + 1 :])
                yield state._replace(left=_less(state.left, (size,)), open=after), at
        for row, stock in enumerate(self.stocks):
            if not state.counts[row] or stock.room < size:
                continue
            counts = (*state.counts[:row], state.counts[row] - 1, *state.counts[row + 1 :])
            for pattern, rest in self._fillings(state.left, stock.room):
                self.placed.append((stock, list(pattern)))
                yield (
                    _State(_less(state.left, pattern), counts, state.open,
                           state.waste + rest + self.trim, state.begun + stock.room),
                    None,
                )  # fmt: skip
            if stock.room - self.keep >= size:
                at = len(self.placed)
                self.placed.append((stock, [size]))
                room = int(stock.room - self.keep) - size
                yield (
                    _State(_less(state.left, (size,)), counts, (*state.open, (room, at)),
                           state.waste + self.trim, state.begun + stock.room),
                    None,
                )  # fmt: skip

    def _fillings(
        self, left: tuple[tuple[int, int], ...], room: int
    ) -> Iterator[tuple[tuple[int, ...], int]]:
        """Ways to fill a length with the longest piece and others, so that nothing more fits.

        The fullest come first; those whose rest is worth keeping are left out.
        """
        fillings: list[tuple[int, tuple[int, ...]]] = []
        smallest = left[-1][0]
        budget = 4000
        first: tuple[int, ...] = (left[0][0],)
        stack = [(0, room - left[0][0], first, left[0][1] - 1)]
        while stack and budget:
            budget -= 1
            at, rest, pattern, more = stack.pop()
            if more and left[at][0] <= rest:
                stack.append((at, rest, pattern, 0))
                size = left[at][0]
                stack.append((at, rest - size, (*pattern, size), more - 1))
            elif at + 1 < len(left) and rest >= smallest:
                stack.append((at + 1, rest, pattern, left[at + 1][1]))
            elif rest < self.keep and self._full(left, pattern, rest):
                fillings.append((rest, pattern))
        if stack:
            self.cut_short = True
        self.nodes -= (4000 - budget) // 40
        fillings.sort(key=lambda filling: (filling[0], [-size for size in filling[1]]))
        if len(fillings) > _TRIES:
            self.cut_short = True
        for rest, pattern in fillings[:_TRIES]:
            yield pattern, rest

    @staticmethod
    def _full(left: tuple[tuple[int, int], ...], pattern: tuple[int, ...], rest: int) -> bool:
        used = Counter(pattern)
        return not any(size <= rest and used[size] < many for size, many in left)

    def _bound(self, state: _State) -> tuple[float, float]:
        """Waste and length begun of which any plan that goes on from here has at least as much."""
        wanted = sum(size * many for size, many in state.left)
        lacking = wanted - sum(room for room, _ in state.open)
        more = self._cover(state.counts, lacking)
        if more is None:
            return (inf, inf)
        trims = self.trim * self._fewest(state.counts, lacking)
        shortest = state.left[-1][0] if state.left else 0
        keeps = bool(state.open) or any(
            many and stock.room - self.keep >= shortest
            for stock, many in zip(self.stocks, state.counts)
        )
        rest = 0 if keeps else more - wanted
        return (state.waste + trims + rest, state.begun + more)

    def _fewest(self, counts: tuple[int, ...], wanted: int) -> int:
        """How many lengths are needed at least."""
        number = 0
        for row in range(len(self.stocks) - 1, -1, -1):
            room = self.stocks[row].room
            if wanted <= 0 or not room:
                break
            use = min(counts[row], -(-wanted // room))
            number, wanted = number + use, wanted - use * room
        return number

    def _cover(self, counts: tuple[int, ...], wanted: int) -> int | None:
        """The least total of lengths at hand that is enough; None if all are too little."""
        if wanted <= 0:
            return 0
        if sum(stock.room * many for stock, many in zip(self.stocks, counts)) < wanted:
            return None
        rows = [(stock.room, many) for stock, many in zip(self.stocks, counts) if many]
        if len(rows) == 1:
            return -(-wanted // rows[0][0]) * rows[0][0]
        if sum(min(many, 16) for _, many in rows) > 14:
            return wanted
        totals = self.covers.get(counts)
        if totals is None:
            sums = {0}
            for room, many in rows:
                sums = {total + room * use for total in sums for use in range(many + 1)}
            totals = self.covers[counts] = sorted(sums)
        return next(total for total in totals if total >= wanted)


def _less(left: tuple[tuple[int, int], ...], pattern: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """What is left to place without some pieces."""
    used = Counter(pattern)
    return tuple((s, many - used[s]) for s, many in left if many > used[s])
