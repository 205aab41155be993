"""Choose the plug for each end of each patch lead: the favourite among those with room.

Room is looked for along the row of jacks (half of each body and the clearance to the next plug),
behind the device (what stands there), and where plugs of two devices face each other.
Source: common practice; sizes are the player's own or typical.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from rigtui.bench.layout import Device, JackPlace, Layout, Outline, Point
from rigtui.bench.typical import PLUGS_MM, PlugSize
from rigtui.chain.graph import Jack
from rigtui.model import Rig
from rigtui.model.layout import PlugShape


class PlugEnd(NamedTuple):
    """The plug on one end of a lead."""

    shape: PlugShape
    trouble: str = ""
    """Id of the device that it has no room beside; empty where it fits."""
    beside: str = ""
    """Name of that device's or this one's jack, where it is a plug that is in the way."""
    would_fit: PlugShape | None = None
    """A shape that fits there though the player does not use it."""


def plug_sizes(rig: Rig) -> dict[PlugShape, PlugSize]:
    """Sizes of all shapes, the player's own where measured."""
    own = {row.shape: row for row in reversed(rig.plugs)}
    sizes = {}
    for shape, usual in PLUGS_MM.items():
        row = own.get(shape)
        sizes[shape] = usual if row is None else PlugSize(
            row.width_mm or usual.width, row.depth_mm or usual.depth, row.strip_mm or usual.strip
        )  # fmt: skip
    return sizes


def choose_plugs(rig: Rig, layout: Layout, used: Iterable[Jack]) -> dict[Jack, PlugEnd]:
    """Choose a plug for each jack that a patch lead goes into, in the order given."""
    chooser = _Chooser(rig, layout, tuple(used))
    for jack in chooser.used:
        chooser.choose(jack)
    return chooser.chosen


class _Chooser:
    def __init__(self, rig: Rig, layout: Layout, used: tuple[Jack, ...]) -> None:
        self.used = tuple(dict.fromkeys(used))
        self.layout = layout
        self.sizes = plug_sizes(rig)
        self.clearance = rig.bench.clearance_mm
        self.liked = rig.bench.shapes or tuple(PLUGS_MM)
        self.chosen: dict[Jack, PlugEnd] = {}
        self.bodies: dict[Jack, Outline] = {}
        self._rows: dict[tuple[str, str], list[tuple[float, Jack]]] = {}
        for jack in self.used:
            place = self._place(jack)
            if place:
                self._rows.setdefault((jack.box, place.side), []).append((place.along, jack))

    def _place(self, jack: Jack) -> JackPlace | None:
        device = self.layout.devices.get(jack.box)
        return device.jacks.get(jack.name) if device else None

    def choose(self, jack: Jack) -> None:
        place = self._place(jack)
        if place is None:
            self.chosen[jack] = PlugEnd(self.liked[0])
            return
        trouble: tuple[str, str] = ("", "")
        for shape in self.liked:
            obstacle = self._in_the_way(jack, place, shape)
            if obstacle is None:
                self._take(jack, place, PlugEnd(shape))
                return
            trouble = trouble if trouble[0] else obstacle
        others = (shape for shape in PLUGS_MM if shape not in self.liked)
        fits = next((s for s in others if self._in_the_way(jack, place, s) is None), None)
        self._take(jack, place, PlugEnd(self.liked[0], *trouble, fits))

    def _take(self, jack: Jack, place: JackPlace, end: PlugEnd) -> None:
        self.chosen[jack] = end
        if self.layout.devices[jack.box].place is not None:
            self.bodies[jack] = body(place, self.sizes[end.shape])

    def _in_the_way(self, jack: Jack, place: JackPlace, shape: PlugShape) -> tuple[str, str] | None:
        """What leaves a plug no room: a device, and its jack where it is a plug."""
        width = self.sizes[shape].width
        for along, other in self._rows[jack.box, place.side]:
            if other != jack and abs(along - place.along) < width + self.clearance - 1e-9:
                return jack.box, other.name
        if self.layout.devices[jack.box].place is None:
            return None
        taken = body(place, self.sizes[shape])
        for device in self._near(taken):
            if device.name != jack.box and device.outline.overlaps(taken):
                return device.name, ""
        for other, outline in self.bodies.items():
            if other.box != jack.box and outline.overlaps(taken):
                return other.box, other.name
        return None

    def _near(self, taken: Outline) -> Iterator[Device]:
        for device in self.layout.placed:
            if device.outline.right > taken.left and device.outline.left < taken.right:
                yield device


def body(place: JackPlace, size: PlugSize) -> Outline:
    """The room that a plug takes, seen from above; upright on a jack on top."""
    (x, y), (to_x, to_y), half = place.at, place.faces, size.width / 2
    if not (to_x or to_y):
        return Outline(x - half, y - half, x + half, y + half)
    far_x, far_y = x + to_x * size.depth, y + to_y * size.depth
    side_x, side_y = half * abs(to_y), half * abs(to_x)
    return Outline(
        min(x, far_x) - side_x, min(y, far_y) - side_y,
        max(x, far_x) + side_x, max(y, far_y) + side_y,
    )  # fmt: skip


def leaving(place: JackPlace, shape: PlugShape, size: PlugSize, least: float) -> Point:
    """Where the cable leaves a plug.

    Args:
        place: The jack.
        shape: The plug's shape.
        size: Its size.
        least: How far from the device that is at the least.
    """
    out = size.depth if shape == "straight" else size.depth / 2
    out = max(out, least) if place.faces != (0, 0) else 0.0
    return Point(place.at.x + place.faces.x * out, place.at.y + place.faces.y * out)


def directions(place: JackPlace, shape: PlugShape) -> tuple[Point, ...]:
    """Directions in which the cable can leave a plug; none where it is free to turn."""
    x, y = place.faces
    if not (x or y):
        return ()
    return (place.faces,) if shape == "straight" else (Point(y, -x), Point(-y, x))
