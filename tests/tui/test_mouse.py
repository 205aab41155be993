"""The mouse: no gesture ends the program, whatever goes away under it."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from rigs_made import preset
from screens import LARGE, app_of, on_screen
from textual import events
from textual.pilot import Pilot
from textual.widgets import Input, OptionList
from textual.widgets._toast import Toast

from rigtui.tui.widgets.dialogs import Confirm
from rigtui.tui.widgets.pick import Pick


def mouse(kind: type[events.MouseEvent], x: int, y: int, button: int = 1) -> events.MouseEvent:
    """An event of the mouse as the terminal's reader makes it."""
    return kind(None, x, y, 0, 0, button, False, False, False, x, y)


async def notice_at(pilot: Pilot) -> tuple[Toast, int, int]:
    """Have a notice on the screen, and the place of its text."""
    pilot.app.notify("A notice that goes away", markup=False, timeout=60)
    for _ in range(100):
        await pilot.pause()
        if pilot.app.screen.query(Toast) and pilot.app.screen.query_one(Toast).region.area:
            break
    toast = pilot.app.screen.query_one(Toast)
    return toast, toast.content_region.x + 2, toast.content_region.y


@pytest.mark.parametrize("steps", range(12))
async def test_a_click_on_a_notice_that_goes_away(tmp_path: Path, steps: int) -> None:
    """A press, a drag and a click where a notice has just gone: at each step of its going."""
    app = app_of(tmp_path, presets=[preset("one")])
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        toast, x, y = await notice_at(pilot)
        toast.post_message(events.Click.from_event(toast, mouse(events.MouseUp, x, y)))
        for _ in range(steps):
            await asyncio.sleep(0)
        for kind in (events.MouseDown, events.MouseMove, events.MouseUp):
            app.post_message(mouse(kind, x, y))
        await pilot.pause()
        await pilot.pause()
        assert app.is_running


async def test_notices_cannot_be_selected(tmp_path: Path) -> None:
    """A drag over a notice, and over the words of a preset, selects nothing."""
    app = app_of(tmp_path, presets=[preset("one")])
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        _, x, y = await notice_at(pilot)
        app.post_message(mouse(events.MouseDown, x, y))
        app.post_message(mouse(events.MouseMove, x + 8, y))
        await pilot.pause()
        assert app.screen.get_selected_text() is None


@pytest.mark.parametrize("times", [2, 3])
async def test_an_answer_clicked_again(tmp_path: Path, times: int) -> None:
    """A double click on an answer gives it once; what lies below is not taken away with it."""
    app = app_of(tmp_path, presets=[preset("one")])
    answers: list[str | None] = []
    async with on_screen(app, LARGE) as pilot:
        app.ask(Confirm("Really?", [("y", "yes")]), answers.append)
        await pilot.pause()
        answer = app.screen.query(".dialog--answer").first().region
        for _ in range(times):
            for kind in (events.MouseDown, events.MouseUp):
                app.post_message(mouse(kind, answer.x + 8, answer.y))
        await pilot.pause()
        assert answers == ["y"]
        assert len(app.screen_stack) == 1


async def test_a_row_clicked_that_is_gone(tmp_path: Path) -> None:
    """A click on a row of a list that was narrowed just before picks nothing."""
    app = app_of(tmp_path, presets=[preset("one")])
    answers: list[str | None] = []
    async with on_screen(app, LARGE) as pilot:
        app.ask(Pick("Which?", [("a", "Alpha"), ("b", "Beta")]), answers.append)
        await pilot.pause()
        row = app.screen.query_one(OptionList).content_region
        click = events.Click.from_event(app.screen, mouse(events.MouseUp, row.x, row.y + 1))
        click.style = app.screen.get_style_at(row.x, row.y + 1)
        click._set_forwarded()  # as the screen does before it hands a click on
        app.screen.query_one(Input).value = "alpha"
        await pilot.pause()
        app.screen.query_one(OptionList).post_message(click)
        await pilot.pause()
        assert answers == []
        await pilot.press("enter")
        assert answers == ["a"]
