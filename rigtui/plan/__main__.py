"""A planner in a process of its own, which speaks JSON, one object a line.

On standard input, first the question:

    {"plan": "loops", "rig": {...}, "setlists": ["friday"], "wishes": {...}, "seconds": 30}

`plan` is loops, switches, route, all, curve or explain; `rig` is a rig as a file's plain data;
`wishes` are the fields of `LoopWishes` (of `SwitchWishes` for switches); `curve` also takes
`over` and `values`. A later line {"stop": true}, or the end of the input, stops the search; the
best so far is then the result.

On standard output, lines {"progress": {"stage", "done", "best", "bound"}}, and at last one line
{"result": {...}} or {"error": "..."}.
"""

from __future__ import annotations

import json
import os
import sys
import threading
import time
from collections.abc import Callable, Mapping
from typing import Any, TextIO

from rigtui.model.errors import RigError
from rigtui.model.validate import rig_from_data
from rigtui.plan.control import Control, Progress
from rigtui.plan.result import PlanError

PLANS = ("loops", "switches", "route", "all", "curve", "explain")
_BETWEEN_LINES = 0.05


def answer(question: Mapping[str, Any], control: Control) -> dict[str, Any]:
    """Run the planner that a question asks for.

    Raises:
        PlanError: a question that makes no sense.
        BadRigError: a rig that breaks the file format.
    """
    from rigtui.plan import as_data

    kind = question.get("plan")
    if kind not in PLANS:
        raise PlanError(f"plan must be one of {', '.join(PLANS)}")
    rig = rig_from_data(question.get("rig", {}))
    setlists = question.get("setlists", [])
    if not isinstance(setlists, list) or not all(isinstance(one, str) for one in setlists):
        raise PlanError("setlists must be a list of ids")
    wanted = question.get("wishes", {})
    if not isinstance(wanted, dict):
        raise PlanError("wishes must be a table")
    if kind == "route":
        from rigtui.plan.route import plan_route

        return as_data.plan_to_data(plan_route(rig, setlists, control), with_rig=True)
    if kind == "switches":
        from rigtui.plan.switches import plan_switches

        plan = plan_switches(rig, setlists, as_data.switch_wishes_from(wanted), control)
        return as_data.plan_to_data(plan, with_rig=True)
    wishes = as_data.loop_wishes_from(wanted)
    if kind == "curve":
        from rigtui.plan.curve import moves_curve

        over, values = question.get("over", "loops"), question.get("values")
        curve = moves_curve(rig, str(over), setlists, wishes, values, control)
        return as_data.curve_to_data(curve)
    if kind == "explain":
        from rigtui.plan.explain import explain_plan

        return as_data.explanation_to_data(explain_plan(rig, setlists, wishes, control))
    from rigtui.plan.everything import plan_all
    from rigtui.plan.loops import plan_loops

    planner = plan_loops if kind == "loops" else plan_all
    return as_data.plan_to_data(planner(rig, setlists, wishes, control), with_rig=True)


class _Speaker:
    """Writes progress, not more often than anyone can read it."""

    def __init__(self, out: TextIO) -> None:
        self.out = out
        self.last: tuple[float, int | None] = (0.0, None)

    def say(self, line: Mapping[str, Any]) -> None:
        """Write one line."""
        self.out.write(json.dumps(line) + "\n")
        self.out.flush()

    def progress(self, now: Progress) -> None:
        """Write progress if it is news, or some time after the last line."""
        moment, best = self.last
        late = time.monotonic() - moment >= _BETWEEN_LINES
        if late or best != now.best:
            self.last = (time.monotonic(), now.best)
            self.say(
                {"progress": {"stage": now.stage, "done": round(now.done, 3),
                              "best": now.best, "bound": now.bound}}
            )  # fmt: skip


def serve(
    lines: TextIO, out: TextIO, *, listen: Callable[[TextIO, threading.Event], None] | None = None
) -> int:
    """Answer one question; return the exit status, 0 or 2."""
    speaker = _Speaker(out)
    stop = threading.Event()
    try:
        question = json.loads(lines.readline() or "{}")
        if not isinstance(question, dict):
            raise PlanError("the question must be one JSON object on one line")
        seconds = question.get("seconds")
        if seconds is not None and (
            isinstance(seconds, bool) or not isinstance(seconds, int | float) or seconds <= 0
        ):
            raise PlanError("seconds must be a number above 0")
        (listen or _listen)(lines, stop)
        control = Control(speaker.progress, stop.is_set, seconds)
        speaker.say({"result": answer(question, control)})
    except json.JSONDecodeError as error:
        speaker.say({"error": f"the question is no JSON: {error}"})
        return 2
    except RigError as error:
        speaker.say({"error": str(error)})
        return 2
    return 0


def _listen(lines: TextIO, stop: threading.Event) -> None:
    """Wait beside the planner for a line that stops it, or for the end of the input."""

    def wait() -> None:
        for line in lines:
            if line.strip() == "" or '"stop"' not in line:
                continue
            break
        stop.set()

    threading.Thread(target=wait, daemon=True).start()


def main() -> None:
    """Answer the question on standard input."""
    status = serve(sys.stdin, sys.stdout)
    sys.stdout.flush()
    os._exit(status)  # the thread that listens may sit in a read that nothing ends


if __name__ == "__main__":
    main()
