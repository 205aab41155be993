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
    (x, y), (to_x, to_y) = start, end
    left, front, right, back = box
    left, front, right, back = left + TOUCH, front + TOUCH, right - TOUCH, back - TOUCH
    if (
        (x <= left and to_x <= left)
        or (x >= right and to_x >= right)
        or (y <= front and to_y <= front)
        or (y >= back and to_y >= back)
    ):
        return False  # nearly all pairs end here
    near, far = 0.0, 1.0
    for here, step, low, high in ((x, to_x - x, left, right), (y, to_y - y, front, back)):
        if abs(step) < 1e-12:
            if not low < here < high:
                return False
            continue
        first, last = (low - here) / step, (high - here) / step
        if first > last:
            first, last = last, first
        near, far = max(near, first), min(far, last)
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
    corners: list[Point] = []
    out: list[tuple[int, int]] = []
    """Of each corner, in which direction it sticks out."""
    for box in boxes:
        for x, to_x in ((box.left, -1), (box.right, 1)):
            for y, to_y in ((box.front, -1), (box.back, 1)):
                corner = Point(x, y)
                if not any(other.holds(corner) for other in boxes) and (
                    within is None or not _outside(corner, within)
                ):
                    corners.append(corner)
                    out.append((to_x, to_y))
    nodes = [start, end, *holes, *corners]
    last_hole = 1 + len(holes)
    sticks = [(0, 0)] * (last_hole + 1) + out
    best = [inf] * len(nodes)
    came: list[tuple[int, bool]] = [(0, False)] * len(nodes)
    best[0] = 0.0
    queue = [(dist(start, end), 0)]
    left = dict.fromkeys(range(len(nodes)))
    first_tried = list(boxes)
    """The box that was in the way last comes first: it is likely to be so again."""
    while queue:
        _, here = heapq.heappop(queue)
        if here not in left:
            continue
        del left[here]
        if here == 1:
            return _traced(nodes, came, best[1])
        at = nodes[here]
        for there in left:
            node = nodes[there]
            length, below = best[here] + dist(at, node), False
            if length >= best[there]:
                continue
            both_holes = 2 <= here <= last_hole and 2 <= there <= last_hole
            if not both_holes and (
                _slack(sticks[here], at, node) or _slack(sticks[there], node, at)
            ):
                continue
            for place, box in enumerate(first_tried):
                if crosses(at, node, box):
                    if place:
                        first_tried[0], first_tried[place] = box, first_tried[0]
                    below = True
                    break
            if below:
                length += 2 * thickness
                if not both_holes or length >= best[there]:
                    continue
            best[there], came[there] = length, (here, below)
            heapq.heappush(queue, (length + dist(node, end), there))
    return None


def _slack(sticks_out: tuple[int, int], corner: Point, other: Point) -> bool:
    """Whether a piece meets a corner from where a taut cable never comes: from in front of it.

    A shortest way bends round a corner, so both its pieces there pass along the box.
    """
    x, y = sticks_out
    return (other.x - corner.x) * x > 0 and (other.y - corner.y) * y > 0


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
