"""What is to be done after a while is done, however the machine holds the program up."""

from __future__ import annotations

import asyncio

import pytest
from patience import PATIENCE_SECONDS
from textual import _time, timer
from textual.app import App

from rigtui.tui.once import once


async def test_a_timer_that_begins_late_goes_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """The library's own leaves out its only tick, which was due before it was waited for.

    The clock goes on by 10 ms at each of the first looks: something else had the processor.
    """
    late = [0.0]
    real = _time.get_time

    def get_time() -> float:
        late[0] = min(0.05, late[0] + 0.01)
        return real() + late[0]

    app = App[None]()
    async with app.run_test():
        done = asyncio.Event()
        monkeypatch.setattr(_time, "get_time", get_time)
        once(app, 0.001, done.set)
        await asyncio.wait_for(done.wait(), PATIENCE_SECONDS)


async def test_it_goes_off_once_and_not_at_all_when_stopped() -> None:
    """However often it could; a timer that is stopped in time does nothing."""
    app = App[None]()
    done: list[str] = []
    async with app.run_test() as pilot:
        once(app, 0.001, lambda: done.append("left to go off"))
        once(app, 0.001, lambda: done.append("stopped")).stop()
        while not done:
            await asyncio.sleep(0.001)
        await asyncio.sleep(0.02)
        await pilot.pause()
        assert done == ["left to go off"]


async def test_it_goes_off_once_though_ticks_are_due_at_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The library goes through such ticks in one go, and a timer can't be stopped meanwhile."""
    due = [True] * 5
    real = timer.sleep

    async def sleep(seconds: float) -> None:
        if not due or not due.pop():
            await real(seconds)

    app = App[None]()
    done: list[str] = []
    async with app.run_test() as pilot:
        monkeypatch.setattr(timer, "sleep", sleep)
        once(app, 0.001, lambda: done.append("went off"))
        while not done:
            await asyncio.sleep(0.001)
        await pilot.pause()
        assert not due
        assert done == ["went off"]
