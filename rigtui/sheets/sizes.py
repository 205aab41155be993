"""How large type has to be for its reading distance, and how large paper is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.model.text import number_text

if TYPE_CHECKING:
    from rigtui.paper import Sheet

Paper = Literal["a4", "letter"]

POINTS_IN_MM = 72 / 25.4
"""A point is 1/72 of an inch."""
CAPITALS_IN_DISTANCE = 200
"""Capitals are a two-hundredth of the reading distance high (common practice)."""
CAP_HEIGHT = 1493 / 2048
"""Height of a capital in DejaVu Sans as a share of the type size (its OS/2 table)."""
PAPERS: dict[Paper, tuple[float, float]] = {
    "a4": (210 * POINTS_IN_MM, 297 * POINTS_IN_MM),
    "letter": (8.5 * 72, 11 * 72),
}
"""Width and height in points. Source: ISO 216; ANSI/ASME Y14.1, size A."""
NEAREST_M, FARTHEST_M = 0.3, 4.0
"""Reading distances that a sheet can be laid out for."""
SMALLEST_UNDER, UNDER = 9.0, 0.42
"""Type of the details under big type: points at the least, and share of the big type."""
DENSE_SMALL = 0.72
"""Type of the hands as a share of that of the feet, where a sheet is set close."""
PLAIN_POINTS = 10.0
"""Type of what is not big on a sheet that has big type."""


@dataclass(frozen=True, slots=True)
class Type:
    """Type sizes of a sheet, in points."""

    distance_m: float
    big: float
    under: float
    body: float
    has_big: bool
    small: float = 0.0
    """Of what hands do, where the sheet is set close; 0 where it is not."""

    @property
    def statement(self) -> str:
        """What the sheet says of its type."""
        size = self.big if self.has_big else self.body
        what = "big type" if self.has_big else "type"
        return (
            f"{what} {size:.1f} pt, capitals {size * CAP_HEIGHT / POINTS_IN_MM:.1f} "
            f"mm, readable from {number_text(round(self.distance_m, 2))} m" + self._small
        )

    @property
    def _small(self) -> str:
        if not self.small:
            return ""
        far = self.distance_m * self.small / self.body
        return f"; hands {self.small:.1f} pt, from {number_text(round(far, 2))} m"


def type_for(sheet: Sheet, distance_m: float | None = None) -> Type:
    """Choose type sizes.

    Args:
        sheet: The sheet.
        distance_m: Reading distance in metres; None for what is usual for such a sheet.
    """
    far = SHEET_KINDS[sheet.kind].distance_m if distance_m is None else distance_m
    size = far * 1000 / CAPITALS_IN_DISTANCE * POINTS_IN_MM / CAP_HEIGHT
    if not sheet.big:
        dense = any(part.dense for part in sheet.parts)
        return Type(far, size, size, size, False, size * DENSE_SMALL * dense)
    return Type(far, size, max(SMALLEST_UNDER, size * UNDER), PLAIN_POINTS, True)
