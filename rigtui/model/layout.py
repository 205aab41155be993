"""The bench's data: the board, where each device stands, cable, plugs, patch leads made.

All of it is optional. Measures are millimetres. The board is seen from above with the player in
front of it: x counts from its left edge to the right, y from its front edge away from the player.
"""

from __future__ import annotations

from datetime import date as Date
from typing import Annotated, Any, Literal

from pydantic import Field, Strict

from rigtui.model.base import Many, Number, RigTable, Text, Whole

JackSide = Literal["left", "right", "front", "back", "top"]
PlugShape = Literal["flat", "narrow", "straight"]
Turn = Literal[0, 90, 180, 270]
Contact = Literal["closed", "open"]
SWITCHER_DEVICE = "Switcher"
"""With a capital, which no pedal's id can have."""


def _mm(default: float | None, description: str, most: float = 5000, least: float = 0) -> Any:
    return Field(default, ge=least, le=most, description=description)


Size = Annotated[Number, Field(gt=0, le=5000)]
FURTHEST_MM = 10_000
"""No place lies further to the right or to the back than this."""
Where = Annotated[Number, Field(ge=-5000, le=FURTHEST_MM)]
Minutes = Annotated[Number, Field(ge=0, le=600)]


class Bench(RigTable):
    """The board to build on, the cable, and your own pace."""

    width_mm: Size | None = Field(None, description="Width of the board.")
    depth_mm: Size | None = Field(None, description="Depth of the board, front to back.")
    thickness_mm: Number = _mm(10, "Thickness of the board, where leads go through a hole.", 200)
    cable_mm: Annotated[Number, Field(gt=0, le=20)] = Field(
        5, description="Outer diameter of the patch cable: measure yours."
    )
    bend_diameters: Annotated[Number, Field(ge=1, le=40)] = Field(
        6, description="Tightest bend, as a radius in cable diameters."
    )
    straight_mm: Number = _mm(10, "Cable that runs straight out of a plug before it bends.", 200)
    clearance_mm: Number = _mm(3, "Room between cable and devices, and between two plugs.", 100)
    slack_mm: Number = _mm(30, "Slack for each patch lead.", 1000)
    strain_loop_mm: Number = _mm(0, "Extra length for strain relief.", 1000)
    step_mm: Annotated[Number, Field(gt=0, le=1000)] = Field(
        10, description="Lengths are rounded up to a multiple of this."
    )
    kerf_mm: Number = _mm(0, "What each cut takes away: 0 for cable cutters, more for a saw.", 20)
    trim_mm: Number = _mm(10, "What you cut off the end of a reel or offcut first.", 1000)
    keep_mm: Number = _mm(150, "A rest at least this long is kept; a shorter one is waste.")
    shapes: Many[PlugShape] = Field(
        ("flat", "narrow", "straight"),
        description="The plugs you use, your favourite first.",
    )
    cut_minutes: Minutes = Field(0.5, description="Minutes to measure and cut a lead.")
    strip_minutes: Minutes = Field(1, description="Minutes to strip and tin an end.")
    solder_minutes: Minutes = Field(2, description="Minutes to solder a plug and close it.")
    test_minutes: Minutes = Field(1, description="Minutes to test and label a lead.")


class JackSpot(RigTable):
    """Where one jack of a device is."""

    jack: Text = Field(description='The name that leads use: "in", "send 3".', examples=["in"])
    side: JackSide = Field(
        description="The side the jack faces while the device is not turned.", examples=["right"]
    )
    at_mm: Annotated[Number, Field(ge=0, le=5000)] | None = Field(
        None,
        description="How far along that side: from the left on front, back and top, from the "
        "front on left and right. In the middle if left out.",
    )


class Place(RigTable):
    """Where a device stands on the board."""

    device: Text = Field(description='A pedal\'s id, or "Switcher".', examples=["wah"])
    x_mm: Where = Field(0, description="From the board's left edge to the device's left side.")
    y_mm: Where = Field(0, description="From the board's front edge to the device's front.")
    width_mm: Size | None = Field(
        None, description="Width of the device; typical of its kind if left out."
    )
    depth_mm: Size | None = Field(
        None, description="Depth of the device; typical of its kind if left out."
    )
    turn: Turn = Field(0, description="Degrees that the device is turned to the right.")
    row: JackSide = Field("back", description="The side with the switcher's row of jacks.")
    pitch_mm: Annotated[Number, Field(gt=0, le=500)] | None = Field(
        None, description="From the centre of one jack in that row to the next."
    )
    jacks: Many[JackSpot] = Field(
        (), description="Where the device's jacks are; typical if left out."
    )


class Hole(RigTable):
    """A hole in the board that leads can go through."""

    x_mm: Where = Field(0, description="From the board's left edge to the middle of the hole.")
    y_mm: Where = Field(0, description="From the board's front edge to the middle of the hole.")


class PlugKind(RigTable):
    """A shape of plug as you have measured it, and how many there are."""

    shape: PlugShape = Field(
        description="Flat round right-angle, narrow right-angle, or straight.", examples=["flat"]
    )
    width_mm: Size | None = Field(None, description="Width of the plug's body across the jack.")
    depth_mm: Size | None = Field(None, description="How far the plug stands out of the jack.")
    strip_mm: Size | None = Field(
        None, description="How much jacket you strip off the cable for this plug."
    )
    have: Annotated[Whole, Field(ge=0, le=10_000)] = Field(
        0, description="How many you have already."
    )


class Reel(RigTable):
    """Cable at hand: a reel or an offcut."""

    left_mm: Annotated[Number, Field(gt=0, le=1_000_000)] = Field(
        description="Millimetres of cable.", examples=[10_000]
    )
    name: Text = Field("", description="What you call this reel or offcut.")
    count: Annotated[Whole, Field(ge=1, le=1000)] = Field(
        1, description="How many you have of this length."
    )


class PatchLead(RigTable):
    """What is known of one patch lead: measured, made, tested."""

    out: Text = Field(
        description='The jack where the signal comes out: "Switcher send 1", "wah out".',
        examples=["wah out"],
    )
    into: Text = Field(
        description='The jack where the signal goes in: "wah in", "Switcher return 1".',
        examples=["Switcher return 1"],
    )
    route_mm: Size | None = Field(
        None, description="The way from jack to jack as the cable lies, measured with a tape."
    )
    length_mm: Size | None = Field(None, description="Length set by hand; nothing is added.")
    tip: Contact | None = Field(None, description="Tip to tip: should be closed.")
    sleeve: Contact | None = Field(None, description="Sleeve to sleeve: should be closed.")
    across: Contact | None = Field(None, description="Tip to sleeve: should be open.")
    ohms: Annotated[Number, Field(ge=0, le=10_000_000)] | None = Field(
        None, description="Tip to tip, if measured, less what the meter's own leads read."
    )
    date: Annotated[Date, Strict()] | None = Field(None, description="The day you tested it.")
