"""Enter on a finding: the cursor on the cell or row at fault, the finding's text beside it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher
from screens import app_of, burst, checked, on_screen, shown
from textual.pilot import Pilot

from rigtui.checks import check
from rigtui.model.places import taken_apart
from rigtui.tui.app import RigApp
from rigtui.tui.views.presets.view import PresetsView
from rigtui.tui.views.report.view import ReportView
from rigtui.tui.views.setlist.view import SetlistView
from rigtui.tui.widgets.pointer import Pointer

RIG: dict[str, Any] = {
    "switcher": switcher(memories=4, bank_size=2),
    "pedals": [
        pedal("boost", kind="boost"), pedal("hush", name="Hush gate", kind="gate"),
        pedal("wah", use="foot"), pedal("trem", kind="tremolo", use="foot"),
    ],
    "loops": [loop(1, "boost"), loop(2, "hush")],
    "presets": [preset("clean", 1, role="clean", loops=[2]), preset("rock", 2, loops=[1])],
    "songs": [
        song("low", section("clean", name="Verse", bars=1),
             section("rock", name="Chorus", plus=["wah", "trem"]), guitar="main"),
        song("tin", section("rock", name="Verse"), guitar="slide", gap_seconds=1),
        song("salt", section("clean", name="Verse"), section(None, name="Solo"), guitar="main"),
    ],
    "setlists": [setlist("friday", "low", "tin", "salt", "gone")],
    "player": {"guitar_seconds": 60, "gap_seconds": 5},
}  # fmt: skip


async def led_to(app: RigApp, pilot: Pilot[Any], rule: str) -> Any:
    """Go to the first finding of a rule as Enter in the report does; return the finding."""
    await checked(pilot)
    finding = next(row for row in app.reckoning.findings if row.rule == rule)
    await app.go_to(finding.where, finding)
    return finding


@pytest.mark.parametrize(
    ("rule", "view", "stands_on"),
    [
        ("gate-on-clean", "presets", ("clean", 2)),
        ("crowded-change", "setlist", ("low", 1, "rock")),
        ("unmapped", "setlist", ("salt", 1, None)),
        ("guitar-conflict", "setlist", ("salt", None, None)),
        ("unknown-name", "setlist", ("gone", None, None)),
        ("not-in-chain", "board", ()),
    ],
)
async def test_the_cursor_stands_on_what_is_at_fault(
    tmp_path: Path, rule: str, view: str, stands_on: tuple[Any, ...]
) -> None:
    """Preset and loop, section and preset, the song of a set-up: each with the text below it."""
    rig = dict(RIG)
    if rule != "not-in-chain":
        rig["chain"] = {"front": ["wah", "trem", 1, 2]}
    app = app_of(tmp_path, **rig)
    async with on_screen(app, (120, 40)) as pilot:
        finding = await led_to(app, pilot, rule)
        await pilot.pause()
        assert app.view_id == view
        at = app.view
        if isinstance(at, PresetsView):
            assert (at._preset.id, at._loop) == stands_on
        elif isinstance(at, SetlistView):
            assert at.songs.place.song_id == stands_on[0]
            if stands_on[1] is not None:
                assert at.song.section_at == stands_on[1]
            if stands_on[2] is not None:
                assert at.song.preset.id == stands_on[2]
        else:
            assert at.row.id == taken_apart(finding.where).row
        text = " ".join(shown(app).split())
        assert f"{finding.severity}, {rule}: " in text
        await burst(pilot, "escape")
        assert not app.query_one(Pointer).display


async def test_the_text_goes_when_the_finding_is_mended(tmp_path: Path) -> None:
    """It stays while other things are edited, and leaves with its finding."""
    app = app_of(tmp_path, **{**RIG, "chain": {"front": ["wah", "trem", 1, 2]}})
    async with on_screen(app, (80, 24)) as pilot:
        await led_to(app, pilot, "unmapped")
        await burst(pilot, "plus")
        assert app.query_one(Pointer).display
        await burst(pilot, "m", "type: rock", "enter")
        await led_to(app, pilot, "gate-on-clean")
        await burst(pilot, "3")
        assert not app.query_one(Pointer).display


async def test_enter_in_the_report_leads_there(tmp_path: Path) -> None:
    """The row's own finding is the one that is told."""
    app = app_of(tmp_path, **{**RIG, "chain": {"front": ["wah", "trem", 1, 2]}})
    async with on_screen(app, (80, 24)) as pilot:
        await led_to(app, pilot, "unmapped")
        await burst(pilot, "4")
        view = app.view
        assert isinstance(view, ReportView)
        from rigtui.checks import Finding

        for _ in range(30):
            if isinstance(view.key, Finding):
                break
            await burst(pilot, "down")
        key = view.key
        assert isinstance(key, Finding)
        await burst(pilot, "enter")
        assert app.query_one(Pointer).finding == key


async def test_what_only_the_sentence_names_moves_no_cursor(tmp_path: Path) -> None:
    """A preset in no memory: its row, and not the loop of a pedal that the sentence mentions."""
    parts = {**RIG, "switcher": switcher(memories=1, bank_size=1), "setlists": []}
    parts["presets"] = [
        preset("clean", 1, memory=1, role="clean"), preset("rock", 2, loops=[1, 2])
    ]  # fmt: skip
    app = app_of(tmp_path, **parts)
    async with on_screen(app) as pilot:
        await pilot.press("2")
        await pilot.pause()
        view = app.query_one(PresetsView)
        before = view.grid.cursor_column
        await led_to(app, pilot, "unstored-preset")
        await pilot.pause()
        assert view.here == "presets.rock"
        assert view.grid.cursor_column == before


async def test_an_overlap_stands_at_both_devices(tmp_path: Path) -> None:
    """The finding names both places, whatever the devices are called."""
    rig = make_rig(
        pedals=[pedal("one", name="One and two"), pedal("two", name="One")],
        chain={"front": ["one", "two"]},
        places=[
            {"device": name, "x_mm": x, "y_mm": 0, "width_mm": 100, "depth_mm": 100}
            for name, x in (("one", 0), ("two", 50))
        ],
    )
    (finding,) = (row for row in check(rig) if row.rule == "devices-overlap")
    assert {finding.where, *finding.about} == {"places.0", "places.1"}
