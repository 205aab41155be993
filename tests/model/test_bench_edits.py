"""Edits at the bench: what is placed, measured and tested goes with what it is about."""

from __future__ import annotations

from datetime import date

import pytest
from rigs_made import loop, make_rig, pedal, switcher

from rigtui.checks.consequences import consequences
from rigtui.model import EditError, Rig, rig_to_data
from rigtui.model.edits import (
    delete_pedal,
    renumber_loop,
    set_patch_lead,
    set_place,
    shift_place,
    take_place,
    turn_place,
)


def board() -> Rig:
    """Two pedals in loops, both placed; a lead of each is tested."""
    good = {"tip": "closed", "sleeve": "closed", "across": "open", "date": date(2027, 3, 5)}
    return make_rig(
        switcher=switcher(), pedals=[pedal("drive", name="Drive"), pedal("boost")],
        loops=[loop(1, "drive"), loop(2, "boost")], chain={"front": [1, 2]},
        places=[
            {"device": "drive", "x_mm": 10}, {"device": "boost", "x_mm": 200},
            {"device": "Switcher", "jacks": [{"jack": "send 1", "side": "left"}]},
        ],
        patch_leads=[
            {"out": "Switcher send 1", "into": "drive in", **good},
            {"out": "drive out", "into": "Switcher return 1", "route_mm": 250},
            {"out": "Switcher send 2", "into": "boost in", **good},
        ],
    )  # fmt: skip


def test_a_deleted_pedal_takes_its_place_and_its_leads_along() -> None:
    """Its rows go, the others stay the same objects, and the question before it names them."""
    old = board()
    new = delete_pedal(old, "drive")
    assert [row.device for row in new.places] == ["boost", "Switcher"]
    assert new.patch_leads == old.patch_leads[2:]
    lines = consequences(old, lambda rig: delete_pedal(rig, "drive")).lines()
    assert "its place on the board goes with it" in lines
    assert "length and test of 2 patch leads go with it" in lines
    assert delete_pedal(make_rig(pedals=[pedal("drive")]), "drive").places == ()


def test_records_follow_a_loop_to_its_new_number() -> None:
    """The lead stays the one that was tested; two loops swap numbers, and so do their jacks."""
    new = renumber_loop(board(), 1, 2)
    assert [(row.out, row.into) for row in new.patch_leads] == [
        ("Switcher send 2", "drive in"), ("drive out", "Switcher return 2"),
        ("Switcher send 1", "boost in"),
    ]  # fmt: skip
    assert new.places[2].jacks[0].jack == "send 2"
    assert renumber_loop(new, 1, 2) == board()


def test_a_device_is_placed_moved_turned_and_taken_off() -> None:
    """Four turns are none, and what is a default is not written."""
    rig = make_rig(pedals=[pedal("drive")])
    with pytest.raises(EditError, match="no place"):
        shift_place(rig, "drive", 10, 0)
    rig = shift_place(set_place(rig, "drive", x_mm=50), "drive", 10, -5)
    assert rig_to_data(rig)["places"] == [{"device": "drive", "x_mm": 60, "y_mm": -5}]
    turned = rig
    for degrees in (90, 180, 270, 0):
        turned = turn_place(turned, "drive")
        assert turned.places[0].turn == degrees
    assert turned == rig
    with pytest.raises(EditError, match="x_mm"):
        shift_place(rig, "drive", 99_999, 0)
    assert take_place(rig, "drive").places == ()


def test_a_lead_of_which_nothing_is_known_leaves_no_row() -> None:
    """Its row comes with the first thing that is known, and goes with the last."""
    rig = set_patch_lead(make_rig(), "drive out", "echo in", route_mm=200)
    assert len(rig.patch_leads) == 1
    assert set_patch_lead(rig, "drive out", "echo in", route_mm=None).patch_leads == ()
    assert set_patch_lead(make_rig(), "drive out", "echo in", tip=None).patch_leads == ()
