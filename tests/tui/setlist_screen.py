"""The setlist screen for tests: a rig opened on it, and what stands on it as text."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import tomli_w
from screens import app_on, burst, on_screen
from textual.pilot import Pilot

from rigtui.model import Rig
from rigtui.tui.app import RigApp
from rigtui.tui.totals import totals_text
from rigtui.tui.views.setlist.view import SetlistView
from rigtui.tui.widgets.bars import StatusLine
from rigtui.tui.widgets.grid import Grid

SIZES = [(80, 24), (120, 40)]
DEMOS = Path(__file__).parents[2] / "rigs"


class SetlistDriver:
    """A program that runs, and shows the setlist."""

    def __init__(self, app: RigApp, pilot: Pilot[Any]) -> None:
        self.app = app
        self.pilot = pilot

    @property
    def view(self) -> SetlistView:
        """The view."""
        return self.app.query_one(SetlistView)

    @property
    def rig(self) -> Rig:
        """The rig as it is now."""
        assert self.app.document is not None
        return self.app.document.rig

    @property
    def totals(self) -> str:
        """What the status line says of the moves."""
        status = self.app.query_one(StatusLine)
        return f"{status.setlist}: {status.moves}"

    async def checked(self) -> None:
        """Wait until the checks have spoken."""
        while not self.app.reckoning.findings:
            await self.pilot.pause()

    async def press(self, *keys: str) -> None:
        """Press keys, all at once; "type: Low Fen" types what stands behind the colon."""
        await burst(self.pilot, *keys)
        status = self.app.query_one(StatusLine)
        for _ in range(50):  # the totals follow the rows, once those are on the screen
            totals = totals_text(self.rig, self.app.setlist_id)
            if (status.setlist, status.moves) == (totals.name, totals.moves):
                break
            await self.pilot.pause()

    def songs(self) -> list[str]:
        """The lines of the list."""
        return lines(self.view.songs.grid)

    def sections(self) -> list[str]:
        """The lines of the song."""
        return lines(self.view.song.grid)

    def at(self) -> str:
        """The line of the list that the cursor stands on, without its mark and number."""
        cell = self.view.songs.grid.rows[self.view.songs.grid.cursor_row].cells[0]
        return re.sub(r"^[!X ]*(\d+ )?", "", cell)

    def words(self) -> str:
        """The section under the cursor in words."""
        return str(self.view.song.query(".pane--words").first().render())


def lines(grid: Grid) -> list[str]:
    """What a grid draws, line by line."""
    return [grid.render_line(y).text.rstrip() for y in range(grid.size.height)]


def written(data: dict[str, Any], folder: Path) -> Path:
    """Write plain data of a rig to a file."""
    path = folder / "rig.toml"
    path.write_text(tomli_w.dumps(data), encoding="utf-8")
    return path


@asynccontextmanager
async def setlist_screen(
    path: Path, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[SetlistDriver]:
    """Open a file, and go to the setlist."""
    app = app_on(path)
    async with on_screen(app, size) as pilot:
        await pilot.press("3")
        await pilot.pause()
        try:
            yield SetlistDriver(app, pilot)
        finally:
            # What was put off for an idle moment must not meet a screen that is taken down.
            app.document = None
            app.reckoning.slices.stop()
