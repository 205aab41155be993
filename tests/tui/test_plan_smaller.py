"""What does as well as a plan with far less to learn stands on the screen, and a key does it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from planned_once import plan_once
from screens import DEMOS, app_of, app_on, on_screen, shown, until
from textual.pilot import Pilot
from tui.plan_screen import RIG, Fake, planned, rig_of, switches, view_of
from tui.test_plan import head
from tui.test_plan_give_up import figures

from rigtui.model.edits import set_preset
from rigtui.plan.ask.question import Question
from rigtui.tui.app import RigApp
from rigtui.tui.views.report.remedy_preview import RemedyPreview

DEMO = DEMOS / "quay-street.toml"
LINE = "Or touch 15 sections, not 73, with 10 extra presses: o shows how."


async def demo_planned(app: RigApp, pilot: Pilot[Any], fake: Fake) -> None:
    """The loops of the demo are planned, and what is smaller is found."""
    await pilot.press("5")
    await planned(app, pilot, fake, plan_once(rig_of(app), Question("loops")))
    await until(pilot, lambda: "Or touch" in head(app))


async def test_it_is_looked_at_and_done_instead(fake: Fake, asked: list[dict[str, Any]]) -> None:
    """The line says what it saves, o shows it section by section, y there does it, u undoes it.

    The figures are those of the row that `rigtui plan compromise` has: 15 sections, 10 extra.
    """
    app = app_on(DEMO)
    async with on_screen(app) as pilot:
        before = rig_of(app)
        await demo_planned(app, pilot, fake)
        assert asked[-1]["smaller"]["sections"] == 73
        assert LINE in head(app)
        await pilot.press("o")
        assert isinstance(app.screen, RemedyPreview)
        assert "Leave Wide chorus off in 15 sections of 8 songs" in shown(app)
        await pilot.press("escape")
        assert rig_of(app) is before
        await pilot.press("o", "y")
        await pilot.pause()
        assert figures(app) == (0, 10)
        changed = [
            (song.id, at)
            for old, song in zip(before.songs, rig_of(app).songs)
            for at, (was, will) in enumerate(zip(old.sections, song.sections))
            if was != will
        ]
        assert len(changed) == 15
        assert "Or touch" not in head(app)  # the plan is for the rig as it was
        assert view_of(app).check_action("smaller", ()) is None
        await pilot.press("u")
        await pilot.pause()
        assert rig_of(app) == before
        assert LINE in head(app)


async def test_an_edit_in_between_refuses_it(fake: Fake, asked: list[dict[str, Any]]) -> None:
    """What was worked out for one rig is not done to another."""
    app = app_on(DEMO)
    async with on_screen(app) as pilot:
        await demo_planned(app, pilot, fake)
        await pilot.press("o")
        app.apply("rename", lambda now: set_preset(now, "solo", name="Loud"))
        edited = rig_of(app)
        await pilot.press("y")
        await pilot.pause()
        assert rig_of(app) is edited


async def test_a_plan_that_touches_little_has_none(
    tmp_path: Path, fake: Fake, asked: list[dict[str, Any]]
) -> None:
    """Nothing is looked for, and the key does nothing."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await pilot.press("5")
        await planned(app, pilot, fake, switches(rig_of(app)))
        assert asked == []
        assert view_of(app).check_action("smaller", ()) is None
        await pilot.press("o")
        assert not isinstance(app.screen, RemedyPreview)


async def test_what_comes_while_the_program_quits_is_not_shown(tmp_path: Path) -> None:
    """Planner, rules and adviser may still answer when the lists are gone already."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await pilot.press("5")
        view = view_of(app)
    for told in (view.runs._heard, view.runs._ended, view.runs._told, view.worth._told,
                 view._smaller._told):  # fmt: skip
        told()
    assert not app.is_running


async def test_another_plan_forgets_it(fake: Fake, asked: list[dict[str, Any]]) -> None:
    """The line is of the plan on the screen alone."""
    app = app_on(DEMO)
    async with on_screen(app) as pilot:
        await demo_planned(app, pilot, fake)
        other = plan_once(rig_of(app), Question("switches"))
        fake("at-once", other)
        await pilot.press("p")
        await until(pilot, lambda: "Or touch" not in head(app) and view_of(app).worth.known)
