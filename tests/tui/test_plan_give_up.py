"""The plan screen shows what to give up, and takes a point of it as one step of undo."""

from __future__ import annotations

import asyncio
import time
from typing import Any

from patience import PATIENCE_SECONDS
from screens import DEMOS, app_on, on_screen, shown
from textual.pilot import Pilot

from rigtui.moves import count_setlist
from rigtui.tui.app import RigApp
from rigtui.tui.views.plan.give_up import GiveUp
from rigtui.tui.views.plan.view import PlanView
from rigtui.tui.views.report.remedy_preview import RemedyPreview

DEMO = DEMOS / "quay-street.toml"


def figures(app: RigApp) -> tuple[int, int]:
    """Sections that can't be played, and extra presses, over all setlists."""
    assert app.document is not None
    rig = app.document.rig
    counts = [count_setlist(rig, row) for row in rig.setlists]
    return sum(c.unplayable for c in counts), sum(c.extra_presses for c in counts)


async def opened(pilot: Pilot[Any]) -> GiveUp:
    """Open it, and wait until it is worked out."""
    await pilot.press("5")
    await pilot.press("t")
    screen = pilot.app.screen
    assert isinstance(screen, GiveUp)
    end = time.monotonic() + PATIENCE_SECONDS
    while screen._frontier is None and not screen._fault:
        assert time.monotonic() < end, "what to give up does not come"
        await asyncio.sleep(0.02)
    await pilot.pause()
    return screen


async def test_a_point_is_taken_and_given_back(asked: list[dict[str, Any]]) -> None:
    """The table begins where all can be played; y does it, u undoes it, b gives the sounds back."""
    app = app_on(DEMO)
    async with on_screen(app) as pilot:
        screen = await opened(pilot)
        assert [task["give-up"] for task in asked] == [
            {"setlists": [], "keep": [], "seconds": 60.0, "boards": False}
        ]
        text = " ".join(shown(app).split())
        assert "Proved: 45 choices of sounds to keep checked" in text
        assert "Leave Wide chorus off in 15 sections of 8 songs" in text
        assert screen.point is not None
        assert (screen.point.sections, screen.point.counted.unplayable) == (15, 0)
        before = app.document.rig if app.document else None
        await pilot.press("y")
        assert figures(app) == (0, 10)
        await pilot.press("u")
        assert app.document is not None
        assert app.document.rig == before
        await pilot.press("r")
        await opened(pilot)
        await pilot.press("b")
        assert before is not None
        assert app.document.rig.songs == before.songs


async def test_a_point_is_looked_at_section_by_section(asked: list[dict[str, Any]]) -> None:
    """Enter shows the sections; y there takes the point, Esc goes back to the table."""
    app = app_on(DEMO)
    async with on_screen(app) as pilot:
        screen = await opened(pilot)
        await pilot.press("down", "enter")
        assert isinstance(app.screen, RemedyPreview)
        assert "Store Stack in bank 2, switch 4" in shown(app)
        await pilot.press("escape")
        assert app.screen is screen
        assert screen.point is not None
        wanted = screen.point.counted
        await pilot.press("enter", "y")
        assert figures(app) == (wanted.unplayable, wanted.extra_presses) == (0, 6)


async def test_the_options_of_the_plan_hold(asked: list[dict[str, Any]]) -> None:
    """Presets that stay, the setlist and the time are those of the options; m moves pedals."""
    app = app_on(DEMO)
    async with on_screen(app) as pilot:
        await pilot.press("5")
        view = app.query_one(PlanView)
        assert app.document is not None
        lunch = app.document.rig.setlists[1].id
        view.question = view.question.changed(
            {"keep": ("solo",), "setlists": (lunch,), "seconds": 5.0}
        )
        await opened(pilot)
        assert asked[-1]["give-up"] == {
            "setlists": [lunch], "keep": ["solo"], "seconds": 5.0, "boards": False,
        }  # fmt: skip
        assert "1 of the presets stay as they are" in shown(app)
        screen = app.screen
        assert isinstance(screen, GiveUp)
        assert screen._working() == "Trying which sounds to keep, at most 5 s ..."
        await pilot.press("m")
        await app.workers.wait_for_complete()
        assert asked[-1]["give-up"]["boards"] is True


async def test_the_real_adviser_answers() -> None:
    """In a process of its own."""
    app = app_on(DEMOS / "first-rig.toml")
    async with on_screen(app) as pilot:
        screen = await opened(pilot)
        assert screen._fault == ""
        assert screen.point is not None
        await pilot.press("escape")
        assert not isinstance(app.screen, GiveUp)
