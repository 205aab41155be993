"""The first layout: all devices get a place, none on another, on the board where they fit."""

from __future__ import annotations

import pytest
from rigs_made import loop, make_rig, pedal, switcher

from rigtui.bench.first_layout import place_all
from rigtui.bench.layout import layout_of
from rigtui.bench.leads import leads_of
from rigtui.checks import check
from rigtui.model import Rig
from rigtui.model.edits import take_place

TROUBLE = {"devices-overlap", "over-the-edge", "jacks-off-device", "plug-no-room"}


def board(pedals: int, loops: int, width: float | None, depth: float | None) -> Rig:
    """Pedals in loops, the others outside, a wah among them."""
    ids = [f"p{at}" for at in range(pedals)]
    kinds = ["wah" if at == pedals - 1 else "overdrive" for at in range(pedals)]
    size = {} if width is None else {"width_mm": width, "depth_mm": depth}
    return make_rig(
        switcher=switcher(), pedals=[pedal(id, kind) for id, kind in zip(ids, kinds)],
        loops=[loop(at + 1, ids[at]) for at in range(loops)],
        chain={"front": [*ids[loops:], *range(1, loops + 1)]}, bench=size,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("pedals", "loops", "width", "depth"),
    [(7, 5, 700, 350), (14, 10, 900, 450), (14, 10, None, None), (4, 0, 500, 400)],
)
def test_everything_has_a_place_and_room(
    pedals: int, loops: int, width: float | None, depth: float | None
) -> None:
    """Nothing overlaps, hangs over, or lacks room for its plugs, and every lead finds a way."""
    rig = place_all(board(pedals, loops, width, depth))
    assert len(layout_of(rig).placed) == pedals + 1
    assert all(lead.length_mm for lead in leads_of(rig))
    assert not {finding.rule for finding in check(rig)} & TROUBLE


def test_a_board_that_is_too_small_says_so() -> None:
    """What has no room stands behind the board, on nothing else, and the rules tell."""
    rules = [finding.rule for finding in check(place_all(board(7, 5, 400, 200)))]
    assert "over-the-edge" in rules
    assert "devices-overlap" not in rules


def test_what_has_a_place_stays() -> None:
    """Only the device that was taken off comes back, into the room that is left."""
    rig = place_all(board(7, 5, 700, 350))
    again = place_all(take_place(rig, "p2"))
    assert {row.device: row for row in again.places} == {row.device: row for row in rig.places}
    assert place_all(again) == again


def test_a_device_that_reaches_far_back_leaves_no_room_behind_it() -> None:
    """No place lies so far back: what has no spot lies as far as may be, and the rules tell."""
    rig = make_rig(
        switcher=switcher(), pedals=[pedal("p0"), pedal("p1")], loops=[loop(1, "p0", "p1")],
        chain={"front": [1]}, bench={"width_mm": 70, "depth_mm": 70},
        places=[{"device": "p0"}, {"device": "p1", "y_mm": 4961, "depth_mm": 5000}],
    )  # fmt: skip
    placed = place_all(rig)
    assert len(layout_of(placed).placed) == 3
    assert "over-the-edge" in {finding.rule for finding in check(placed)}
