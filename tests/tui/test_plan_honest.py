"""What the plan view says before a plan is accepted, and when it asks."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, pedal, preset, section, setlist, song, switcher
from screens import DEMOS, LARGE, SMALL, app_of, app_on, lines, on_screen, shown, until
from tui.plan_screen import RIG, Fake, planned, rig_of, switches, view_of, weighed
from tui.test_plan import head
from tui.test_plan_options import stand_on

from rigtui.checks import check, difference
from rigtui.model.cells import cells
from rigtui.model.edits import set_preset
from rigtui.plan.answer import plan
from rigtui.plan.ask.evening import evening_of, figures
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Status
from rigtui.plan.verdict.mapping import mapped_anew
from rigtui.plan.words.mapping import change_lines
from rigtui.plan.words.walk import said_walks
from rigtui.tui.app import RigApp
from rigtui.tui.widgets.dialogs import Confirm


def words(app: RigApp) -> str:
    """The whole screen, with single blanks."""
    return " ".join(shown(app).split())


def asked(app: RigApp) -> str:
    """The question on the screen; empty if there is none."""
    return app.screen._question if isinstance(app.screen, Confirm) else ""


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_moves_between_songs_and_findings(
    tmp_path: Path, fake: Fake, size: tuple[int, int]
) -> None:
    """Before accepting, gaps between songs and the sum stand in the head, findings in a list."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, size) as pilot:
        await pilot.press("5")
        rig = rig_of(app)
        made = switches(rig)
        assert made.rig is not None
        assert made.after is not None
        await weighed(app, pilot, fake, made)
        said = head(app)
        before, after = made.before, made.after
        assert f"between {before.set_up_moves} → {after.set_up_moves}" in said
        assert f"in all {before.in_all} → {after.in_all}" in said
        if size == SMALL:
            await pilot.press("tab")
            await pilot.pause()
        findings = difference(check(rig), check(made.rig))
        for line in (findings.headline(), *(f"Findings, {line}" for line in findings.lines())):
            assert line in words(app).replace("│", "")


async def test_more_moves_in_all_are_said(tmp_path: Path, fake: Fake) -> None:
    """Fewer moves inside songs, more in all: said in so many words; y accepts, it is better."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        before = rig_of(app)
        new = set_preset(before, "clean", memory=4)
        made = Plan("all", Status.FEASIBLE, Figures(37, 13, 3, 2), new, Figures(34, 22, 3, 2), 31)
        await weighed(app, pilot, fake, made)
        more = "More moves in all: 3 moves fewer inside songs, 9 more between, 6 more in all"
        assert more in head(app)
        await pilot.press("y")
        await pilot.pause()
        assert rig_of(app) == new
        assert app.document is not None
        assert len(app.document.history.past) == 1


async def test_no_better_than_today_asks(tmp_path: Path, fake: Fake) -> None:
    """A plan that saves nothing is named so, and is not accepted with one key."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        before = rig_of(app)
        new = set_preset(before, "both", memory=None)
        evening = evening_of(before)
        same = Plan(
            "all", Status.OPTIMAL, figures(before, evening), new, figures(before, evening), 8
        )
        await planned(app, pilot, fake, same)
        assert "No better than today: as many moves inside songs" in head(app)
        await pilot.press("y")
        await pilot.pause()
        assert "No better than today" in asked(app)
        assert rig_of(app) is before


async def test_new_errors_ask(tmp_path: Path, fake: Fake) -> None:
    """A plan that brings errors asks, though it saves moves and the findings come later."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        before = rig_of(app)
        made = switches(before)
        assert made.rig is not None
        broken = set_preset(made.rig, "clean", memory=None)
        clash = set_preset(broken, "clean", memory=made.rig.presets[1].memory)
        await planned(app, pilot, fake, replace(made, rig=clash))
        await pilot.press("y")
        await pilot.pause()
        assert "More errors (0 → 1)" in asked(app)
        assert rig_of(app) is before


async def test_plan_with_other_options_is_marked(tmp_path: Path, fake: Fake) -> None:
    """Any change of options marks the plan, naming what; y then offers to plan again."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        before = rig_of(app)
        made = plan(before, Question("all"))
        await weighed(app, pilot, fake, made)
        assert "other options" not in head(app)
        await pilot.press("shift+tab")
        changes = [
            ("setting", "setlist", "which setlists"), ("setting", "sharing", "sharing of loops"),
            ("setting", "order", "signal order"), ("pedal", "drive", "pedals in or out"),
            ("preset", "both", "presets that stay"),
        ]  # fmt: skip
        for key, name, label in changes:
            await stand_on(pilot, key, name)
            await pilot.press("enter", *(("down", "enter") if name == "setlist" else ()))
            await pilot.pause()
            assert f"Made with other options ({label}): p plans again; y asks first" in head(app)
            await pilot.press("x")
            await pilot.pause()
            assert "other options" not in head(app)
        await stand_on(pilot, "setting", "seconds")
        await pilot.press("enter", *"5 minutes", "enter")
        await pilot.pause()
        assert view_of(app).question.seconds == 300
        assert "other options" not in head(app)
        await stand_on(pilot, "pedal", "drive")
        await pilot.press("enter", "y")
        await pilot.pause()
        assert asked(app) == "Made with other options; changed since: pedals in or out."
        again = plan(before, Question("all", pins={"drive": "in"}))
        fake("at-once", again)
        await pilot.press("p")
        await until(pilot, lambda: view_of(app).runs.asked != Question("all", seconds=60.0))
        assert rig_of(app) is before
        assert "other options" not in head(app)
        await stand_on(pilot, "setting", "kind")
        await pilot.press("shift+tab", "shift+tab", "shift+tab", "shift+tab")
        view = view_of(app)
        view._change(replace(view.question, kind="loops"))
        await pilot.pause()
        assert "Made with other options (what may change)" in head(app)


async def test_accepted_plan_is_not_for_other_options(tmp_path: Path, fake: Fake) -> None:
    """Once accepted, the head says so, whatever presets and pedals the rig has now."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await weighed(app, pilot, fake, switches(rig_of(app)))
        assert "as planned" in shown(app)
        await pilot.press("y")
        await pilot.pause()
        await pilot.pause()
        assert "Accepted: the rig is as planned. u takes it back." in head(app)
        assert "before" in shown(app)
        assert "as accepted" in shown(app)
        await pilot.press("u")
        await pilot.pause()
        await pilot.pause()
        assert "as accepted" not in shown(app)


LONG: dict[str, Any] = {
    "switcher": switcher(memories=4, bank_size=2),
    "pedals": [
        pedal("squash", "compressor", name="Slow squash compressor"),
        *[pedal(f"p{at}", "modulation", name=f"Wide chorus number {at}") for at in range(4)],
    ],
    "loops": [loop(1, "squash"), loop(2)],
    "chain": {"front": [1, 2, *[f"p{at}" for at in range(4)]]},
    "presets": [preset("one", memory=1), preset("two", 1, memory=3)],
    "songs": [
        song("low", "one", section("two", plus=["p0"]), "one", "two", title="Low Fen"),
        song("tin", "two", "one", title="Tin Moth"),
    ],
    "setlists": [setlist("friday", "low", "tin", name="Friday")],
}


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_long_rows_are_broken_not_cut(
    tmp_path: Path, fake: Fake, size: tuple[int, int]
) -> None:
    """All pedals outside are named in full, and names of options keep clear of their values."""
    app = app_of(tmp_path, **LONG)
    async with on_screen(app, size) as pilot:
        await pilot.press("5")
        squash = next(line for line in lines(app) if "Slow squash compressor  " in line)
        assert "Slow squash compressor  ‹ free ›" in squash
        rig = rig_of(app)
        await planned(app, pilot, fake, plan(rig, Question("switches")))
        for at in range(4):
            assert sum(f"number {at}" in line for line in lines(app)) >= 1
        assert "…" not in "".join(line for line in lines(app) if "number" in line)


async def test_sections_mapped_anew(tmp_path: Path, fake: Fake) -> None:
    """Sections are named with both presets, on a rig whose presets send nothing over MIDI."""
    silent = tmp_path / "silent.toml"
    rows = (DEMOS / "three-piece.toml").read_text(encoding="utf-8").splitlines(keepends=True)
    silent.write_text("".join(row for row in rows if not row.startswith("midi = ")), "utf-8")
    app = app_on(silent)
    async with on_screen(app, (120, 200)) as pilot:
        await pilot.press("5")
        rig = rig_of(app)
        made = plan(rig, Question("all", copies=0))
        assert made.rig is not None
        await weighed(app, pilot, fake, made)
        text = words(app)
        for change in mapped_anew(rig, made.rig):
            assert change.title in text
        first = change_lines(mapped_anew(rig, made.rig)[0], rig, made.rig)[0]
        listing = view_of(app)._listings["todo"]
        said = " ".join(" ".join(row.cells[0].split()) for row in listing.rows if row.cells)
        assert first in said


async def test_songs_of_the_walk(tmp_path: Path, fake: Fake) -> None:
    """The walk's songs have the sums of their lines."""
    app = app_on(DEMOS / "three-piece.toml")
    async with on_screen(app, (120, 200)) as pilot:
        await pilot.press("5")
        rig = rig_of(app)
        route = plan(rig, Question("route"))
        fake("at-once", route)
        await pilot.press("p")
        await until(pilot, lambda: getattr(view_of(app).runs.plan, "kind", "") == "route")
        text = words(app)
        (walk,) = said_walks(route, rig)
        assert walk.sums[0] in text
        for song in walk.songs:
            assert f"{song.title}: {song.sums}" in text


async def test_curve_sentences_are_whole(tmp_path: Path) -> None:
    """What each curve comes to is broken into lines, and what proved means stands above."""
    app = app_on(DEMOS / "three-piece.toml")
    async with on_screen(app, (80, 90)) as pilot:
        await pilot.press("5", "enter", *"would", "enter", "p")
        await until(pilot, lambda: view_of(app).runs.plan and not view_of(app).runs.running)
        made = view_of(app).runs.plan
        assert made is not None
        text = words(app)
        for curve in made.details["curves"]:
            assert curve["sentence"] in text
        assert "proved: that switcher can't do with less effort" in head(app)
        assert all(cells(line) == 80 for line in lines(app))


async def test_presets_that_no_memory_holds_are_said(tmp_path: Path) -> None:
    """The head says first what cannot be played today, and the list which presets it is."""
    parts = {**RIG, "presets": [*RIG["presets"][:2], preset("both", 1, 2, name="Both")]}
    app = app_of(tmp_path, **parts)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5", "p")
        await until(pilot, lambda: view_of(app).worth.findings)
        view = view_of(app)
        assert any("Both isn't stored" in caveat for caveat in view.worth.caveats)
        assert "every section; 2 can't today" in head(app)
