"""The Wiring screen: a layout made by keys and mouse, lengths taped, leads tested, cable cut."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, pedal, preset, section, song, switcher
from screens import LARGE, SMALL, app_of, burst, checked, on_screen, shown
from textual.pilot import Pilot

from rigtui.model.rig import Rig
from rigtui.tui.app import RigApp
from rigtui.tui.views.wiring.board_plan import BoardPlan
from rigtui.tui.views.wiring.view import WiringView
from rigtui.tui.widgets.grid import Grid

RIG: dict[str, Any] = {
    "switcher": switcher(memories=4, bank_size=4),
    "pedals": [pedal("drive", "overdrive", name="Drive [x]"), pedal("boost", name="Boost")],
    "loops": [loop(1, "drive"), loop(2, "boost")],
    "chain": {"front": [1, 2]},
    "presets": [preset("dirt", 1, 2, memory=1)],
    "songs": [song("low", section("dirt"))],
}
PLACES = [
    {"device": "Switcher"}, {"device": "drive", "x_mm": 300, "y_mm": 200},
    {"device": "boost", "x_mm": 100, "y_mm": 200},
]  # fmt: skip


def rig_of(app: RigApp) -> Rig:
    """The rig as it is now."""
    assert app.document is not None
    return app.document.rig


def place_of(app: RigApp, device: str) -> tuple[float, float, int]:
    """Where a device stands, and its turn."""
    place = next(place for place in rig_of(app).places if place.device == device)
    return place.x_mm, place.y_mm, place.turn


async def pressed(pilot: Pilot[Any], *keys: str) -> None:
    """Press keys and wait until what they asked for is done."""
    await burst(pilot, *keys)
    await pilot.pause()


@pytest.mark.parametrize("size", [SMALL, (60, 20), (40, 8)])
async def test_a_rig_without_a_layout_says_what_to_do_first(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    """One key then places all devices, in one step of undo, and all lengths are known."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, size) as pilot:
        await pressed(pilot, "6")
        if size != (40, 8):
            text = " ".join(shown(app).split())
            assert "Nothing has a place on the board yet." in text
            assert "m asks for the length of each lead" in text
        await pressed(pilot, "p")
        assert {place.device for place in rig_of(app).places} == {"Switcher", "drive", "boost"}
        view = app.query_one(WiringView)
        assert all(lead.how == "layout" for lead in view._leads)
        await checked(pilot)
        assert not [f for f in view.findings if f.rule in ("devices-overlap", "over-the-edge")]
        await pressed(pilot, "u")
        assert rig_of(app).places == ()


async def test_a_device_is_chosen_moved_and_turned_by_keys(tmp_path: Path) -> None:
    """Arrows choose, shift moves by 10 mm, space turns; each is one step that undo takes back."""
    app = app_of(tmp_path, **RIG, places=PLACES)
    async with on_screen(app, SMALL) as pilot:
        await pressed(pilot, "6")
        plan = app.query_one(BoardPlan)
        await pressed(pilot, "down")
        assert plan.here == "Switcher"
        await pressed(pilot, "up", "right")
        assert plan.here == "drive"
        assert "70 x 120 mm (typical); 300 mm from the left, 200 from the front" in shown(app)
        await pressed(pilot, "shift+right", "K")
        assert place_of(app, "drive") == (310, 210, 0)
        await pressed(pilot, "space")
        assert place_of(app, "drive") == (310, 210, 90)
        await pressed(pilot, "u", "u")
        assert place_of(app, "drive") == (310, 200, 0)
        await pressed(pilot, "h")
        assert plan.here == "boost"
        await pressed(pilot, "x")
        assert "boost" not in {place.device for place in rig_of(app).places}
        assert "not on the board: p places it" in shown(app)


async def test_a_device_follows_the_mouse(tmp_path: Path) -> None:
    """Dragging is one step however far; a click chooses, the right button turns."""
    app = app_of(tmp_path, **RIG, places=PLACES)
    async with on_screen(app, SMALL) as pilot:
        await pressed(pilot, "6")
        plan = app.query_one(BoardPlan)
        scale = plan._plan.scale  # type: ignore[union-attr]
        column, line = scale.column(335), scale.line(260)
        await pilot.mouse_down(BoardPlan, offset=(column, line))
        assert plan.here == "drive"
        for to in (2, 4, 6):
            await pilot.hover(BoardPlan, offset=(column + to, line - 1))
        await pilot.mouse_up(BoardPlan, offset=(column + 6, line - 1))
        await pilot.pause()
        x, y, _ = place_of(app, "drive")
        assert x == pytest.approx(300 + 6 * scale.column_mm, abs=2.5)
        assert y == pytest.approx(200 + scale.line_mm, abs=2.5)
        await pressed(pilot, "u")
        assert place_of(app, "drive") == (300, 200, 0)
        await pilot.click(BoardPlan, offset=(column, line), button=3)
        await pilot.pause()
        assert place_of(app, "drive") == (300, 200, 90)


async def test_overlaps_are_marked_in_the_plan_and_told(tmp_path: Path) -> None:
    """Where two devices overlap stands #, and both say so."""
    near = [PLACES[0], PLACES[1], {"device": "boost", "x_mm": 330, "y_mm": 240}]
    app = app_of(tmp_path, **RIG, places=near)
    async with on_screen(app, SMALL) as pilot:
        await pressed(pilot, "6", "]")
        await checked(pilot)
        assert "##" in shown(app)
        assert "error: Drive [x] and Boost overlap by 40 x 80 mm" in shown(app)


async def test_an_overlap_is_told_of_a_name_that_is_not_shown_as_it_is(tmp_path: Path) -> None:
    """Both devices say it, whatever characters are in their names."""
    near = [PLACES[0], PLACES[1], {"device": "boost", "x_mm": 330, "y_mm": 240}]
    pedals = [pedal("drive", "overdrive", name="Dr\u202eive"), pedal("boost", name="Boost")]
    app = app_of(tmp_path, **{**RIG, "pedals": pedals}, places=near)
    async with on_screen(app, SMALL) as pilot:
        await pressed(pilot, "6")
        await checked(pilot)
        for device in ("drive", "boost"):
            app.query_one(BoardPlan).choose(device)
            await pilot.pause()
            assert "ive and Boost overlap by 40 x 80 mm" in shown(app)


async def test_lengths_are_taped_one_after_the_other(tmp_path: Path) -> None:
    """In millimetres, centimetres or inches; what is none is said, an empty line skips."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pressed(pilot, "6", "m", "type: 250", "enter")
        assert "slack is added to it" in shown(app)
        await pressed(pilot, "type: 25.5 cm", "enter", "type: x", "enter")
        assert '"x" is not a length' in shown(app)
        await pressed(pilot, "backspace", "enter", "type: 10 in", "enter")
        rows = {row.out: row.route_mm for row in rig_of(app).patch_leads}
        assert rows == {"Switcher send 1": 250, "drive out": 255, "boost out": 254}
        assert len(app.screen_stack) == 1
        await pressed(pilot, "u")
        assert len(rig_of(app).patch_leads) == 2


async def test_one_key_a_result_at_the_bench(tmp_path: Path) -> None:
    """Three keys a lead, its date stored; a lead that fails says at once why."""
    app = app_of(tmp_path, **RIG, places=PLACES)
    async with on_screen(app, SMALL) as pilot:
        await pressed(pilot, "6", "t")
        assert "LEAD 2:  Switcher send 1 to Drive [x] in" in shown(app)
        await pressed(pilot, "c", "c", "o")
        assert "Lead 2 passed" in shown(app)
        await pressed(pilot, "c", "o", "backspace", "c", "c")
        assert "Lead 3 FAILED: tip to sleeve is closed: a short" in shown(app)
        await pressed(pilot, "m", "type: 0.2", "enter", "escape")
        first, second, third = rig_of(app).patch_leads
        assert (first.tip, first.sleeve, first.across, first.date) == (
            "closed", "closed", "open", date.today()
        )  # fmt: skip
        assert (second.sleeve, second.across, third.ohms) == ("closed", "closed", 0.2)
        await pressed(pilot, "tab")
        assert "1 passed" in shown(app)
        assert "FAILED" in shown(app)
        await pressed(pilot, "t")  # those that passed are not asked for again
        assert "1 of 3 leads" in shown(app)


async def test_cable_plugs_and_the_cutting_list(tmp_path: Path) -> None:
    """Without cable it says what is missing; a reel is typed in, and the cuts come off it."""
    app = app_of(tmp_path, **RIG, places=PLACES)
    async with on_screen(app, (80, 50)) as pilot:
        await pressed(pilot, "6", "tab", "tab")
        assert "You have no cable" in shown(app)
        await pressed(pilot, "a", "type: 5000", "enter")
        text = shown(app)
        assert "[ ] cable 1, 5000 mm:" in text
        assert "BEFORE you solder" in text.replace("\n", " ").replace("          ", " ") or (
            "BEFORE" in text
        )
        assert "do not breathe the fumes" in " ".join(text.split())
        grid = app.query_one("#wiring-cuts", Grid)
        view = app.query_one(WiringView)
        at = next(n for n, row in enumerate(view._cuts) if row is not None and row.what == "plug")
        grid.move_to(at)
        await pressed(pilot, "e", "down", "down", "down", "type: 2", "enter")
        assert rig_of(app).plugs[0].have == 2
        grid.move_to(1)
        await pressed(pilot, "x")
        assert rig_of(app).reels == ()


async def test_forms_keep_what_is_typed(tmp_path: Path) -> None:
    """Size and turn of a device, a jack on top, the board, a hole, a lead by hand."""
    app = app_of(tmp_path, **RIG, places=PLACES)
    async with on_screen(app, LARGE) as pilot:
        await pressed(pilot, "6", "e", "down", "down", "type: 65", "down", "down", "right", "enter")
        place = next(place for place in rig_of(app).places if place.device == "drive")
        assert (place.width_mm, place.turn) == (65, 90)
        await pressed(pilot, "c", "enter", "type: o", "enter")
        place = next(place for place in rig_of(app).places if place.device == "drive")
        assert [(spot.jack, spot.side) for spot in place.jacks] == [("in", "top")]
        await pressed(pilot, "b", "type: 600", "down", "type: 400", "enter")
        assert (rig_of(app).bench.width_mm, rig_of(app).bench.depth_mm) == (600, 400)
        assert "Board 600 x 400 mm" in shown(app)
        await pressed(pilot, "w", "enter", "type: 50", "down", "type: 60", "enter")
        assert (rig_of(app).holes[0].x_mm, rig_of(app).holes[0].y_mm) == (50, 60)
        await pressed(pilot, "w", "down", "enter")
        assert rig_of(app).holes == ()
        await pressed(pilot, "tab", "e", "down", "type: 333", "enter")
        assert rig_of(app).patch_leads[0].length_mm == 333
        assert "333 mm, set by hand" in shown(app)


async def test_findings_lead_to_the_bench(tmp_path: Path) -> None:
    """The report's places lead to the device, and to the lead that has no test."""
    rows = [{"out": "Switcher send 1", "into": "drive in", "tip": "closed", "sleeve": "closed",
             "across": "open"}]  # fmt: skip
    app = app_of(tmp_path, **RIG, places=PLACES, patch_leads=rows)
    async with on_screen(app, SMALL) as pilot:
        await app.go_to("places.2")
        await pilot.pause()
        assert app.query_one(BoardPlan).here == "boost"
        await app.go_to("patch_leads")
        await pilot.pause()
        lead = app.query_one(WiringView).lead
        assert lead is not None
        assert lead.number == 3
