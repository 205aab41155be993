"""The cheapest ways through one song, for many choices of sounds to keep at once.

For each number of sections left unplayable and of extra presses, the least price. A layer for each
section, a row for each way to play it: a shortest path, with the two counts carried along.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from rigtui.advice.giving_up.ways import SectionWays, SongWays, too_long
from rigtui.moves.board import Waiting

Prices = npt.NDArray[np.float64]
_BYTES = 64_000_000
"""Room for one layer: choices of sounds are taken in batches that fit it."""


class Level(NamedTuple):
    """How badly a song or an evening goes; the less, the better, in this order."""

    unplayable: int
    extra_presses: int


class SongPaths:
    """All paths through one song; what does not depend on the sounds kept is worked out once."""

    def __init__(self, ways: SongWays) -> None:
        self.ways = ways
        self.sounds = np.array([way.sound for way in ways.ways], np.int64)
        """The sound of each way."""
        sections = ways.sections
        self.used = sorted({int(self.sounds[way]) for row in sections for way in row.own})
        """The sounds that it is played with now."""
        starts = [ways.start(way) for way in range(len(ways.ways))] if sections else []
        self.first = np.array([-1 if cost is None else cost[0] for cost in starts], np.int64)
        self.prices = np.array([row.price for row in sections]).reshape(
            len(sections), len(ways.ways)
        )
        known: dict[Waiting, _Moves] = {}
        self.moves = [
            known.setdefault(row.waiting, _Moves(ways, row.waiting))
            if row.waiting not in known
            else known[row.waiting]
            for row in sections[1:]
        ]
        self.most_extra = sum(moves.most for moves in self.moves) + int(self.first.max(initial=0))

    def shape(self, keeps: npt.NDArray[np.bool_]) -> tuple[int, int]:
        """How many numbers of sections left out there may be, and of extra presses."""
        always = np.all(keeps, axis=0)[self.sounds]
        lost = int(((self.prices == 0) & ~always).any(axis=1).sum())
        return lost + 1, self.most_extra + 1

    def bytes_for(self, keeps: npt.NDArray[np.bool_]) -> int:
        """How much memory the stairs of the song take for some choices of sounds.

        Raises:
            PlanError: one choice alone takes too much on the way to them.
        """
        lost, extra = self.shape(keeps)
        if 8 * len(self.sounds) * lost * extra > _BYTES:
            raise too_long(self.ways.song)
        return 8 * len(keeps) * lost * extra


class _Moves:
    """What it takes from each way to each other, at a change where the same pedals can wait.

    Ways with the same pedals outside, on the same channel, are alike but for the few changes that
    need no recall: so a class of them is taken together, and those few by themselves.
    """

    def __init__(self, ways: SongWays, waiting: Waiting) -> None:
        """Count them."""
        size = len(ways.ways)
        rows: list[list[int]] = []
        for old in range(size):
            ways.sounds.control.stop_if_over()
            costs_to = [ways.change(old, new, waiting) for new in range(size)]
            rows.append([-1 if cost is None else cost[0] for cost in costs_to])
        costs = np.array(rows, np.int64).reshape(size, size)
        self.most = int(costs.max(initial=0))
        classes: dict[object, list[int]] = {}
        for at, way in enumerate(ways.ways):
            classes.setdefault((way.target.outside, way.channel), []).append(at)
        self.together: list[tuple[list[int], list[tuple[int, npt.NDArray[np.int64]]]]] = []
        """Ways of a class; for numbers of extra presses, the ways that all of them lead to."""
        self.single: list[tuple[int, list[int], list[int]]] = []
        """Extra presses, ways, and the ways that each of them leads to; no way is led to twice."""
        for members in classes.values():
            block: npt.NDArray[np.int64] = costs[members]
            whole = (block >= 0).all(axis=0)
            dearest = np.where(whole, block.max(axis=0), size * 99)
            self.together.append(
                (members, [(int(k), np.flatnonzero(whole & (dearest == k)))
                        for k in np.unique(dearest[whole])])
            )  # fmt: skip
            cheaper = [
                (int(block[at, to]), row, int(to))
                for at, row in enumerate(members)
                for to in np.flatnonzero((block[at] >= 0) & (block[at] < dearest))
            ]
            while cheaper:
                this_time: dict[int, dict[int, int]] = {}
                rest = []
                for extra, row, to in cheaper:
                    if to in this_time.setdefault(extra, {}):
                        rest.append((extra, row, to))
                    else:
                        this_time[extra][to] = row
                self.single += [
                    (extra, list(pairs.values()), list(pairs)) for extra, pairs in this_time.items()
                ]
                cheaper = rest

    def made(self, layer: Prices) -> Prices:
        """Go on from a layer into the next section: the least for each way, before it is paid."""
        new = np.full(layer.shape, np.inf)
        for rows, ends in self.together:
            least = layer[:, rows].min(axis=1)[:, None]
            for extra, to in ends:
                _lower(new, to, least, extra)
        for extra, each, ends_in in self.single:
            _lower(new, ends_in, layer[:, each], extra)
        return new


class SongStairs:
    """The least price of a song for each level, for each of some choices of sounds."""

    def __init__(self, paths: SongPaths, keeps: npt.NDArray[np.bool_]) -> None:
        """Work them out.

        Args:
            paths: The song.
            keeps: A row for each choice, a column for each sound: whether it is kept.
        """
        self._paths, self._ways = paths, paths.ways
        self.song_id = paths.ways.song.id
        sections = paths.ways.sections
        self.shape = paths.shape(keeps)
        self.levels = [Level(u, e) for u in range(self.shape[0]) for e in range(self.shape[1])]
        batch = max(1, _BYTES // (8 * max(1, len(paths.sounds)) * len(self.levels)))
        parts = [self._run(keeps[at : at + batch]) for at in range(0, len(keeps), batch)]
        self.prices: Prices = np.concatenate(parts) if sections else np.zeros((len(keeps), 1))
        """A row for each choice, a column for each of `levels`: the price of that or better."""

    def steps(self, choice: int) -> list[tuple[Level, float]]:
        """Return the levels that are worth their price for a choice of sounds, best first."""
        row = self.prices[choice]
        better = np.flatnonzero(row < np.concatenate(([np.inf], row[:-1])) - 1e-9)
        return [(self.levels[at], float(row[at])) for at in better]

    def _run(self, keeps: npt.NDArray[np.bool_]) -> Prices:
        paths = self._paths
        lost = ~keeps[:, paths.sounds]
        layer = np.full((len(keeps), len(paths.sounds), *self.shape), np.inf)
        for way, extra in enumerate(paths.first):
            if extra >= 0:
                layer[:, way, 0, extra] = 0
        for nth, prices in enumerate(paths.prices):
            self._ways.sounds.control.stop_if_over()
            if nth:
                layer = paths.moves[nth - 1].made(layer)
            if lost.any():
                left_out = np.full(layer.shape, np.inf)
                home = prices == 0
                left_out[:, home, 1:] = layer[:, home, :-1]
                layer = np.where(lost[:, :, None, None], left_out, layer)
            layer += prices[:, None, None]
        least: Prices = layer.min(axis=1).reshape(len(keeps), -1)
        return np.minimum.accumulate(least, axis=1)

    def chosen(self, keeps: npt.NDArray[np.bool_], level: Level, price: float) -> list[int]:
        """Return the way of each section that reaches a level at its least price.

        Among equals it changes the fewest sections, then makes the fewest presses.

        Args:
            keeps: The sounds kept.
            level: One of `steps`, so that there is such a way.
            price: Its price.
        """
        ways, sections = self._ways, self._ways.sections
        if not sections:
            return []
        reached: dict[_Node, _Reached] = {}
        for way in range(len(ways.ways)):
            start = ways.start(way)
            if start is not None and sections[0].price[way] <= price + 1e-6:
                key, level_so_far = (0.0, 0, start[1]), Level(0, start[0])
                self._reach(reached, sections[0], way, keeps, key, level_so_far, None)
        layers = [reached]
        for section in sections[1:]:
            reached = {}
            for node, (node_key, _) in layers[-1].items():
                for way, its_price in enumerate(section.price):
                    if node_key[0] + its_price > price + 1e-6:
                        continue
                    cost = ways.change(node.way, way, section.waiting)
                    if cost is None:
                        continue
                    so_far = Level(node.level.unplayable, node.level.extra_presses + cost[0])
                    if so_far <= level:
                        after = (node_key[0], node_key[1], node_key[2] + cost[1])
                        self._reach(reached, section, way, keeps, after, so_far, node)
            layers.append(reached)
        ends = [(key, node) for node, (key, _) in layers[-1].items() if node.level == level]
        last: _Node | None = min(ends, key=lambda end: end[0])[1]
        path: list[int] = []
        for reached in reversed(layers):
            assert last is not None
            path.append(last.way)
            last = reached[last][1]
        return path[::-1]

    def _reach(
        self, reached: dict[_Node, _Reached], section: SectionWays, way: int,
        keeps: npt.NDArray[np.bool_], key: _Key, level: Level, before: _Node | None,
    ) -> None:  # fmt: skip
        if not keeps[self._ways.ways[way].sound]:
            if not section.is_home(way):
                return
            level = Level(level.unplayable + 1, level.extra_presses)
        key = (round(key[0] + section.price[way], 6), key[1] + (way not in section.own), key[2])
        node = _Node(way, level)
        if node not in reached or key < reached[node][0]:
            reached[node] = (key, before)


_Key = tuple[float, int, int]
"""Price, sections changed, presses but bank steps."""


class _Node(NamedTuple):
    way: int
    level: Level


_Reached = tuple[_Key, _Node | None]


def _lower(
    table: Prices, to: Sequence[int] | npt.NDArray[np.int64], by: Prices, extra: int
) -> None:
    """Lower the rows of some ways to others, shifted by extra presses."""
    kept = table.shape[-1] - extra
    if kept > 0:
        table[:, to, :, extra:] = np.minimum(table[:, to, :, extra:], by[..., :kept])
