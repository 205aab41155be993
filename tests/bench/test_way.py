"""The shortest way of a cable, by hand and against networkx on the whole visibility graph."""

from __future__ import annotations

import random
from itertools import combinations, pairwise
from math import dist, hypot

import networkx as nx
import pytest

from rigtui.bench.layout import Outline, Point
from rigtui.bench.way import Ground, crosses

BOX = Outline(100, 0, 200, 100)


def test_nothing_in_the_way() -> None:
    """A straight line."""
    way = Ground(()).shortest(Point(0, 0), Point(30, 40))
    assert way is not None
    assert (way.points, way.length) == ((Point(0, 0), Point(30, 40)), 50)


def test_round_one_box() -> None:
    """Round the nearer two corners: 50 up the left, 100 along the back, worked out by hand."""
    way = Ground((BOX,)).shortest(Point(50, 80), Point(250, 80))
    assert way is not None
    assert way.points == (Point(50, 80), Point(100, 100), Point(200, 100), Point(250, 80))
    assert way.length == pytest.approx(2 * hypot(50, 20) + 100)


def test_through_a_narrow_gap_and_none() -> None:
    """Cables run along edges that only touch a gap; where boxes overlap they must go round."""
    other = Outline(100, 100, 200, 300)
    way = Ground((BOX, other)).shortest(Point(0, 100), Point(300, 100))
    assert way is not None
    assert way.length == pytest.approx(300)
    way = Ground((BOX, other._replace(front=90))).shortest(Point(0, 100), Point(300, 100))
    assert way is not None
    assert way.length == pytest.approx(2 * hypot(100, 100) + 100)


def test_under_the_board() -> None:
    """Two holes lead under a device: the board's thickness is added twice."""
    wall = Outline(100, -1000, 200, 1000)
    holes = (Point(90, 0), Point(210, 0))
    way = Ground((wall,), holes, 10).shortest(Point(0, 0), Point(300, 0))
    assert way is not None
    assert (way.length, way.under) == (320, {1})


def test_not_beyond_the_edge() -> None:
    """A way that would bend outside the board is none."""
    wall = Outline(100, -1000, 200, 1000)
    ends = (Point(0, 0), Point(300, 0))
    assert Ground((wall,)).shortest(*ends, Outline(0, -50, 300, 50)) is None


def goes_in(a: Point, b: Point, box: Outline) -> bool:
    """Whether a piece enters the inside: by cutting it at the four edges and trying the middles.

    Written apart from the program, which clips by Liang and Barsky.
    """
    cuts = {0.0, 1.0}
    for start, end, edges in ((a.x, b.x, (box.left, box.right)), (a.y, b.y, (box.front, box.back))):
        cuts |= {(edge - start) / (end - start) for edge in edges if abs(end - start) > 1e-9}
    inside = sorted(cut for cut in cuts if 0 <= cut <= 1)
    for one, two in pairwise(inside):
        at = (one + two) / 2
        middle = Point(a.x + at * (b.x - a.x), a.y + at * (b.y - a.y))
        if two - one > 1e-9 and box.grown(-1e-6).holds(middle):
            return True
    return False


def by_networkx(start: Point, end: Point, boxes: list[Outline]) -> float:
    """The whole visibility graph, and Dijkstra's search of networkx."""
    corners = {Point(x, y) for b in boxes for x in (b.left, b.right) for y in (b.front, b.back)}
    graph = nx.Graph()
    graph.add_nodes_from([start, end])
    for a, b in combinations([start, end, *sorted(corners - {start, end})], 2):
        if not any(goes_in(a, b, box) for box in boxes):
            graph.add_edge(a, b, weight=dist(a, b))
    try:
        return float(nx.dijkstra_path_length(graph, start, end))
    except nx.NetworkXNoPath:
        return float("inf")


def random_board(seed: int) -> tuple[Point, Point, list[Outline]]:
    """A board of 3 to 12 devices, of which some overlap, and two points outside them."""
    drawn = random.Random(seed)
    boxes = []
    for _ in range(drawn.randint(3, 12)):
        x, y = drawn.randrange(0, 700, 10), drawn.randrange(0, 350, 10)
        boxes.append(
            Outline(x, y, x + drawn.randrange(40, 260, 10), y + drawn.randrange(40, 160, 10))
        )
    free = [
        point
        for point in (Point(drawn.uniform(0, 900), drawn.uniform(0, 500)) for _ in range(400))
        if not any(box.holds(point) for box in boxes)
    ]
    return free[0], free[1], boxes


@pytest.mark.parametrize("seed", range(200))
def test_as_long_as_networkx_finds_it(seed: int) -> None:
    """On random boards the way has the length that an independent search finds.

    Source: networkx, `dijkstra_path_length`, on the visibility graph.
    """
    start, end, boxes = random_board(seed)
    ground = Ground(boxes)
    way = ground.shortest(start, end)
    back = ground.shortest(end, start)  # what was worked out for the first serves the second
    wanted = by_networkx(start, end, boxes)
    if way is None:
        assert wanted == float("inf")
        assert back is None
        return
    assert back is not None
    assert back.length == pytest.approx(wanted, abs=1e-6)
    assert way.length == pytest.approx(wanted, abs=1e-6)
    assert sum(map(dist, way.points, way.points[1:])) == pytest.approx(way.length)
    assert not any(goes_in(a, b, box) for a, b in pairwise(way.points) for box in boxes)


def test_an_edge_may_be_touched() -> None:
    """Along an edge and past a corner is not through the device."""
    assert not crosses(Point(0, 100), Point(300, 100), BOX)
    assert not crosses(Point(100, 200), Point(300, 0), BOX)
    assert crosses(Point(0, 99), Point(300, 99), BOX)
