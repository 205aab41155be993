"""The shortest way for a cable over the board: round devices, and through holes under it.

Source: a shortest way round polygons bends only at their corners, so it is a shortest path in the
visibility graph (de Berg et al., "Computational Geometry", 3rd ed., chapter 15). Only the devices
that are in the way are looked at: the way round some of them is never longer than the way round
all, so as soon as it meets no other device it is the shortest.
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from math import dist, inf
from typing import NamedTuple

from rigtui.bench.layout import TOUCH, Outline, Point


class Way(NamedTuple):
    """A way for a cable."""

    points: tuple[Point, ...]
    """Where it begins, bends and ends."""
    length: float
    """In millimetres, corners taken sharply, with the board's thickness at each hole."""
    under: frozenset[int]
    """Places of the pieces that run under the board: piece 0 goes from point 0 to point 1."""


def crosses(start: Point, end: Point, box: Outline) -> bool:
    """Whether a straight piece goes through the inside of a rectangle; its edge may be touched.

    Source: clipping of lines by Liang and Barsky (1984).
    """
    near, far = 0.0, 1.0
    for here, step, low, high in (
        (start.x, end.x - start.x, box.left + TOUCH, box.right - TOUCH),
        (start.y, end.y - start.y, box.front + TOUCH, box.back - TOUCH),
    ):
        if abs(step) < 1e-12:
            if not low < here < high:
                return False
            continue
        first, last = (low - here) / step, (high - here) / step
        near, far = max(near, min(first, last)), min(far, max(first, last))
        if near >= far:
            return False
    return True


def shortest_way(
    start: Point,
    end: Point,
    boxes: Sequence[Outline],
    holes: Sequence[Point] = (),
    thickness: float = 0.0,
    within: Outline | None = None,
) -> Way | None:
    """Return the shortest way between two points; None if there is none.

    Args:
        start: Where it begins, in no box.
        end: Where it ends, in no box.
        boxes: What it must go round, each with its margin.
        holes: Holes in the board; under it nothing is in the way.
        thickness: Of the board, in millimetres.
        within: The way bends nowhere outside this rectangle.
    """
    free = tuple(hole for hole in holes if not any(box.holds(hole) for box in boxes))
    active: list[Outline] = []
    while True:
        way = _round(start, end, active, free, thickness, within)
        if way is None:
            return None
        met = [
            box
            for box in boxes
            if box not in active
            and any(
                at not in way.under and crosses(way.points[at], way.points[at + 1], box)
                for at in range(len(way.points) - 1)
            )
        ]
        if not met:
            return way
        active += met


def _round(
    start: Point,
    end: Point,
    boxes: list[Outline],
    holes: tuple[Point, ...],
    thickness: float,
    within: Outline | None,
) -> Way | None:
    """The shortest way round some boxes: Dijkstra's search, guided by the distance left (A*)."""
    corners = [
        Point(x, y)
        for box in boxes
        for x in (box.left, box.right)
        for y in (box.front, box.back)
        if not any(other.holds(Point(x, y)) for other in boxes)
        and (within is None or not _outside(Point(x, y), within))
    ]
    nodes = [start, end, *holes, *corners]
    is_hole = range(2, 2 + len(holes))
    best = [inf] * len(nodes)
    came: list[tuple[int, bool]] = [(0, False)] * len(nodes)
    best[0] = 0.0
    queue = [(dist(start, end), 0)]
    done = [False] * len(nodes)
    while queue:
        _, here = heapq.heappop(queue)
        if done[here]:
            continue
        done[here] = True
        if here == 1:
            return _traced(nodes, came, best[1])
        for there, node in enumerate(nodes):
            if done[there]:
                continue
            length, below = best[here] + dist(nodes[here], node), False
            if length >= best[there]:
                continue
            if any(crosses(nodes[here], node, box) for box in boxes):
                length, below = length + 2 * thickness, True
                if not (here in is_hole and there in is_hole) or length >= best[there]:
                    continue
            best[there], came[there] = length, (here, below)
            heapq.heappush(queue, (length + dist(node, end), there))
    return None


def _outside(point: Point, within: Outline) -> bool:
    return not within.grown(2 * TOUCH).holds(point)


def _traced(nodes: list[Point], came: list[tuple[int, bool]], length: float) -> Way:
    order, under, here = [1], [], 1
    while here:
        here, below = came[here]
        order.append(here)
        under.append(below)
    points = tuple(nodes[at] for at in reversed(order))
    return Way(points, length, frozenset(at for at, below in enumerate(reversed(under)) if below))
