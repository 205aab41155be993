"""Devices as they lie on the board: their outlines, their jacks, and what is in each other's way.

Measures are millimetres from the board's front left corner: x to the right, y away from the player.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigtui.bench.typical import (
    JACK_FROM_FRONT,
    JACK_SIDES,
    SWITCHER_DEPTH_MM,
    SWITCHER_ENDS_MM,
    SWITCHER_PITCH_MM,
    size_of,
)
from rigtui.chain import graph_of
from rigtui.chain.graph import SWITCHER
from rigtui.model import Rig
from rigtui.model.layout import JackSpot, Place
from rigtui.model.lookup import lookup
from rigtui.model.remembered import Remembered

TOUCH = 1e-6
"""Outlines that only touch, or share less than that, do not overlap."""
_FACES = {"left": (-1, 0), "right": (1, 0), "front": (0, -1), "back": (0, 1), "top": (0, 0)}


class Point(NamedTuple):
    """A point of the board."""

    x: float
    y: float


class Outline(NamedTuple):
    """A rectangle."""

    left: float
    front: float
    right: float
    back: float

    def grown(self, by: float) -> Outline:
        """The rectangle with a margin all round."""
        return Outline(self.left - by, self.front - by, self.right + by, self.back + by)

    def shared(self, other: Outline) -> tuple[float, float]:
        """How wide and how deep what the two share is; below 0 where they are apart."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        return wide, min(self.back, other.back) - max(self.front, other.front)

    def overlaps(self, other: Outline) -> bool:
        """Whether the two share more than an edge."""
        return min(self.shared(other)) > TOUCH

    def holds(self, point: Point) -> bool:
        """Whether a point is inside, not on the edge."""
        return (
            self.left + TOUCH < point.x < self.right - TOUCH
            and self.front + TOUCH < point.y < self.back - TOUCH
        )


class JackPlace(NamedTuple):
    """Where a jack is on its device, and on the board where the device has a place."""

    side: str
    """The side it faces while the device is not turned."""
    along: float
    """How far along that side it is."""
    at: Point
    faces: Point
    """One step in the direction it faces; (0, 0) where it is on top."""


class Device(NamedTuple):
    """A pedal or the switcher with its jacks."""

    name: str
    """A pedal's id, or "Switcher"."""
    width: float
    depth: float
    typical: bool
    """Whether its size is the typical one of its kind."""
    place: Place | None
    outline: Outline
    """As it lies; of a device without a place as if it lay in the corner."""
    jacks: dict[str, JackPlace]


class Layout:
    """All devices of a rig, and where they lie."""

    def __init__(self, rig: Rig) -> None:
        self.bench = rig.bench
        places = {place.device: place for place in reversed(rig.places)}
        names = [pedal.id for pedal in rig.pedals if pedal.used != "home"]
        if rig.switcher is not None or rig.loops:
            names.append(SWITCHER)
        self.devices: dict[str, Device] = {
            name: _device(rig, name, places.get(name)) for name in names
        }
        self.placed = tuple(device for device in self.devices.values() if device.place)
        self.board: Outline | None = None
        if rig.bench.width_mm and rig.bench.depth_mm:
            self.board = Outline(0, 0, rig.bench.width_mm, rig.bench.depth_mm)
        self.holes = tuple(Point(hole.x_mm, hole.y_mm) for hole in rig.holes)

    def overlaps(self) -> Iterator[tuple[Device, Device]]:
        """Pairs of devices that lie on one another."""
        in_order = sorted(self.placed, key=lambda device: device.outline.left)
        for at, device in enumerate(in_order):
            for other in in_order[at + 1 :]:
                if other.outline.left >= device.outline.right:
                    break
                if device.outline.overlaps(other.outline):
                    yield device, other

    def overhanging(self) -> Iterator[tuple[Device, float]]:
        """Devices that stand over the edge of the board, and by how much."""
        board = self.board
        for device in self.placed if board else ():
            assert board is not None
            lies = device.outline
            over = max(board.left - lies.left, lies.right - board.right,
                       board.front - lies.front, lies.back - board.back)  # fmt: skip
            if over > TOUCH:
                yield device, over

    def rows_too_long(self) -> Iterator[tuple[Device, JackPlace]]:
        """Devices with a jack beyond the end of its side."""
        for device in self.devices.values():
            for jack in device.jacks.values():
                if not -TOUCH <= jack.along <= _length(jack.side, device.width, device.depth):
                    yield device, jack
                    break


def _length(side: str, width: float, depth: float) -> float:
    return (depth if side in ("left", "right") else width) + TOUCH


def _device(rig: Rig, name: str, place: Place | None) -> Device:
    used = list(dict.fromkeys(
        jack.name for lead in graph_of(rig).leads for jack in (lead.start, lead.end)
        if jack.box == name
    ))  # fmt: skip
    if name == SWITCHER:
        row = switcher_row(rig)
        row += [jack for jack in used if jack not in row]
        pitch = (place.pitch_mm if place else None) or SWITCHER_PITCH_MM
        usual = (max(1, len(row) - 1) * pitch + 2 * SWITCHER_ENDS_MM, SWITCHER_DEPTH_MM)
    else:
        row, pitch = [], 0.0
        usual = size_of(lookup(rig).pedals[name].kind)
    width = (place.width_mm if place else None) or usual[0]
    depth = (place.depth_mm if place else None) or usual[1]
    spots = _row_spots(row, pitch, place.row if place else "back", width, depth)
    if name != SWITCHER:
        spots = {
            jack: (JACK_SIDES.get(jack, "back"), depth * JACK_FROM_FRONT) for jack in ("in", "out")
        }
    for spot in place.jacks if place else ():
        spots[spot.jack] = (spot.side, _along(spot, width, depth))
    lies = _outline(place, width, depth)
    jacks = {
        jack: _jack(side, along, place, width, depth, lies) for jack, (side, along) in spots.items()
    }
    known = place is not None and place.width_mm is not None and place.depth_mm is not None
    return Device(name, width, depth, not known, place, lies, jacks)


def switcher_row(rig: Rig) -> list[str]:
    """The switcher's jacks in the order of the row, from the guitar's end on.

    For each side its input, a send and a return for each loop, and its output; then the jack for
    a tuner. Source: common practice.
    """
    row: list[str] = []
    for side in ("front", "fx"):
        numbers = sorted(loop.number for loop in rig.loops if loop.side == side)
        if numbers:
            row.append(f"{side} input")
            row += [jack for n in numbers for jack in (f"send {n}", f"return {n}")]
            row.append(f"{side} output")
    if rig.switcher is not None and rig.switcher.tuner_out:
        row.append("tuner out")
    return row


def _row_spots(
    row: list[str], pitch: float, side: str, width: float, depth: float
) -> dict[str, tuple[str, float]]:
    """A row in the middle of its side, from right to left, or from the back to the front."""
    first = (_length(side, width, depth) + (len(row) - 1) * pitch) / 2
    return {jack: (side, first - at * pitch) for at, jack in enumerate(row)}


def _along(spot: JackSpot, width: float, depth: float) -> float:
    return _length(spot.side, width, depth) / 2 if spot.at_mm is None else spot.at_mm


def _outline(place: Place | None, width: float, depth: float) -> Outline:
    x, y = (place.x_mm, place.y_mm) if place else (0.0, 0.0)
    if place and place.turn in (90, 270):
        width, depth = depth, width
    return Outline(x, y, x + width, y + depth)


def _jack(
    side: str, along: float, place: Place | None, width: float, depth: float, lies: Outline
) -> JackPlace:
    local = {
        "left": Point(0, along),
        "right": Point(width, along),
        "front": Point(along, 0),
        "back": Point(along, depth),
        "top": Point(along, depth / 2),
    }[side]
    faces = Point(*_FACES[side])
    for _ in range((place.turn if place else 0) // 90):
        # a quarter to the right, seen from above: what was left is at the back now
        local, faces = Point(local.y, width - local.x), Point(faces.y, -faces.x)
        width, depth = depth, width
    return JackPlace(side, along, Point(lies.left + local.x, lies.front + local.y), faces)


_layouts: Remembered[Layout] = Remembered()


def layout_of(rig: Rig) -> Layout:
    """Return the layout of a rig, the very same one while its tables are the same objects."""
    parts = (rig.switcher, rig.pedals, rig.loops, rig.chain, rig.bench, rig.places, rig.holes)
    return _layouts.get(parts, lambda: Layout(rig))


__all__ = ["Device", "JackPlace", "Layout", "Outline", "Point", "layout_of"]
