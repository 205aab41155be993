"""The planner in a process of its own, as the screens see it: started, heard, stopped, killed.

In the screen's own process it would hold up every key; there it cannot.
"""

from __future__ import annotations

import asyncio
import contextlib
import sys
from collections.abc import AsyncGenerator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from rigtui.tui.worker_process import WorkerProcess

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.plan.ask.control import Progress
    from rigtui.plan.ask.question import Question
    from rigtui.plan.ask.result import Plan

COMMAND: Sequence[str] = (sys.executable, "-m", "rigtui.plan")
_LONG_LINE = 4096
"""Bytes of a line from which on it is read beside the screen."""
_PATIENCE_SECONDS = 0.03
"""How long a planner that was asked to stop may take to say a better plan than it has said."""
_FIRST_PLAN_SECONDS = 5.0
"""How long it may take to say any, where the rig as it stands is none: it may have to start yet."""


class SoFar(NamedTuple):
    """A plan to look at while the planner goes on."""

    plan: Plan


class Planner:
    """One run of a planner."""

    def __init__(self, rig: Rig, question: Question, command: Sequence[str] | None = None) -> None:
        self.rig, self.question = rig, question
        self.stopping = False
        self._command = tuple(COMMAND if command is None else command)
        self._process: WorkerProcess | None = None
        self._killed = False
        self._given_up = False
        self._so_far = ""
        """The line with the best plan so far; it is read only if it is needed."""
        self._bound: float = 0
        self._last_resort: asyncio.TimerHandle | None = None

    async def answers(self) -> AsyncGenerator[Progress | SoFar | Plan | str, None]:
        """Run; give progress as it comes, and at last the plan or why there is none.

        Curves are given as they are found, too: there is much to look at before the end.
        """
        from rigtui.plan.ask.control import Progress
        from rigtui.plan.wire import SO_FAR, STOP, answer_of, task_line

        task = await asyncio.to_thread(task_line, self.rig, self.question)
        if self._killed:
            async for best in self._best_so_far():
                yield best
            return
        said: asyncio.Queue[bytes] = asyncio.Queue()
        loop = asyncio.get_running_loop()

        def heard(line: bytes) -> None:
            with contextlib.suppress(RuntimeError):  # the loop has ended, and nobody waits
                loop.call_soon_threadsafe(said.put_nowait, line)

        try:
            process = self._process = WorkerProcess(self._command, heard)
        except OSError as error:
            yield f"the planner couldn't start: {error.strerror or error}"
            return
        finished = False
        try:
            process.say(task)
            if self.stopping:
                process.say(f"{STOP}\n")
            # a planner that is killed may leave half a line
            while (line := await said.get()).endswith(b"\n"):
                text = line.decode("ascii")
                if text.startswith(f'{{"{SO_FAR}"'):
                    first, self._so_far = not self._so_far, text
                    if first and self.stopping:
                        self._kill_in(_PATIENCE_SECONDS)
                    if self.question.kind == "curve" and not self.stopping:
                        curves = await asyncio.to_thread(self._said)
                        if curves is not None:
                            yield SoFar(curves)
                    continue
                if len(text) > _LONG_LINE:
                    answer = await asyncio.to_thread(answer_of, text, self.rig)
                else:
                    answer = answer_of(text, self.rig)
                finished = not isinstance(answer, Progress)
                if isinstance(answer, Progress):
                    self._bound = answer.bound or 0
                yield answer
                if finished:
                    break
            if not finished and self.stopping:
                async for best in self._best_so_far():
                    yield best
            elif not finished and not self._killed:
                while line:
                    line = await said.get()
                yield f"the planner stopped (exit status {process.status})"
        finally:
            self.kill()

    async def _best_so_far(self) -> AsyncGenerator[Plan, None]:
        """The best plan that the process has said by now; at the least, the rig as it stands."""
        from rigtui.plan.ask.so_far import ended_early

        if self.stopping and not self._given_up:
            plan = await asyncio.to_thread(self._said)
            if plan is not None:
                yield ended_early(plan, plan.goal.weight(self._bound))

    def _said(self) -> Plan | None:
        from rigtui.plan.answer import today
        from rigtui.plan.ask.result import Plan, PlanError
        from rigtui.plan.wire import answer_of

        if self._so_far:
            answer = answer_of(self._so_far, self.rig)
            return answer if isinstance(answer, Plan) else None
        with contextlib.suppress(PlanError):
            return today(self.rig, self.question)
        return None

    def stop(self) -> None:
        """Have the best plan so far; it comes as the last answer, if there is any yet.

        The process is asked for it, as it may know a better one than it has said. It has little
        time to answer: the player waits. Where there is no plan at all yet, it has time to make the
        first one.
        """
        from rigtui.plan.wire import STOP

        if self.stopping:
            self._given_up = True
            self.kill()
            return
        self.stopping = True
        if self._process is not None:
            self._process.say(f"{STOP}\n")
        self._kill_in(_PATIENCE_SECONDS if self._has_any() else _FIRST_PLAN_SECONDS)

    def _has_any(self) -> bool:
        """Whether there is a plan to fall back on."""
        from rigtui.plan.answer import stands_today
        from rigtui.plan.ask.result import PlanError

        try:
            return bool(self._so_far) or stands_today(self.rig, self.question)
        except PlanError:  # the process says it better
            return False

    def _kill_in(self, seconds: float) -> None:
        if self._last_resort is not None:
            self._last_resort.cancel()
        loop = asyncio.get_running_loop()
        self._last_resort = loop.call_later(seconds, self.kill)

    def kill(self) -> None:
        """End the process at once, if it has not ended by itself."""
        self._killed = True
        if self._last_resort is not None:
            self._last_resort.cancel()
        if self._process is not None:
            self._process.kill()
