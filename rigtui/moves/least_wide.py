"""Least moves on boards with very many ways to go: the same shortest path, taken by stretches.

Between two recalls the switcher stands on one preset, and a stretch of sections costs the recall
and the toggles that it takes to stay right. What the toggles cost depends on the preset and the
stretch alone, not on the bank in which it began; so

    cheapest(n, bank) = min over begin i <= n and presets p of that bank, of
        way(i - 1, bank) + 1 + toggles(p, i..n)

where way(i, bank) is the cheapest way to stand in a bank after section i. Of toggles(p, i..n) only
the first time that a loop is required since i depends on p; what follows is the same for all
presets. Stretches that began earlier have had more loops required, so they come in order: the
oldest, for which all is settled, are put together in one table, and a section changes only the
latest. That keeps the work within sections x presets x loops.

Of the channel (where presets switch it) only one thing matters between two sections that require
one: whether it is the one that is required next. That is `column` 0, any other is 1.

What it is worth, measured a section on one computer, layers beside stretches: with loop switches
0.23 and 0.06 ms at 32 presets of 10 loops, 2.8 and 0.08 ms at 128, more than 325 and 0.4 ms at the
most that a file may hold (in all its sections: hours, or seconds). Without loop switches 0.007 and
0.07 ms at 32 presets, so ordinary boards are counted by layers; 38 and 0.4 ms at the most.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from rigtui.model.remembered import Remembered
from rigtui.moves.board import Board, Target
from rigtui.moves.figures import State

_NEVER = 1 << 28
"""A cost that nothing reaches; four of them still fit 32 bits."""
_OUT = 255
"""Toggles of a preset that is not to be had; more than there can be loops."""
_RIGHT, _OTHER = 0, 1

Array = np.ndarray[Any, Any]


class WideBoard:
    """The presets of a board as arrays, those in memories first, bank by bank."""

    def __init__(self, board: Board) -> None:
        self.toggling = board.toggling
        self.words = -(-len(board.loop_numbers) // 64) or 1
        ranked = sorted(board.choices, key=lambda stored: (stored.bank is None, stored.bank or 0))
        banks = [stored.bank for stored in ranked if stored.bank is not None]
        self.stored = len(banks)
        """How many presets are in a memory; the rest can be recalled in any bank."""
        self.masks = np.stack([self.bits(stored.mask) for stored in ranked], axis=1)
        """Loops of each preset, words x presets."""
        self._channels = [stored.channel for stored in ranked]
        self.banks = sorted({0, *banks})
        self.row_of = {bank: row for row, bank in enumerate(self.banks)}
        self.bank_rows = np.array([self.row_of[bank] for bank in banks], dtype=int)
        self.filled, self.begins = np.unique(self.bank_rows, return_index=True)
        """Banks that hold presets, and where the presets of each begin."""
        self.steps = np.array(
            [[board.steps[here][there] for there in self.banks] for here in self.banks], np.int32
        )
        self.price = np.arange(_OUT + 1, dtype=np.int32)
        """What so many toggles cost."""
        self.price[_OUT] = _NEVER
        self._outs: dict[str | None, Array] = {}

    def bits(self, mask: int) -> Array:
        """Return loops as words of 64 bits."""
        low = (1 << 64) - 1
        return np.array([mask >> 64 * word & low for word in range(self.words)], np.uint64)

    def outs(self, channel: str | None) -> Array:
        """Mark with `_OUT` the presets that do not: set this channel, set another, set none.

        Returns:
            3 x presets. Where no channel is required any more, all are as good as setting it.
        """
        known = self._outs.get(channel)
        if known is None:
            known = np.full((3, len(self._channels)), _OUT, np.uint8)
            for at, named in enumerate(self._channels):
                known[
                    0 if channel is None or named == channel else 2 if named is None else 1, at
                ] = 0
            self._outs[channel] = known
        return known


_wide_boards: Remembered[WideBoard] = Remembered(2)


def least_by_stretches(
    board: Board, start: State, wanted: Sequence[Target], required: Sequence[str | None]
) -> int:
    """Return the fewest bank steps, recalls and toggles of loops that pass through all sections.

    Args:
        board: The rig's board.
        start: Set up on the first section.
        wanted: What each section after it asks for.
        required: The channel that each of them needs; None where any will do.
    """
    wide = _wide_boards.get((board,), lambda: WideBoard(board))
    walk = _Walk(wide, start, wanted, required)
    for at in range(len(wanted)):
        walk.enter(at)
    return int(walk.cheapest.min())


class _Walk:
    """The stretches of one song, section by section; each is a row, in order of its begin."""

    def __init__(
        self,
        board: WideBoard,
        start: State,
        wanted: Sequence[Target],
        required: Sequence[str | None],
    ) -> None:
        self.board, self.wanted, self.required = board, wanted, required
        size = len(wanted)
        self.ahead: list[str | None] = [None] * (size + 1)
        """The channel that is required next, by the section from which one looks."""
        self.open = [0] * (size + 1)
        """Loops that are required by that section or a later one."""
        for at in range(size - 1, -1, -1):
            self.ahead[at] = self.ahead[at + 1] if required[at] is None else required[at]
            self.open[at] = self.open[at + 1] | wanted[at].fixed
        columns, banks = 1 if self.ahead[0] is None else 2, len(board.banks)
        self.oldest = 0
        """Rows before it are settled or over."""
        self.turn = 0
        """Rows before it began before the last section that required a channel, ..."""
        self.place = _RIGHT
        """... and stand in this column now."""
        self.seen = np.zeros((size, board.words), np.uint64)
        """Loops required since each stretch began."""
        self.toggles = np.zeros((size, board.masks.shape[1]), np.uint8)
        """Toggles of each preset's loops when they were first required, ..."""
        self.since = np.zeros(size, np.int32)
        """... and of loops that had been required before, the same for all presets."""
        self.way = np.zeros((size, columns, board.stored), np.int32)
        """What it took to recall each preset in a memory, ..."""
        self.way_here = np.zeros((size, 2, columns, banks), np.int32)
        """... and, in each bank, one in no memory: that sets a channel, that sets none."""
        self.outs: list[Array] = []
        self.costs = np.zeros((size, columns, banks), np.int32)
        """The cheapest of each stretch, but for `since`."""
        self.settled = np.full((columns, banks), _NEVER, np.int32)
        self.last = 0
        """Each loop as it was last required."""
        self.start, self.start_mask, self.start_cost = start, start.mask, 0
        self.cheapest = np.full((columns, banks), _NEVER, np.int32)
        self._add_start(0)

    def enter(self, at: int) -> None:
        """Go on into a section: toggle what is wrong, or recall."""
        target = self.wanted[at]
        fixed = self.board.bits(target.fixed)
        differing = self.board.masks ^ self.board.bits(target.mask)[:, None]
        self._go_on(at, target, fixed)
        first = self._require_more(at, fixed, differing)
        self._recall(at, fixed, differing)
        self._price(first, at + 1)
        if self.required[at] is not None:
            self._pass_channel(at)
        self.last = (self.last & ~target.fixed) | (target.mask & target.fixed)
        self._settle(at + 1)
        self._choose(at + 1)

    def _go_on(self, at: int, target: Target, fixed: Array) -> None:
        """Toggle loops that had been required before, whatever the preset."""
        changed = (self.last ^ target.mask) & target.fixed
        wrong = (self.start_mask ^ target.mask) & target.fixed
        self.start_mask ^= wrong
        rows = slice(self.oldest, at)
        again = np.bitwise_count(self.seen[rows] & self.board.bits(changed)).sum(1, dtype=np.int32)
        if self.board.toggling:
            self.settled += changed.bit_count()
            self.start_cost += wrong.bit_count()
            self.since[rows] += again
        else:
            if changed:
                self.settled[:] = _NEVER
            if wrong:
                self.start_cost = _NEVER
            self.since[rows][again > 0] = _NEVER

    def _require_more(self, at: int, fixed: Array, differing: Array) -> int:
        """Toggle loops that are required for the first time; return the first row that has any.

        What began later has seen less, so that all later rows have some as well.
        """
        more = fixed & ~self.seen[self.oldest : at]
        has_more: Array = np.any(more, axis=1)
        if not has_more[-1:].any():
            return at
        skipped = int(has_more.argmax())
        rows = slice(self.oldest + skipped, at)
        self._count_toggles(self.toggles[rows], more[skipped:], differing)
        self.seen[rows] |= fixed
        return rows.start

    def _count_toggles(self, toggles: Array, more: Array, differing: Array) -> None:
        """Add each preset's wrong loops among those asked for, rows x words, to rows x presets."""
        for word in range(self.board.words):
            wrong = more[:, word, None] & differing[word]
            if self.board.toggling:
                toggles += np.bitwise_count(wrong)
            else:
                toggles[wrong != 0] = _OUT

    def _recall(self, at: int, fixed: Array, differing: Array) -> None:
        """Begin a stretch."""
        board, here = self.board, self.cheapest + 1
        self.seen[at] = fixed
        self._count_toggles(self.toggles[at : at + 1], fixed[None], differing)
        there = (here[:, :, None] + board.steps).min(1)
        outs = board.outs(self.ahead[at])
        self.outs.append(outs[:, board.stored :])
        setting, others, alone = board.price[outs[:, : board.stored]]
        any_there, any_here = there.min(0)[board.bank_rows], here.min(0)
        for column, own in enumerate((setting, others)[: len(here)]):
            kept = there[column][board.bank_rows]
            self.way[at, column] = np.minimum(any_there + own, kept + alone)
            self.way_here[at, 0, column] = any_here
            self.way_here[at, 1, column] = here[column]
        if self.required[at] is not None:
            self.way[at, _OTHER] = self.way_here[at, :, _OTHER] = _NEVER

    def _price(self, first: int, end: int) -> None:
        """Find the cheapest preset of each bank for rows whose toggles are new."""
        board, rows = self.board, slice(first, end)
        toggles, costs = self.toggles[rows], self.costs[rows]
        costs[:] = _NEVER
        if board.stored:
            ways = self.way[rows] + board.price[toggles[:, None, : board.stored]]
            costs[:, :, board.filled] = np.minimum.reduceat(ways, board.begins, axis=2)
        unstored = toggles[:, None, board.stored :]
        if unstored.size:
            fewest = board.price[(unstored | np.stack(self.outs[first:end])).min(2)]
            ways = self.way_here[rows, 0] + fewest[:, : costs.shape[1], None]
            np.minimum(costs, ways, out=costs)
            ways = self.way_here[rows, 1] + fewest[:, 2, None, None]
            np.minimum(costs, ways, out=costs)
        np.minimum(costs, _NEVER, out=costs)

    def _pass_channel(self, at: int) -> None:
        """Drop what stands on another channel than a section requires, and look to the next."""
        channel, ahead = self.required[at], self.ahead[at + 1]
        if self.place == _OTHER:
            self.oldest = max(self.oldest, self.turn)
        if self.start.channel != channel:
            self.start_cost = _NEVER
        self.turn = at + 1
        self.place = _RIGHT if ahead is None or ahead == channel else _OTHER
        kept = self.settled[_RIGHT].copy()
        self.settled[:] = _NEVER
        self.settled[self.place] = kept

    def _settle(self, end: int) -> None:
        """Put those stretches together to which all loops that are yet required are known."""
        unseen = self.board.bits(self.open[end]) & ~self.seen[self.oldest : end]
        some: Array = np.any(unseen, axis=1)
        settled = int(some.argmax()) if some.any() else len(some)
        if settled:
            self._add_rows(self.settled, self.oldest, self.oldest + settled)
            self.oldest += settled

    def _add_rows(self, table: Array, first: int, end: int) -> None:
        """Lower a table, columns x banks, to what rows reach."""
        turn = min(max(self.turn, first), end)
        if first < turn:
            past = self.costs[first:turn, _RIGHT] + self.since[first:turn, None]
            np.minimum(table[self.place], past.min(0), out=table[self.place])
        if turn < end:
            new = self.costs[turn:end] + self.since[turn:end, None, None]
            np.minimum(table, new.min(0), out=table)

    def _add_start(self, end: int) -> None:
        ahead = self.ahead[end]
        column = _RIGHT if ahead is None or self.start.channel == ahead else _OTHER
        row = self.board.row_of[self.start.bank]
        self.cheapest[column, row] = min(self.cheapest[column, row], self.start_cost)

    def _choose(self, end: int) -> None:
        """Find the cheapest way to stand in each bank."""
        self.cheapest[:] = self.settled
        self._add_rows(self.cheapest, self.oldest, end)
        self._add_start(end)
        np.minimum(self.cheapest, _NEVER, out=self.cheapest)
        np.minimum(self.settled, _NEVER, out=self.settled)
