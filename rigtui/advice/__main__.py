"""`python -m rigtui.advice`: the adviser in a process of its own; no screen waits for it."""

from __future__ import annotations

import contextlib
import os
import signal
import sys

from rigtui.advice.first import do_first
from rigtui.advice.wire import first_line
from rigtui.model.errors import RigError
from rigtui.model.lines import line_of, read_line
from rigtui.model.rig import Rig


def main() -> int:
    """Do the task that comes in, and return the exit status."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the screen decides; it says so in words
    if hasattr(os, "nice"):
        with contextlib.suppress(OSError):
            os.nice(5)  # keys come first, where there are few cores
    task = read_line(sys.stdin.readline())
    try:
        answer = answer_line(task)
    except RigError as error:
        answer = line_of({"error": str(error)})
    with contextlib.suppress(BrokenPipeError):  # nobody waits any more
        sys.stdout.write(answer)
        sys.stdout.flush()
    return 0


def answer_line(task: dict[str, dict[str, object]]) -> str:
    """Do a task, and write what comes of it."""
    rig = Rig.model_validate(task["rig"])
    return first_line(do_first(rig, task["first"]["setlists"]), rig)  # type: ignore[arg-type]


if __name__ == "__main__":
    sys.exit(main())
