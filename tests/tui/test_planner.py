"""The planner's process: what it leaves half said, and what is left of it, when it is killed."""

from __future__ import annotations

import asyncio
import gc
import sys
import warnings
from contextlib import aclosing

import pytest
from rigs_made import make_rig
from tui.plan_screen import RIG

from rigtui.plan.ask.control import Progress
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan
from rigtui.plan.wire import SO_FAR
from rigtui.tui.planner import Planner

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
        "the planner broke off (exit status 3)"
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


@pytest.mark.parametrize("times", [1, 2, 3])
def test_nothing_is_left_open(monkeypatch: pytest.MonkeyPatch, times: int) -> None:
    """However often who hears a planner is cancelled, no process and no pipe is left."""
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

    with warnings.catch_warnings(record=True, action="always") as warned:
        for _ in range(5):
            asyncio.run(leave())
        gc.collect()
    assert not wrong
    assert not [str(one.message) for one in warned]
