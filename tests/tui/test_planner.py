"""The planner's process: what it leaves half said, and what is left of it, when it is killed."""

from __future__ import annotations

import asyncio
import gc
import sys
import warnings
from collections.abc import Callable, Coroutine, Generator
from contextlib import aclosing
from functools import partial
from itertools import count
from typing import Any

import pytest
from patience import PATIENCE_SECONDS
from rigs_made import make_rig
from tui.plan_screen import RIG, switches

from rigtui.plan.ask.control import Progress
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan
from rigtui.plan.wire import SO_FAR, plan_line, progress_line
from rigtui.tui.planner import Planner
from rigtui.tui.worker_process import WorkerProcess

_PROGRESS = '{"progress":{"stage":"x","done":0.5}}\n'
_SAYS = "import sys, time; sys.stdin.readline(); sys.stdout.write({!r}); sys.stdout.flush(); {}"


def _planner(says: str, then: str = "time.sleep(600)") -> Planner:
    """A planner of which the process says something and then does something."""
    command = (sys.executable, "-S", "-E", "-c", _SAYS.format(says, then))
    return Planner(make_rig(**RIG), Question("switches"), command)


async def _heard(planner: Planner) -> list[Progress | Plan | str]:
    async with aclosing(planner.answers()) as answers:
        return [answer async for answer in answers]


async def test_half_a_plan_is_none() -> None:
    """A process that ends in the middle of its plan has broken off."""
    assert await _heard(_planner('{"plan":{"kind":"sw', "sys.exit(3)")) == [
        "the planner stopped (exit status 3)"
    ]


@pytest.mark.parametrize("key", ["plan", SO_FAR])
async def test_stopped_in_the_middle_of_a_plan(key: str) -> None:
    """Half a plan is not taken for one: the rig as it stands is the best that was said."""
    planner = _planner(f'{_PROGRESS}{{"{key}":{{"kind":"sw')
    heard = []
    async with aclosing(planner.answers()) as answers:
        async for answer in answers:
            heard.append(answer)
            if len(heard) == 1:
                planner.stop()
    assert heard[0] == Progress("x", 0.5)
    (plan,) = heard[1:]
    assert isinstance(plan, Plan)
    assert plan.rig == planner.rig


class _Awaits:
    """A coroutine that counts its awaits, and is cancelled in one of them."""

    def __init__(self, coroutine: Coroutine[Any, Any, Any], cancel_in: int, times: int) -> None:
        self._coroutine = coroutine
        self._cancel_in = range(cancel_in, cancel_in + times)
        self.count = 0

    def __await__(self) -> Generator[Any, Any, Any]:
        task = asyncio.current_task()
        assert task is not None
        steps = self._coroutine.__await__()
        waits_for = next(steps)
        while True:
            if self.count in self._cancel_in:
                asyncio.get_running_loop().call_soon(task.cancel)
            self.count += 1
            try:
                value = yield waits_for
            except BaseException as thrown:
                step = partial(steps.throw, thrown)
            else:
                step = partial(steps.send, value)
            try:
                waits_for = step()
            except StopIteration as end:
                return end.value


async def _leave_in(awaits: _Awaits) -> bool:
    """Wait for a coroutine in a task of its own; return whether it came to its end."""

    async def hear() -> None:
        await awaits

    hearing = asyncio.create_task(hear())
    await asyncio.wait([hearing])
    assert len(asyncio.all_tasks()) == 1, "nothing goes on when the hearer has left"
    return not hearing.cancelled()


async def _stopped(planner: Planner) -> None:
    """Hear a planner, and stop it at its first word."""
    async with aclosing(planner.answers()) as answers:
        async for _ in answers:
            if not planner.stopping:
                planner.stop()


@pytest.mark.parametrize("hear", [_heard, _stopped])
@pytest.mark.parametrize("times", [1, 2, 3])
def test_left_in_each_await(
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
    times: int,
    hear: Callable[[Planner], Coroutine[Any, Any, Any]],
) -> None:
    """Whichever await the hearer of a planner is cancelled in: no process, pipe or task is left."""
    wrong: list[object] = []
    monkeypatch.setattr(sys, "unraisablehook", lambda told: wrong.append(told.exc_value))
    monkeypatch.setattr("rigtui.tui.planner._LONG_LINE", 0)  # each line is read beside the screen
    said = progress_line(Progress("x", 0.5))
    if hear is _heard:
        said += plan_line(switches(make_rig(**RIG)), make_rig(**RIG))
    with warnings.catch_warnings(record=True, action="always") as warned:
        for cancel_in in count():
            planner = _planner(said)
            awaits = _Awaits(hear(planner), cancel_in, times)
            ended = asyncio.run(_leave_in(awaits))
            assert planner._process is None or planner._process.wait(PATIENCE_SECONDS)
            if ended:
                break
        gc.collect()
    assert awaits.count <= cancel_in
    assert cancel_in > 2, "the task, the process and its lines are waited for"
    assert not wrong
    assert not caplog.messages
    assert not [str(warning.message) for warning in warned]


@pytest.mark.parametrize("times", [1, 2, 3])
def test_nothing_is_left_open(monkeypatch: pytest.MonkeyPatch, times: int) -> None:
    """However often whoever hears a planner is cancelled, no process and no pipe is left."""
    wrong: list[object] = []
    monkeypatch.setattr(sys, "unraisablehook", lambda told: wrong.append(told.exc_value))

    async def leave() -> None:
        planner = _planner(_PROGRESS)
        hearing = asyncio.create_task(_heard(planner))
        while planner._process is None:
            await asyncio.sleep(0.001)
        for _ in range(times):
            planner.kill()
            hearing.cancel()
            await asyncio.sleep(0)
        left.append(planner._process)

    left: list[WorkerProcess] = []
    with warnings.catch_warnings(record=True, action="always") as warned:
        for _ in range(5):
            asyncio.run(leave())
        assert all(process.wait(PATIENCE_SECONDS) for process in left)
        gc.collect()
    assert not wrong
    assert not [str(warning.message) for warning in warned]
