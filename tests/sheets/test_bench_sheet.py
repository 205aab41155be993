"""The bench on the wiring sheet: the plan to scale, leads with boxes, cuts with marks, labels."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, switcher

from rigtui.model import Rig
from rigtui.paper.content import BOX, Sheet, Table
from rigtui.paper.layout_picture import layout_picture
from rigtui.paper.wiring import wiring_sheet
from rigtui.sheets.make import render

DAY = date(2027, 3, 5)


def rig_of(**tables: Any) -> Rig:
    """A drive in a loop; by hand and tape its two leads are 250 and 300 mm."""
    leads = [
        {"out": "Switcher send 1", "into": "drive in", "route_mm": 220, "tip": "closed",
         "sleeve": "open"},
        {"out": "drive out", "into": "Switcher return 1", "length_mm": 300},
    ]  # fmt: skip
    return make_rig(
        switcher=switcher(4, 4), pedals=[pedal("drive", name="Drive <b>")],
        loops=[loop(1, "drive")], chain={"front": [1]},
        **{"patch_leads": leads, **tables},
    )  # fmt: skip


def text_of(sheet: Sheet) -> str:
    """The sheet as plain text, its lines put together."""
    return " ".join(render(sheet, "text").content.decode().split())


def rows_of(sheet: Sheet) -> dict[str, tuple[tuple[str, ...], ...]]:
    """The rows of each table of the sheet, by what it holds."""
    blocks = [block for part in sheet.parts for block in part.blocks]
    return {block.caption: block.rows for block in blocks if isinstance(block, Table)}


def test_a_rig_without_a_bench_has_none_on_its_sheet() -> None:
    """Its sheet, and the revision of one that is printed, stay as they were."""
    titles = [part.title for part in wiring_sheet(rig_of(patch_leads=[]), None, DAY).parts]
    assert "Cutting list" not in titles
    assert "Labels for both ends" not in titles


def test_cuts_are_marked_from_the_end_of_the_cable() -> None:
    """10 mm of trim, 300, a cut of 1, then 250: marks at 10, 310 and 561; 38 mm are left.

    590 mm less 2 cuts of 1 mm and 550 mm.
    """
    rig = rig_of(reels=[{"name": "short end", "left_mm": 600}], bench={"kerf_mm": 1})
    text = text_of(wiring_sheet(rig, None, DAY))
    assert "[ ] short end, 600 mm trim 10 10" in text
    assert "[ ] lead 3 300 310 [ ] lead 2 250 561 rest, waste 38" in text


def test_tests_labels_and_caution() -> None:
    """What is recorded stands there, the rest is a box; both ends have a label."""
    sheet = wiring_sheet(rig_of(), None, DAY)
    text, rows = text_of(sheet), rows_of(sheet)
    assert rows["Patch leads"] == (
        ("2", "Switcher send 1", "Drive <b> in", "250", "narrow", "flat", "ok", "OPEN!", BOX),
        ("3", "Drive <b> out", "Switcher return 1", "300", "flat", "narrow", BOX, BOX, BOX),
    )
    assert rows["Labels"] == (
        ("2 Switcher send 1", "2 Drive <b> in", "3 Drive <b> out", "3 Switcher return 1"),
    )
    assert "You have no cable for: 3 (300 mm), 2 (250 mm); 550 mm in all." in text
    assert text.index("BEFORE you solder") < text.index("do not breathe the fumes")


def test_the_plan_is_to_scale() -> None:
    """Board and device keep their shape and their place; a jack stands on its device's edge."""
    places = [{"device": "drive", "x_mm": 100, "y_mm": 50, "width_mm": 80, "depth_mm": 100}]
    rig = rig_of(places=places, bench={"width_mm": 400, "depth_mm": 200})
    picture = layout_picture(rig)
    assert picture is not None
    board, device, *jacks = picture.drawing.frames
    scale = board.width / 400
    assert board.height == pytest.approx(200 * scale)
    assert (device.width, device.height) == pytest.approx((80 * scale, 100 * scale))
    assert device.x - board.x == pytest.approx(100 * scale)
    assert board.y + board.height - device.y - device.height == pytest.approx(50 * scale)
    assert {jack.x + jack.width / 2 for jack in jacks} == {device.x, device.x + device.width}
    assert "The board is 400 x 200 mm." in " ".join(picture.lines)
    assert layout_picture(rig_of()) is None


@pytest.mark.parametrize("format", ["text", "md", "html", "pdf"])
def test_every_format_takes_it(format: str) -> None:
    """The same parts in each, and a name is never markup."""
    places = [{"device": "drive", "y_mm": 200}, {"device": "Switcher", "turn": 180}]
    sheet = wiring_sheet(rig_of(places=places, reels=[{"left_mm": 9000}]), None, DAY)
    content = render(sheet, format).content
    assert len(content) > 1500
    if format == "html":
        assert b"Drive <b>" not in content
        assert b"<svg" in content
