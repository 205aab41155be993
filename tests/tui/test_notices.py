"""What is said takes lines of its own, and the last line keeps the key that lists all keys."""

from __future__ import annotations

import pytest
from screens import DEMOS, LARGE, SMALL, app_on, checked, lines, on_screen, painted, until
from textual.pilot import Pilot
from textual.widgets._toast import Toast

from rigtui.tui.app import RigApp
from rigtui.tui.views.all_views import VIEWS
from rigtui.tui.widgets.grid import Grid
from rigtui.tui.widgets.key_line import KeyLine

LONG = "Store Stack in memory 8 in place of Crunch Wide; 234 -> 248 moves, 30 -> 31 set-up moves"


async def said(pilot: Pilot[int], text: str) -> Toast:
    """The notice with a text, once it is on the screen and everything has made room for it."""
    app = pilot.app
    assert isinstance(app, RigApp)
    app.say(text, seconds=600)
    while not (app.screen.query(Toast) and app.screen.query(Toast).last().region.area):
        await pilot.pause(0.01)
    await painted(pilot)
    return app.screen.query(Toast).last()


@pytest.mark.parametrize("size", [(60, 20), SMALL, LARGE])
@pytest.mark.parametrize("view", [view.key for view in VIEWS])
async def test_a_notice_covers_nothing(view: str, size: tuple[int, int]) -> None:
    """No part of the screen lies under a notice, which stands whole; the lines below it stay."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, size, notices=True) as pilot:
        await pilot.press(view)
        await pilot.pause()
        await checked(pilot)
        before = lines(app)
        notice = await said(pilot, LONG)
        parts = [part for part in app.screen.walk_children() if part.display and not part.children]
        covered = [
            part
            for part in parts
            if part is not notice and part.region.intersection(notice.region).area
        ]
        assert covered == []
        after = lines(app)
        assert after[-2:] == before[-2:]
        told = " ".join(line.strip("▌ ") for line in after[notice.region.y : -2])
        assert told == LONG
        app.clear_notifications()
        while app.screen.query(Toast):
            await pilot.pause(0.01)
        await pilot.pause()
        assert lines(app)[-2:] == before[-2:]


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_every_notice_gives_its_lines_back(size: tuple[int, int]) -> None:
    """However fast a key is pressed that says something: a notice that gives way to the next one,
    or that goes, leaves no empty line behind, on this screen and on the others."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, size, notices=True) as pilot:
        await pilot.press("2")
        await checked(pilot)
        presets = lines(app)
        await pilot.press("4", "tab")
        await checked(pilot)
        report = lines(app)
        for _ in range(7):
            await pilot.press("f")  # nothing can be fixed in this list, which is said
        await until(pilot, lambda: len(app.screen.query(Toast)) == 1)
        for number in range(7):
            app.say_in_place(f"Done {number}", seconds=600)
            await pilot.pause()
        app.say("Not saved", "error", seconds=600)
        for number in range(7):
            app.notify(f"Copied {number}", timeout=600)
            await pilot.pause()
        await until(
            pilot,
            lambda: (
                [toast.render().plain for toast in app.screen.query(Toast)]
                == ["Not saved", "Copied 6"]
            ),
        )
        await pilot.click(app.screen.query(Toast).last())  # it goes as if its time were over
        app.clear_notifications()
        while app.screen.query(Toast):
            await pilot.pause(0.01)
        await pilot.pause()
        assert lines(app) == report
        await pilot.press("2")
        await pilot.pause()
        assert lines(app) == presets


async def test_the_row_under_the_cursor_stays_in_sight() -> None:
    """A list that gives up a line to a notice scrolls, where the cursor is on its last line."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL, notices=True) as pilot:
        await pilot.press("2", "end", "G")
        await pilot.pause()
        grid = app.view.query_one(Grid)
        last = grid.cursor_row
        await said(pilot, LONG)
        await until(pilot, lambda: last in list(grid.in_sight))


@pytest.mark.parametrize("width", [40, 60, 80, 120])
async def test_the_keys_that_fit(width: int) -> None:
    """The last line is cut at no key, and ends with the one that lists all keys."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, (width, 24)) as pilot:
        for view in VIEWS:
            await pilot.press(view.key, "tab")
            await pilot.pause()
            line = lines(app)[-1].rstrip()
            assert line.endswith("? Help"), line
            keys = app.query_one(KeyLine).shown
            assert line == " ".join(f"{key.name} {key.words}" for key in keys)


async def test_a_click_on_a_key_presses_it() -> None:
    """Wherever it stands on the line; a key that is greyed does nothing."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("2")
        await pilot.pause()
        assert app.document is not None
        uses = app.document.rig
        line = lines(app)[-1]
        await pilot.click(KeyLine, offset=(line.index("On/off"), 0))
        await pilot.pause()
        assert app.document.rig is not uses
        await pilot.click(KeyLine, offset=(line.index("Undo"), 0))
        await pilot.pause()
        assert app.document.rig == uses
