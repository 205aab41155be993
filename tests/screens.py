"""Looking at the screens in tests: a rig opened on them, and what they show as text."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from patience import PATIENCE_SECONDS
from rigs_made import make_data
from textual import events
from textual.app import App
from textual.pilot import Pilot
from textual.widget import Widget

from rigtui.store.load import read_plain
from rigtui.store.splice import dump
from rigtui.tui.app import RigApp

DEMOS = Path(__file__).parents[1] / "rigs"
SMALL, LARGE = (80, 24), (120, 40)


def app_on(path: Path) -> RigApp:
    """The program on a file."""
    return RigApp(read_plain(path))


def app_of(folder: Path, **parts: Any) -> RigApp:
    """The program on a file of its own, made of plain data."""
    path = folder / "rig.toml"
    path.write_text(dump(make_data(**parts)), encoding="utf-8")
    return app_on(path)


def _under_way(app: App[Any]) -> bool:
    """Whether a change of the screen at hand is still on its way to the terminal.

    A widget takes note that it changed, tells the screen in a message once it has nothing else to
    do, and a timer of the screen lays out and paints: on the way it stands in one of these places.
    """
    if not app.is_running or not app.screen_stack or not app.screen.is_mounted:
        return False
    return (
        bool(app.screen._dirty_widgets)
        or app._message_queue.qsize() > 0
        or any(
            part._message_queue.qsize() > 0
            or part._refresh_styles_required
            or part._layout_required
            or part._scroll_required
            or part._repaint_required
            for part in app.screen.walk_children(Widget, with_self=True)
        )
    )


class PatientPilot(Pilot[Any]):
    """Presses a key only when the one before it is dealt with, however little runs meanwhile.

    The library's own looks at the clock of the processor, and takes a program that gets no
    processor for a while for one that is done.
    """

    async def pause(self, delay: float | None = None) -> None:
        """Wait for some seconds; or until the screen is laid out and painted."""
        await super().pause(delay)
        if delay is None:
            await self._rest()

    async def press(self, *keys: str) -> None:
        """Press keys, and wait until the program has dealt with each."""
        for key in keys:
            await super().press(key)
            while isinstance(self.app, RigApp) and self.app.is_running and self.app.keys_waiting:
                await asyncio.sleep(0.001)
        await self._rest()

    async def _rest(self) -> None:
        end = time.monotonic() + PATIENCE_SECONDS
        while await self._wait_for_screen(PATIENCE_SECONDS) and _under_way(self.app):
            assert time.monotonic() < end, "the screen does not come to rest"
            await asyncio.sleep(0.001)


@asynccontextmanager
async def on_screen(
    app: RigApp, size: tuple[int, int] = SMALL, notices: bool = False
) -> AsyncIterator[PatientPilot]:
    """Run the program without a terminal, its file opened; with its notices or without."""
    async with app.run_test(size=size, notifications=notices):
        pilot = PatientPilot(app)
        while app.is_running and not app.begun:
            await pilot.pause()
        await pilot.pause()
        yield pilot


async def painted(pilot: Pilot[Any]) -> None:
    """Wait until the screen has been painted: on a busy machine that is some time after an event.

    Two looks must show the same.
    """
    end = time.monotonic() + PATIENCE_SECONDS
    app = pilot.app
    assert isinstance(app, RigApp)
    looks: list[str] = []
    while len(looks) < 2 or looks[-1] != looks[-2]:
        assert time.monotonic() < end, "the screen does not come to rest"
        await asyncio.sleep(0.02)
        await pilot.pause()
        looks.append(shown(app))


async def until(pilot: Pilot[Any], true: Callable[[], object]) -> None:
    """Let the program run until something is true, and then until the screen has been painted."""
    end = time.monotonic() + PATIENCE_SECONDS
    while not true():
        assert time.monotonic() < end, "it does not come true"
        await asyncio.sleep(0.005)
    await painted(pilot)


async def checked(pilot: Pilot[Any]) -> None:
    """Wait until the rules have gone through the rig as it is now."""
    app = pilot.app
    assert isinstance(app, RigApp)
    await pilot.pause()
    assert app.document is not None
    if app.reckoning.findings_of is not app.document.rig and app.reckoning.slices.work is None:
        app.reckoning.begin()
    for _ in app.reckoning.slices.work or ():
        pass
    assert app.reckoning.findings_of is app.document.rig
    await pilot.pause()


_KEYS = {" ": "space", ",": "comma", "-": "minus", ".": "full_stop", "/": "slash"}


def typed(text: str) -> list[str]:
    """The keys that type a text."""
    return [_KEYS.get(char, char) for char in text]


async def burst(pilot: Pilot[Any], *keys: str) -> None:
    """Have keys come in all at once, as from a script.

    "type: Low Fen" types what follows; "paste: Low Fen" is a bracketed paste of it.
    """
    app = pilot.app
    assert isinstance(app, RigApp)
    for key in keys:
        if key.startswith("type: "):
            for char in key.removeprefix("type: "):
                app.post_message(events.Key(_KEYS.get(char, char), char))
        elif key.startswith("paste: "):
            app.post_message(events.Paste(key.removeprefix("paste: ")))
        else:
            app.post_message(events.Key(key, key if len(key) == 1 else None))
    await pilot.pause(0)
    while app.keys_waiting:
        await asyncio.sleep(0)
    await pilot.pause()


def lines(app: RigApp) -> list[str]:
    """The lines of the screen, as the terminal would get them."""
    strips = app.screen._compositor.render_strips()
    return ["".join(segment.text for segment in strip) for strip in strips]


def shown(app: RigApp) -> str:
    """The whole screen as one text."""
    return "\n".join(lines(app))
