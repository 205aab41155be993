"""`python -m rigtui.plan`: a planner in a process of its own, so that no screen waits for it."""

from __future__ import annotations

import contextlib
import gc
import os
import signal
import sys
import threading
import time
from collections.abc import Iterator

from rigtui.model.errors import RigError
from rigtui.plan.answer import plan
from rigtui.plan.ask.control import Control, Progress
from rigtui.plan.ask.result import Plan
from rigtui.plan.finish import finished
from rigtui.plan.wire import STOP, error_line, plan_line, progress_line, task_of

_OFTEN_SECONDS, _ALIVE_SECONDS = 0.1, 1.0
_ROUNDING_SECONDS = 0.5
"""How long a plan on the way may be rounded off."""
"""Progress is said at most so often, and at least so often: a write to a pipe that nobody reads
any more is how an orphan learns that its screen has gone."""


class _Teller:
    """Says how far the planner has come, neither too often nor too seldom."""

    def __init__(self) -> None:
        self._last = Progress("starting", 0.0)
        self._told = 0.0
        self.stop = threading.Event()

    def progress(self, progress: Progress) -> None:
        """Take progress; say it unless the last was said just now."""
        new_stage = progress.stage != self._last.stage or progress.best != self._last.best
        self._last = progress
        if new_stage or time.monotonic() - self._told >= _OFTEN_SECONDS:
            self._say()

    def cancelled(self) -> bool:
        """Whether to stop; shows now and then that the process is alive."""
        if time.monotonic() - self._told >= _ALIVE_SECONDS:
            self._say()
        return self.stop.is_set()

    def _say(self) -> None:
        self._told = time.monotonic()
        put(progress_line(self._last))


def put(line: str) -> None:
    """Write a line to whoever waits."""
    sys.stdout.write(line)
    sys.stdout.flush()


def _lines() -> Iterator[str]:
    """Lines of standard input. Raw reads: a thread must not hold Python's own lock at exit."""
    rest = b""
    while chunk := os.read(0, 1 << 16):
        *whole, rest = (rest + chunk).split(b"\n")
        for line in whole:
            yield line.decode("utf-8")


def _listen(lines: Iterator[str], teller: _Teller) -> None:
    for line in lines:
        if line.strip() == STOP:
            teller.stop.set()


def main() -> int:
    """Do the task that comes in, and return the exit status."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the screen decides; it says so in words
    if hasattr(os, "nice"):
        with contextlib.suppress(OSError):
            os.nice(5)  # keys come first, where there are few cores
    lines = _lines()
    teller = _Teller()
    try:
        rig, question = task_of(next(lines, ""))
        gc.freeze()  # what is here stays: to go through it for garbage would hold up a stop
        threading.Thread(target=_listen, args=(lines, teller), daemon=True).start()

        def keep(better: Plan) -> None:
            soon = Control(cancelled=teller.cancelled, seconds=_ROUNDING_SECONDS)
            put(plan_line(finished(rig, better, question, soon), rig, so_far=True))

        control = Control(teller.progress, teller.cancelled, question.seconds, keep)
        try:
            put(plan_line(plan(rig, question, control), rig))
        except RigError as error:
            put(error_line(str(error)))
    except BrokenPipeError:
        os._exit(0)  # nobody waits any more, and what is in the buffer cannot be written
    return 0


if __name__ == "__main__":
    sys.exit(main())
