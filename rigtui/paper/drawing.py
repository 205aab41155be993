"""A picture before anybody decides how it is drawn: boxes, strokes and labels, one for all formats.

Measures are points, from the upper left corner, down and to the right.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, pi, sin


@dataclass(frozen=True, slots=True)
class Frame:
    """The outline of a rectangle."""

    x: float
    y: float
    width: float
    height: float
    pen: float = 0.5
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line, from point to point."""

    x: float
    y: float
    to_x: float
    to_y: float
    width: float = 0.5
    dashed: bool = False


_SIDES = 24
"""A ring is drawn with so many straight strokes: every format has those."""


def ring(x: float, y: float, radius: float, width: float = 0.8) -> tuple[Stroke, ...]:
    """A circle about a point."""
    turns = (2 * pi * at / _SIDES for at in range(_SIDES + 1))
    points = [(x + radius * cos(turn), y + radius * sin(turn)) for turn in turns]
    return tuple(Stroke(*start, *end, width) for start, end in pairwise(points))


@dataclass(frozen=True, slots=True)
class Label:
    """Some words in one line, about a point or from it on."""

    x: float
    base: float
    """The baseline."""
    text: str
    size: float
    room: float
    """How wide it may be; wider words are drawn narrower."""
    bold: bool = False
    middle: bool = True
    """Whether `x` is its middle and not its start."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes on a ground of a size."""

    width: float
    height: float
    frames: tuple[Frame, ...]
    strokes: tuple[Stroke, ...]
    labels: tuple[Label, ...]
    cuts: tuple[float, ...] = ()
    """Heights at which it may go on on another page."""

    def bands(self) -> Iterator[Drawing]:
        """Cut it at all its cuts; each band is measured from its own upper edge."""
        for top, bottom in pairwise((0.0, *self.cuts, self.height)):
            yield Drawing(
                self.width,
                bottom - top,
                tuple(
                    replace(frame, y=frame.y - top)
                    for frame in self.frames
                    if top <= frame.y < bottom
                ),
                tuple(
                    replace(stroke, y=stroke.y - top, to_y=stroke.to_y - top)
                    for stroke in self.strokes
                    if top <= stroke.y < bottom
                ),
                tuple(
                    replace(label, base=label.base - top)
                    for label in self.labels
                    if top <= label.base < bottom
                ),
            )
