"""How long a cable is along a path, if it bends no tighter than a radius.

Sources: a shortest way between two directions is an arc, a straight piece and an arc (L. E.
Dubins, "On curves of minimal length...", 1957; of his words those with a straight piece). Round a
corner the way swings out until the arc touches it; that adds the arc less its chord, radius x
(angle - 2 sin (angle / 2)), by plane geometry.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, asin, atan2, cos, dist, hypot, pi, sin, sqrt, tau

from rigtui.bench.layout import Point

NO_WAY = Point(0, 0)
"""Of a plug from which the cable may leave in any direction."""


def laid_length(
    points: Sequence[Point],
    leaves: Sequence[Point],
    arrives: Sequence[Point],
    radius: float,
    straight: float = 0.0,
) -> float:
    """Return the length of a cable along a way, in millimetres.

    Args:
        points: Where the way begins, bends and ends.
        leaves: Directions in which the cable can leave the first plug; none if in any.
        arrives: The same at the last plug, seen from that plug.
        radius: The tightest bend.
        straight: Cable that runs straight out of a plug before it bends.
    """
    first, last = leaves or (NO_WAY,), arrives or (NO_WAY,)
    if len(points) == 2:
        return min(
            _between(points[0], a, points[1], b, radius, straight) for a in first for b in last
        )
    ends = min(_leg(points[0], a, points[1], radius, straight) for a in first)
    ends += min(_leg(points[-1], b, points[-2], radius, straight) for b in last)
    middle = sum(dist(points[at], points[at + 1]) for at in range(1, len(points) - 2))
    return (
        ends
        + middle
        + sum(swing(_angle(*points[at : at + 3]), radius) for at in range(len(points) - 2))
    )


def swing(angle: float, radius: float) -> float:
    """What a bend of an angle, in radians, adds round a corner: the arc less its chord."""
    return radius * (angle - 2 * sin(angle / 2))


def _angle(before: Point, corner: Point, after: Point) -> float:
    into = atan2(corner.y - before.y, corner.x - before.x)
    out = atan2(after.y - corner.y, after.x - corner.x)
    return abs((out - into + pi) % tau - pi)


def _leg(start: Point, out: Point, to: Point, radius: float, straight: float) -> float:
    """From a plug to a point: straight out, an arc, and straight on."""
    if out == NO_WAY:
        return dist(start, to)
    begin = Point(start.x + out.x * straight, start.y + out.y * straight)
    return straight + min(_arc_and_tangent(begin, out, to, radius, side) for side in (1, -1))


def _arc_and_tangent(start: Point, out: Point, to: Point, radius: float, side: int) -> float:
    """An arc to the left (1) or right (-1), then straight; endless where the point is inside it."""
    centre = Point(start.x - side * radius * out.y, start.y + side * radius * out.x)
    away = dist(centre, to)
    if away < radius * (1 - 1e-12):
        return float("inf")
    tangent = sqrt(max(0.0, away * away - radius * radius))
    leaves = atan2(to.y - centre.y, to.x - centre.x) - side * acos(min(1.0, radius / away))
    begins = atan2(start.y - centre.y, start.x - centre.x)
    return radius * _turned(side * (leaves - begins)) + tangent


def _turned(angle: float) -> float:
    """An angle from 0 to under a whole turn; a whisker under a turn is none."""
    turned = angle % tau
    return 0.0 if turned > tau - 1e-9 else turned


def _between(
    start: Point, out: Point, end: Point, back: Point, radius: float, straight: float
) -> float:
    """From plug to plug with nothing between them."""
    if out == NO_WAY or back == NO_WAY:
        return (
            _leg(end, back, start, radius, straight)
            if out == NO_WAY
            else _leg(start, out, end, radius, straight)
        )
    a = Point(start.x + out.x * straight, start.y + out.y * straight)
    b = Point(end.x + back.x * straight, end.y + back.y * straight)
    here, there = atan2(out.y, out.x), atan2(-back.y, -back.x)
    words = (_word(a, here, b, there, radius, first, last) for first in (1, -1) for last in (1, -1))
    return 2 * straight + min(words)


def _word(
    a: Point, here: float, b: Point, there: float, radius: float, first: int, last: int
) -> float:
    """Arc, straight piece, arc; 1 turns left, -1 right. Endless where there is no such way."""
    centre_a = Point(a.x - first * radius * sin(here), a.y + first * radius * cos(here))
    centre_b = Point(b.x - last * radius * sin(there), b.y + last * radius * cos(there))
    gap = hypot(centre_b.x - centre_a.x, centre_b.y - centre_a.y)
    line = atan2(centre_b.y - centre_a.y, centre_b.x - centre_a.x)
    if first == last:
        straight, heading = gap, line if gap > 1e-12 else there
    else:
        if gap < 2 * radius * (1 - 1e-12):
            return float("inf")
        straight = sqrt(max(0.0, gap * gap - 4 * radius * radius))
        heading = line + first * asin(min(1.0, 2 * radius / gap))
    arcs = _turned(first * (heading - here)) + _turned(last * (there - heading))
    return radius * arcs + straight
