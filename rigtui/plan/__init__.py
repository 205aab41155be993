"""Planning: the fewest moves, and what can be proved of them.

Planners are pure: a rig and wishes in, a `Plan` out, with the new rig, what it costs as the
report counts it, and a proven bound. They tell a `Control` how far they are, and stop when it
says so. Names are fetched when they are first used, so that nothing else waits for numpy.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rigtui.plan.control import Control, Progress
    from rigtui.plan.curve import Curve, Point, moves_curve
    from rigtui.plan.everything import plan_all
    from rigtui.plan.explain import Explanation, explain_plan
    from rigtui.plan.loops import plan_loops
    from rigtui.plan.result import Conflict, Figures, Part, Plan, PlanError, Status
    from rigtui.plan.route import evening_walk, plan_route, song_walk
    from rigtui.plan.switches import SwitchWishes, plan_switches
    from rigtui.plan.wishes import LoopWishes

_HOMES = {
    "control": ("Control", "Progress"),
    "curve": ("Curve", "Point", "moves_curve"),
    "everything": ("plan_all",),
    "explain": ("Explanation", "explain_plan"),
    "loops": ("plan_loops",),
    "result": ("Conflict", "Figures", "Part", "Plan", "PlanError", "Status"),
    "route": ("evening_walk", "plan_route", "song_walk"),
    "switches": ("SwitchWishes", "plan_switches"),
    "wishes": ("LoopWishes",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = [
    "Conflict",
    "Control",
    "Curve",
    "Explanation",
    "Figures",
    "LoopWishes",
    "Part",
    "Plan",
    "PlanError",
    "Point",
    "Progress",
    "Status",
    "SwitchWishes",
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
