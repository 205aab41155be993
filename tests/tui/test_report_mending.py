"""Mending from the report where only the player knows how: f lists what there is to choose from."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rigs_made import preset, section, setlist, song, switcher
from screens import SMALL, app_of, checked, on_screen, shown
from textual.pilot import Pilot

from rigtui.checks import Finding
from rigtui.tui.app import RigApp
from rigtui.tui.views.report.view import ReportView
from rigtui.tui.widgets.pick import Pick

RIG: dict[str, Any] = {
    "switcher": switcher(),
    "presets": [
        preset("clean", name="Clean", memory=1, role="clean"),
        preset("dirt", name="Dirt", memory=6, channel="drive"),
        preset("lost", name="Lost"),
    ],
    "songs": [
        song(
            "low",
            section("clean", name="Verse 1"),
            section(name="Bridge"),
            section("dirt", name="Chorus"),
            section(name="Chorus"),
            section("nowhere-near", name="Outro"),
            title="Low Fen",
        ),
        song("tin", "clean", title="Tin Moth"),
    ],
    "setlists": [setlist("friday", "low", "tim")],
}


async def stand_on(pilot: Pilot[Any], where: str) -> Finding:
    """Put the report's cursor on the error at a place."""
    await pilot.press("4")
    await checked(pilot)
    view = pilot.app.query_one(ReportView)
    keys = view._listings["findings"].keys
    at, finding = next(
        (at, key)
        for at, key in enumerate(keys)
        if isinstance(key, Finding) and key.where == where and key.severity == "error"
    )
    view.grid.move_to(at)
    await pilot.pause()
    return finding


def presets_of(app: RigApp) -> list[str | None]:
    """Presets of the first song's sections."""
    assert app.document is not None
    return [section.preset for section in app.document.rig.songs[0].sections]


async def test_f_on_a_section_without_a_preset_lists_the_presets(tmp_path: Path) -> None:
    """A choice maps it as one step that u takes back; Esc leaves it."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        before = presets_of(app)
        await stand_on(pilot, "songs.low.sections.1")
        assert "Fix: f lists the presets to choose from" in shown(app)
        await pilot.press("f")
        assert isinstance(app.screen, Pick)
        text = shown(app)
        assert "Preset for Bridge (section 2) of Low Fen" in text
        assert "Clean   1/1  clean" in text
        assert "Dirt   2/2" in text
        assert "Lost   not stored" in text
        await pilot.press("escape")
        assert presets_of(app) == before
        await pilot.press("f", "d", "i", "r", "t", "enter")
        await pilot.pause()
        assert presets_of(app) == ["clean", "dirt", "dirt", None, "nowhere-near"]
        assert app.document is not None
        await pilot.press("u")
        assert presets_of(app) == before


async def test_the_likeliest_preset_comes_first(tmp_path: Path) -> None:
    """A second Chorus begins on the preset of the first: f and Enter are enough."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await stand_on(pilot, "songs.low.sections.3")
        await pilot.press("f", "enter")
        await pilot.pause()
        assert presets_of(app)[3] == "dirt"


async def test_f_on_a_name_that_is_not_there_lists_what_is(tmp_path: Path) -> None:
    """An unknown preset of a section, and an unknown song of a setlist with the nearest first."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await stand_on(pilot, "songs.low.sections.4")
        await pilot.press("f", "c", "l", "enter")
        await pilot.pause()
        assert presets_of(app)[4] == "clean"
        await stand_on(pilot, "setlists.friday")
        await pilot.press("f")
        assert 'Song for "tim" in friday' in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert app.document is not None
        assert app.document.rig.setlists[0].sets[0].songs == ("low", "tin")


async def test_what_has_no_sound_comes_first(tmp_path: Path) -> None:
    """Sections without a preset stand first among what can't be played."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("4")
        await checked(pilot)
        keys = app.query_one(ReportView)._listings["findings"].keys
        rules = [key.rule for key in keys if isinstance(key, Finding) and key.severity == "error"]
        assert rules == ["unmapped", "unmapped", "unknown-name", "unknown-name"]
