"""How few presets some cubes need: the fewest colours of their graph of clashes.

Exact where the budget allows; otherwise what is proved and what was found, side by side.
"""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rigtui.plan.ask.control import Control
from rigtui.plan.ask.result import Stopped
from rigtui.plan.presets.cubes import (
    MOST_CLASHING,
    Columns,
    Cube,
    bits_of,
    channels_part,
    coloured,
    greedy_clique,
)

_CLIQUE_NODES = 20_000
_COLOUR_NODES = 20_000
_OFTEN = 128
_MOST_CLASSES = 512
"""Presets up to which very many cubes are gathered; no switcher has so many memories."""
_MOST_DEEP = 500
"""Cubes up to which the search goes, one call deeper for each."""


@dataclass(frozen=True, slots=True)
class Colours:
    """What is known of the fewest presets for some cubes."""

    least: int
    """Proved: no fewer will do."""
    classes: tuple[Cube, ...]
    """Presets that do: every cube holds one of them."""
    clique: tuple[Cube, ...]
    """Cubes of which no two can share a preset, as many as were found."""


def fewest_presets(
    kept: Sequence[Cube],
    cubes: Sequence[Cube],
    control: Control | None = None,
    room: int | None = None,
) -> Colours:
    """Find how few presets hold all cubes.

    Args:
        kept: Presets that there must be, each settled in every loop.
        cubes: What the sections want.
        control: Ends the search early; then `least` may be below the classes found.
        room: Only find whether so many are enough.
    """
    control = control or Control()
    every = _narrowest(list(dict.fromkeys([*kept, *cubes])), control)
    if not every:
        return Colours(0, (), ())
    if len(every) > MOST_CLASHING:
        return _roughly(every, control)
    rows = np.packbits(Columns(every).clashes(), axis=1, bitorder="little")
    graph = _Graph([int.from_bytes(row.tobytes(), "little") for row in rows], control)
    classes = graph.greedy()
    clique: list[int] = []
    if room is None or max(classes) >= room:
        clique = [every.index(cube) for cube in greedy_clique(every)]
        quick = coloured([], every, max(classes) + 1)
        if quick is not None and len(quick) <= max(classes):
            classes = [
                next(at for at, gathered in enumerate(quick) if gathered.within(cube))
                for cube in every
            ]
        if len(clique) <= (max(classes) if room is None else min(max(classes), room)):
            clique = graph.clique(clique, room)
    least = len(clique)
    goals = range(least, max(classes) + 1)
    for most in goals if room is None else [room] if room in goals else []:
        better = graph.colour(most, clique)
        if better is not None:
            classes = better
            break
        if not graph.finished:
            break
        least = most + 1
    return Colours(least, _gathered(every, classes), tuple(every[at] for at in clique))


def _roughly(cubes: list[Cube], control: Control) -> Colours:
    """What a quick look tells of more cubes than a table of all pairs is made for."""
    clique: list[Cube] = []
    classes = None
    with contextlib.suppress(Stopped):
        clique = greedy_clique(cubes, _MOST_CLASSES, control.stop_if_over)
        classes = coloured([], cubes, _MOST_CLASSES, control.stop_if_over)
    return Colours(max(1, len(clique)), tuple(classes or cubes), tuple(clique))


def _narrowest(cubes: list[Cube], control: Control) -> list[Cube]:
    """Leave out every cube that a narrower one is within: any preset for that one will do."""
    table = Columns(cubes)
    kept: list[Cube] = []
    for at, cube in enumerate(cubes):
        if at % _OFTEN == 0 and control.over:
            return [*kept, *cubes[at:]]
        on, off = table.on & cube.on == cube.on, table.off & cube.off == cube.off
        same = (table.channel >= cube.channel) & ~channels_part(table.channel, cube.channel)
        inner = on & off & same
        inner[at] = False
        if not inner.any():
            kept.append(cube)
    return kept


def _gathered(cubes: Sequence[Cube], classes: Sequence[int]) -> tuple[Cube, ...]:
    met: dict[int, Cube] = {}
    for cube, at in zip(cubes, classes):
        met[at] = met[at].met(cube) if at in met else cube
    return tuple(met[at] for at in sorted(met))


class _Graph:
    """Clashes as bits; searches that give up after so many steps."""

    def __init__(self, near: Sequence[int], control: Control) -> None:
        self.near, self.control = near, control
        self.size = len(near)
        self.left = 0
        self.finished = True

    def _step(self) -> bool:
        """Whether the budget allows one more step."""
        self.left -= 1
        late = self.left % _OFTEN == 0 and self.control.over
        if self.left < 0 or late:
            self.finished = False
        return self.finished

    def greedy(self) -> list[int]:
        """Colour the one with the fewest ways to go, over and over; where time is up, the next.

        Source: D. Brelaz, "New Methods to Color the Vertices of a Graph", CACM 22 (1979).
        """
        colour, barred = [-1] * self.size, [0] * self.size
        late = False
        for nth in range(self.size):
            late = late or (nth % _OFTEN == 0 and self.control.over)
            at = colour.index(-1) if late else self._most_barred(colour, barred)
            self._give(at, _lowest_free(barred[at]), colour, barred)
        return colour

    def _most_barred(self, colour: Sequence[int], barred: Sequence[int]) -> int:
        open_ = [at for at in range(self.size) if colour[at] < 0]
        return max(open_, key=lambda at: (barred[at].bit_count(), self.near[at].bit_count()))

    def _give(self, at: int, to: int, colour: list[int], barred: list[int]) -> list[int]:
        """Colour one; return those that lost that colour by it."""
        colour[at] = to
        lost = []
        for other in bits_of(self.near[at]):
            if not barred[other] >> to & 1:
                barred[other] |= 1 << to
                lost.append(other)
        return lost

    def clique(self, known: list[int], enough: int | None = None) -> list[int]:
        """A largest clique, no smaller than the one found, as far as the budget goes.

        The search ends with the first that has more than `enough`.

        Branch and bound with greedy colour classes as the bound. Source: E. Tomita and
        T. Kameda, "An efficient branch-and-bound algorithm for finding a maximum clique", J.
        Global Optimization 37 (2007).
        """
        self.left, self.finished = _CLIQUE_NODES, True
        best = list(known)

        def grow(chosen: list[int], open_: int) -> None:
            nonlocal best
            if len(chosen) > len(best):
                best = list(chosen)
            order = self._classed(open_)
            for at, bound in reversed(order):
                found_enough = enough is not None and len(best) > enough
                if found_enough or len(chosen) + bound <= len(best) or not self._step():
                    return
                grow([*chosen, at], open_ & self.near[at])
                open_ &= ~(1 << at)

        grow([], (1 << self.size) - 1)
        return best

    def _classed(self, open_: int) -> list[tuple[int, int]]:
        """Members of a set, each with how many classes of strangers hold it and those before."""
        order, number = [], 0
        while open_:
            number += 1
            here = open_
            while here:
                low = here & -here
                at = low.bit_length() - 1
                order.append((at, number))
                open_ ^= low
                here &= ~(low | self.near[at])
        return order

    def colour(self, most: int, clique: Sequence[int]) -> list[int] | None:
        """Colour with so many colours; None where that is impossible or the budget is spent."""
        self.left, self.finished = _COLOUR_NODES, self.size - len(clique) <= _MOST_DEEP
        if not self.finished:
            return None
        colour, barred = [-1] * self.size, [0] * self.size
        for nth, at in enumerate(clique):
            self._give(at, nth, colour, barred)

        def down(left: int, used: int) -> bool:
            if not left:
                return True
            if not self._step():
                return False
            at = self._most_barred(colour, barred)
            for to in range(min(used + 1, most)):
                if barred[at] >> to & 1:
                    continue
                lost = self._give(at, to, colour, barred)
                if down(left - 1, max(used, to + 1)):
                    return True
                colour[at] = -1
                for other in lost:
                    barred[other] &= ~(1 << to)
            return False

        return colour if down(self.size - len(clique), len(clique)) else None


def _lowest_free(barred: int) -> int:
    return (~barred & (barred + 1)).bit_length() - 1
