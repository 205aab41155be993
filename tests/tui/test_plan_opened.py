"""The plan view as a player first meets it: at work by itself, and never empty."""

from __future__ import annotations

from pathlib import Path

import pytest
from rigs_made import make_data, preset
from screens import DEMOS, LARGE, SMALL, app_of, app_on, lines, on_screen, shown, until
from tui.plan_screen import RIG, Fake, rig_of, switches, view_of
from tui.test_plan import head

from rigtui.plan.ask.control import Progress
from rigtui.plan.ask.question import Question
from rigtui.store.load import load
from rigtui.store.toml_write import dump
from rigtui.tui.document import Document
from rigtui.tui.views.plan.head import StageOfPlan, head_lines

RUNNING = StageOfPlan(
    plan=None, fault="", progress=Progress("placing the presets", 0.25, 283, 240), running=True,
    stopping=False, seconds=2.0, interrupted=False, same=False, accepted=False, stale=False,
)  # fmt: skip


@pytest.mark.usefixtures("planner_starts")
@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_it_starts_by_itself(tmp_path: Path, fake: Fake, size: tuple[int, int]) -> None:
    """Opened for the first time it plans with the usual options; opened again it does not."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, size) as pilot:
        fake("at-once", switches(rig_of(app)))
        await pilot.press("5")
        view = view_of(app)
        await until(pilot, lambda: view.runs.plan and view.worth.findings)
        assert view.runs.asked == Question()
        for name in ("Can be played", "Extra presses", "Presses", "Proof"):
            assert sum(line.startswith(f" {name}  ") for line in lines(app)) == 1
        assert "Before the gig, reprogram 2 memories" in " ".join(shown(app).split())
        first = view.runs.plan
        await pilot.press("2", "5")
        await pilot.pause()
        assert not view.runs.running
        assert view.runs.plan is first


@pytest.mark.usefixtures("planner_starts")
@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_it_is_never_empty(tmp_path: Path, fake: Fake, size: tuple[int, int]) -> None:
    """Before any plan comes there stand the board and the songs as they are, and how far it is."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, size) as pilot:
        fake("deaf", switches(rig_of(app)))
        await pilot.press("5")
        await until(pilot, lambda: view_of(app).runs.progress)
        assert "25 % placing the presets" in head(app)
        assert "Best so far 9 moves; no plan needs fewer than 4" in head(app)
        text = shown(app)
        for part in ("│Drive", "│Clean", "│Dirt", "bank 2"):
            assert part in text
        if size == SMALL:
            await pilot.press("tab", "tab")
            await pilot.pause()
        low = next(line for line in lines(app) if "Low Fen" in line)
        assert low.split()[-5:-1] == ["1x", "6", "6", "0"]


def test_the_best_so_far_is_seen_to_fall() -> None:
    """The last figures stand one after the other, at any width whole."""
    from dataclasses import replace

    falling = [307, 302, 298.5, 290, 286, 283]
    (_, second, _) = head_lines(replace(RUNNING, falling=falling), 78)
    assert second.text == (
        "Best so far 302 → 298.5 → 290 → 286 → 283 moves; no plan needs fewer than 240"
    )
    (_, second, _) = head_lines(RUNNING, 78)
    assert second.text == "Nothing found yet; no plan needs fewer than 240"


@pytest.mark.usefixtures("planner_starts")
async def test_a_rig_without_songs_says_what_is_missing(tmp_path: Path) -> None:
    """Nothing can be planned yet: no planner starts, and the board is there all the same."""
    parts = {**RIG, "songs": [], "setlists": []}
    app = app_of(tmp_path, **parts)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5", "tab")
        await pilot.pause()
        assert not view_of(app).runs.running
        assert "p starts the planner" in head(app)
        assert "│Drive" in shown(app)


@pytest.mark.usefixtures("planner_starts")
async def test_another_file_is_planned_anew(tmp_path: Path, fake: Fake) -> None:
    """What was planned and asked for one file is not held against the next."""
    other = tmp_path / "other.toml"
    parts = {**RIG, "name": "Shed rig", "presets": [*RIG["presets"], preset("last")]}
    other.write_text(dump(make_data(**parts)), encoding="utf-8")
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        fake("at-once", switches(rig_of(app)))
        await pilot.press("5")
        view = view_of(app)
        await until(pilot, lambda: view.runs.plan)
        view.question = Question("loops", pins={"drive": "in"})
        source, rig = load(other)
        app.open_document(Document(rig, other, source))
        await until(pilot, lambda: view.runs.plan and view.runs.rig is rig)
        assert view.runs.asked == view.question == Question()


@pytest.mark.usefixtures("planner_starts")
async def test_a_demo_is_planned_by_the_real_planner(tmp_path: Path) -> None:
    """On a demo the pictures, the sentence and the four lines come without a key being pressed."""
    app = app_on(DEMOS / "first-rig.toml")
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await until(pilot, lambda: view_of(app).worth.findings)
        assert "Can be played every section" in head(app)
        assert "│Soft compressor" in shown(app)
