"""Typical sizes, for what nobody has measured yet. Every one gives way to the player's own figure.

Whatever is read from here is marked "typical" where it is shown.
"""

from __future__ import annotations

from typing import NamedTuple

from rigtui.model.base import Kind
from rigtui.model.layout import PlugShape

TREADLE = (100.0, 250.0)
COMPACT = (70.0, 120.0)
SIZES_MM: dict[Kind, tuple[float, float]] = {
    "wah": TREADLE,
    "volume": TREADLE,
    "preamp": (150.0, 120.0),
    "looper": (120.0, 120.0),
}
"""Width and depth of kinds that are not compact. Source: common practice."""
SWITCHER_DEPTH_MM = 100.0
SWITCHER_PITCH_MM = 20.0
"""Centre to centre of a switcher's jacks; they are as close as narrow plugs allow. Source: common
practice; no standard fixes it."""
SWITCHER_ENDS_MM = 30.0
"""From the last jack of the row to the end of the case."""
JACK_HEIGHT_MM = 50.0
"""From a jack on top down to the board."""
JACK_SIDES: dict[str, str] = {"in": "right", "out": "left"}
"""The signal goes from right to left. Source: common practice."""
JACK_FROM_FRONT = 0.6
"""How far back the jacks of a pedal are, as a share of its depth. Source: common practice."""


class PlugSize(NamedTuple):
    """The body of a plug, in millimetres."""

    width: float
    """Across the jack."""
    depth: float
    """How far it stands out."""
    strip: float
    """Jacket that comes off the cable."""


PLUGS_MM: dict[PlugShape, PlugSize] = {
    "flat": PlugSize(26, 14, 12),
    "narrow": PlugSize(15, 26, 14),
    "straight": PlugSize(15, 55, 20),
}
"""Source: common practice; from memory, to be measured."""
PLUG_NAMES: dict[PlugShape, str] = {
    "flat": "flat right-angle",
    "narrow": "narrow right-angle",
    "straight": "straight",
}


def size_of(kind: Kind) -> tuple[float, float]:
    """Width and depth of a pedal of a kind, in millimetres."""
    return SIZES_MM.get(kind, COMPACT)
