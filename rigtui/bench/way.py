"""The shortest path for a cable over the board: round devices, and through holes under it.

Source: a shortest way round polygons bends only at their corners, so it is a shortest path in the
visibility graph (de Berg et al., "Computational Geometry", 3rd ed., chapter 15). All leads of a
board share one such graph, of which only what some way comes near is worked out.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from math import dist
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


class Ground:
    """Boxes to go round and holes to go through; what is in sight of what is looked at once."""

    def __init__(
        self, boxes: Sequence[Outline], holes: Sequence[Point] = (), thickness: float = 0.0
    ) -> None:
        """Take what is on the board.

        Args:
            boxes: What a way must go round, each with its margin.
            holes: Holes in the board; under it nothing is in the way.
            thickness: Of the board, in millimetres.
        """
        self._boxes = list(boxes)
        self._thickness = thickness
        free = [hole for hole in holes if not any(box.holds(hole) for box in boxes)]
        self._holes = len(free)
        self._points = free
        self._sticks: list[tuple[int, int]] = [(0, 0)] * len(free)
        """Of each corner, in which direction it sticks out of its box."""
        for box in boxes:
            for x, to_x in ((box.left, -1), (box.right, 1)):
                for y, to_y in ((box.front, -1), (box.back, 1)):
                    corner = Point(x, y)
                    if not any(other.holds(corner) for other in boxes):
                        self._points.append(corner)
                        self._sticks.append((to_x, to_y))
        self._seen: dict[int, list[tuple[int, float, bool]]] = {}

    def shortest(self, start: Point, end: Point, within: Outline | None = None) -> Way | None:
        """Return the shortest way between two points in no box; None if there is none.

        Dijkstra's search, guided by the distance left (A*). What is in sight of either end is
        looked at only when the search comes to it.

        Args:
            start: Where it begins.
            end: Where it ends.
            within: The way bends nowhere outside this rectangle.
        """
        points, sticks = self._points, self._sticks
        came: dict[int, tuple[int, bool]] = {}
        straight = dist(start, end)
        queue = [(straight, straight, _END, _START, False, False)]
        for at, point in enumerate(points):
            if self._allowed(at, within) and not _slack(sticks[at], point, start):
                length = dist(start, point)
                queue.append((length + dist(point, end), length, at, _START, False, False))
        heapq.heapify(queue)
        while queue:
            _, length, here, before, below, looked = heapq.heappop(queue)
            if here in came:
                continue
            if not looked:
                first = start if before == _START else points[before]
                last = end if here == _END else points[here]
                if self._blocked(first, last):
                    continue
            came[here] = (before, below)
            if here == _END:
                return self._traced(start, end, came, length)
            for there, more, under in self._in_sight(here):
                if there not in came and self._allowed(there, within):
                    whole = length + more
                    ahead = whole + dist(points[there], end)
                    heapq.heappush(queue, (ahead, whole, there, here, under, True))
            if not _slack(sticks[here], points[here], end):
                whole = length + dist(points[here], end)
                heapq.heappush(queue, (whole, whole, _END, here, False, False))
        return None

    def _allowed(self, at: int, within: Outline | None) -> bool:
        return within is None or at < self._holes or not _outside(self._points[at], within)

    def _in_sight(self, at: int) -> list[tuple[int, float, bool]]:
        """Where a taut cable goes on to: corner or hole, length, whether under the board."""
        if at not in self._seen:
            self._seen[at] = [*self._look_round(at)]
        return self._seen[at]

    def _look_round(self, at: int) -> Iterator[tuple[int, float, bool]]:
        here = self._points[at]
        for there, point in enumerate(self._points):
            if there == at:
                continue
            both_holes = at < self._holes and there < self._holes
            if _slack(self._sticks[at], here, point) or _slack(self._sticks[there], point, here):
                continue
            if not self._blocked(here, point):
                yield there, dist(here, point), False
            elif both_holes:
                yield there, dist(here, point) + 2 * self._thickness, True

    def _blocked(self, start: Point, end: Point) -> bool:
        boxes = self._boxes
        for place, box in enumerate(boxes):
            if crosses(start, end, box):
                if place:  # it is likely to be in the way again: it comes first the next time
                    boxes[0], boxes[place] = box, boxes[0]
                return True
        return False

    def _traced(
        self, start: Point, end: Point, came: dict[int, tuple[int, bool]], length: float
    ) -> Way:
        order, under, here = [end], [], _END
        while here != _START:
            here, below = came[here]
            order.append(start if here == _START else self._points[here])
            under.append(below)
        pieces = frozenset(at for at, below in enumerate(reversed(under)) if below)
        return Way(tuple(reversed(order)), length, pieces)


_START, _END = -1, -2


def _slack(sticks_out: tuple[int, int], corner: Point, other: Point) -> bool:
    """Whether a piece meets a corner from where a taut cable never comes: from in front of it.

    A shortest way bends round a corner, so both its pieces there pass along the box.
    """
    x, y = sticks_out
    return (other.x - corner.x) * x > 0 and (other.y - corner.y) * y > 0


def _outside(point: Point, within: Outline) -> bool:
    return not within.grown(2 * TOUCH).holds(point)
