"""`python -m rigtui.advice`: run the adviser as its own process, so that no screen waits for it."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
from typing import Any

from rigtui.advice.counted import counted
from rigtui.advice.first import do_first
from rigtui.advice.wire import first_line
from rigtui.model.errors import RigError
from rigtui.model.lines import line_of, read_line
from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control


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
    except Exception as fault:  # told on the screen, and kept for whoever mends it
        from rigtui.store.faults import what_to_report

        what = f"something in rigtui failed; please report {what_to_report(fault)}"
        answer = line_of({"error": what})
    with contextlib.suppress(BrokenPipeError):  # nobody waits any more
        sys.stdout.write(answer)
        sys.stdout.flush()
    return 0


def answer_line(task: dict[str, Any]) -> str:
    """Do a task, and write what comes of it."""
    rig = Rig.model_validate(task["rig"])
    if "first" in task:
        return first_line(do_first(rig, task["first"]["setlists"]), rig)
    return _smaller(rig, task["smaller"]) if "smaller" in task else _give_up(rig, task["give-up"])


def _give_up(rig: Rig, asked: dict[str, Any]) -> str:
    from rigtui.advice.giving_up.answer import what_to_give_up
    from rigtui.advice.giving_up.told import told

    control = Control(seconds=asked["seconds"])
    answer = what_to_give_up(
        rig, asked["setlists"], asked["keep"], boards=asked["boards"], control=control
    )
    return line_of({"give-up": told(answer, rig, counted(rig, answer.evening))})


def _smaller(rig: Rig, asked: dict[str, Any]) -> str:
    from rigtui.advice.giving_up.smaller import Sought, smaller_way
    from rigtui.advice.giving_up.told import smaller_told
    from rigtui.plan.ask.evening import evening_of

    wanted = Sought(**asked)
    way = smaller_way(rig, wanted, Control())
    before = counted(rig, evening_of(rig, wanted.setlists))
    return line_of({"smaller": smaller_told(way, rig, before)})


if __name__ == "__main__":
    sys.exit(main())
