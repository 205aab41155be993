"""Whole patch leads, from jack to jack and from end to end, worked out by hand."""

from __future__ import annotations

from math import asin, atan2, hypot, pi, sin
from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, switcher

from rigtui.bench.leads import leads_of, unused_records
from rigtui.bench.needed import needed_edges
from rigtui.model import Rig


def two(right: float, *more: Any, bench: dict[str, Any] | None = None, **tables: Any) -> Rig:
    """Echo in the corner, drive to the right of it, both 70 x 120 mm: jacks 72 mm from the front.

    The signal goes from right to left: out of the drive's left side, into the echo's right.
    """
    places = [{"device": "echo"}, {"device": "drive", "x_mm": right}, *more]
    pedals = [pedal("drive", "overdrive"), pedal("echo", "delay"),
              *(pedal(place["device"]) for place in more)]  # fmt: skip
    front = ["drive", "echo"]
    return make_rig(
        pedals=pedals, chain={"front": front}, bench={"step_mm": 1, **(bench or {})},
        **{"places": places, **tables},
    )  # fmt: skip


def length(rig: Rig) -> float | None:
    """The length to cut of the lead from the drive to the echo."""
    (lead,) = (lead for lead in leads_of(rig) if lead.start.box == "drive")
    return lead.length_mm


def test_between_two_flat_plugs() -> None:
    """Cables leave flat plugs sideways: 10 straight, a quarter turn of 30, across, and back.

    The drive is at 200: jacks at 200 and 70 face each other. The cable leaves in the middle of each
    plug, 7 mm out: 116 mm apart. 10 + 47.12 + (116 - 60) + 47.12 + 10 = 170.25; 30 mm of slack
    make 200.25, cut at the next whole millimetre.
    """
    assert 2 * (10 + pi / 2 * 30) + 56 == pytest.approx(170.248, abs=1e-3)
    assert length(two(200)) == 201
    assert length(two(200, bench={"step_mm": 25})) == 225


def test_between_two_straight_plugs() -> None:
    """55 mm out of each jack, 20 mm apart, and the 20 mm inside each plug: 60, with slack 90."""
    assert length(two(200, bench={"shapes": ["straight"]})) == 90
    loops = {"shapes": ["straight"], "slack_mm": 0, "strain_loop_mm": 80}
    assert length(two(200, bench=loops)) == 140


def test_jacks_on_top() -> None:
    """Straight from jack to jack, 200 mm, and 50 down from each: 300, with slack 330."""
    top = {"side": "top", "at_mm": 35}
    places = [
        {"device": "echo", "jacks": [{"jack": "in", **top}]},
        {"device": "drive", "x_mm": 200, "jacks": [{"jack": "out", **top}]},
    ]
    assert length(two(200, places=places)) == 330


def test_round_a_pedal_that_stands_between() -> None:
    """Straight plugs at 445 and 125, a pedal of 100 mm in the middle: round its back.

    Its margin is 3 mm and half the cable: corners at 340.5 and 229.5, 125.5 from the front, 53.5
    further back than the jacks. Each leg: 10 straight, an arc to the tangent through the corner,
    the tangent. At each corner the arc is a little longer than its chord.
    """
    wall = {"device": "wall", "x_mm": 235, "width_mm": 100, "depth_mm": 120}
    away = hypot(94.5, 23.5)  # from the arc's centre, 30 back of where it begins
    tangent = (away**2 - 30**2) ** 0.5
    arc = 30 * (asin(30 / away) + atan2(23.5, 94.5))
    leg = 10 + arc + tangent
    turn = atan2(53.5, 104.5)
    whole = 2 * leg + 111 + 2 * 30 * (turn - 2 * sin(turn / 2)) + 2 * 20
    assert (arc, tangent, whole) == pytest.approx((16.71, 92.64, 389.96), abs=0.01)
    assert length(two(500, wall, bench={"shapes": ["straight"], "slack_mm": 31})) == 421


def test_under_the_board() -> None:
    """A wall from edge to edge, a hole on each side of it: twice the board's thickness is added.

    From 345 to 125 in one line, through holes at 300 and 180: 220 + 2 x 12 + 2 x 20 inside the
    plugs + 30 = 314.
    """
    wall = {"device": "wall", "x_mm": 200, "y_mm": -400, "width_mm": 50, "depth_mm": 1000}
    holes = [{"x_mm": 300, "y_mm": 72}, {"x_mm": 180, "y_mm": 72}]
    bench = {"shapes": ["straight"], "thickness_mm": 12, "width_mm": 600, "depth_mm": 300}
    assert length(two(400, wall, bench=bench, holes=holes)) == 314
    assert length(two(400, wall, bench=bench)) is not None  # only beyond the board's edge
    assert next(lead for lead in leads_of(two(400, wall, bench=bench))).over_the_edge


def test_tape_and_hand_come_before_the_layout() -> None:
    """A taped way gets the slack, a length set by hand nothing; of two records the first counts."""
    lead = {"out": "drive out", "into": "echo in"}
    assert length(two(200, patch_leads=[{**lead, "route_mm": 400}])) == 430
    assert length(two(200, patch_leads=[{**lead, "route_mm": 400, "length_mm": 500}])) == 500
    rig = two(200, patch_leads=[{**lead, "length_mm": 300}, {**lead, "length_mm": 500}])
    assert length(rig) == 300
    assert unused_records(two(200, patch_leads=[{"out": "echo out", "into": "drive in"}])) == (0,)


def test_leads_that_the_songs_need() -> None:
    """One in a loop that no section has in is not needed; without songs all are."""
    tables: dict[str, Any] = {
        "switcher": switcher(), "pedals": [pedal("tuner"), pedal("drive"), pedal("boost")],
        "loops": [loop(1, "drive"), loop(2, "boost")], "chain": {"front": ["tuner", 1, 2]},
    }  # fmt: skip
    assert [edge.number for edge in needed_edges(make_rig(**tables))] == [2, 3, 4, 5, 6]
    tables["presets"] = [{"id": "clean", "loops": [2]}]
    part = {"name": "All", "bars": 4, "preset": "clean"}
    tables["songs"] = [{"id": "low", "tempo": 100, "sections": [part]}]
    assert [edge.number for edge in needed_edges(make_rig(**tables))] == [2, 5, 6]
