"""Planning: the fewest moves, and what can be proved of them.

Planners are pure: a rig and a `Question` in, a `Plan` out, with the new rig, what it costs as the
report counts it, and a proven bound. They tell a `Control` how far they are, and stop when it
says so. Names are fetched when they are first used, so that nothing else waits for numpy.

A room for each problem, each standing only on those named before it:
ask (what is asked, what comes back) <- presets, route <- memories <- loops <- rebuild, ways_out
<- whole (loops, switches, all), verdict (what a plan comes to) <- insight (curves, reasons)
<- words (all of it in sentences).
Planners give data; sentences are made in `words` alone. `answer.plan` is the door through which
all are asked, `insights` makes plans of answers that change nothing, `finish` is what every plan
goes through last, `wire` and `__main__` are a planner in a process of its own.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rigtui.plan.ask.control import Control, Progress
    from rigtui.plan.ask.figures import Figures
    from rigtui.plan.ask.question import Question
    from rigtui.plan.ask.result import Conflict, Plan, PlanError, Proof, Status
    from rigtui.plan.insight.curve import moves_curve
    from rigtui.plan.insight.explain import Explanation, explain_plan
    from rigtui.plan.insight.points import Curve, CurvePoint
    from rigtui.plan.route.planner import evening_walk, plan_route, song_walk
    from rigtui.plan.whole.everything import plan_all
    from rigtui.plan.whole.loops import plan_loops
    from rigtui.plan.whole.switches import plan_switches

_HOMES = {
    "ask.control": ("Control", "Progress"),
    "ask.figures": ("Figures",),
    "ask.question": ("Question",),
    "ask.result": ("Conflict", "Proof", "Plan", "PlanError", "Status"),
    "insight.curve": ("moves_curve",),
    "insight.explain": ("Explanation", "explain_plan"),
    "insight.points": ("Curve", "CurvePoint"),
    "whole.switches": ("plan_switches",),
    "route.planner": ("evening_walk", "plan_route", "song_walk"),
    "whole.everything": ("plan_all",),
    "whole.loops": ("plan_loops",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = [
    "Conflict",
    "Control",
    "Curve",
    "CurvePoint",
    "Explanation",
    "Figures",
    "Plan",
    "PlanError",
    "Progress",
    "Proof",
    "Question",
    "Status",
    "evening_walk",
    "explain_plan",
    "moves_curve",
    "plan_all",
    "plan_loops",
    "plan_route",
    "plan_switches",
    "song_walk",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    home = importlib.import_module(f"{__name__}.{_HOME_OF[name]}")
    return globals().setdefault(name, getattr(home, name))
