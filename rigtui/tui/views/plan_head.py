"""The lines above the plan: how the planner stands, what it found, what can be done."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rigtui.model.cells import clip
from rigtui.model.text import visible

if TYPE_CHECKING:
    from rigtui.plan.control import Progress
    from rigtui.plan.result import Plan

_BAR = 20


@dataclass(frozen=True, slots=True)
class Stage:
    """How it stands."""

    plan: Plan | None
    fault: str
    progress: Progress | None
    running: bool
    stopping: bool
    seconds: float
    """Since the planner began."""
    interrupted: bool
    """Whether the player stopped the planner that made the plan."""
    same: bool
    """Whether the plan leaves the rig as it is."""
    accepted: bool
    """Whether the rig is as planned."""
    stale: bool
    """Whether the rig is not the one that was planned for."""


def head_lines(stage: Stage, width: int) -> list[str]:
    """Say how it stands in three lines."""
    if stage.running:
        lines = _running(stage)
    elif stage.fault:
        lines = [f"No plan: {stage.fault}", "", "Change the wishes, and p starts again."]
    elif stage.plan is None:
        lines = [
            "Choose what may change, and what must not; p starts.",
            "Sounds stay as they are.",
            "Nothing is changed until you accept.",
        ]
    else:
        lines = _planned(stage, stage.plan)
    return [clip(visible(line), max(1, width)) for line in lines]


def _running(stage: Stage) -> list[str]:
    clock = f"{stage.seconds:.0f} s"
    if stage.stopping:
        return [f"Stopping: the best so far is on its way ({clock})", "", "c again gives it up."]
    progress = stage.progress
    if progress is None:
        return [f"Planning ... ({clock})", "", "c stops."]
    share = min(1.0, max(0.0, progress.done))
    full = round(share * _BAR)
    first = f"{'█' * full}{'░' * (_BAR - full)} {100 * share:3.0f} %  {progress.stage} ({clock})"
    found = "Nothing found yet" if progress.best is None else f"Best so far {progress.best} moves"
    if progress.bound is not None:
        found += f"; no plan needs fewer than {progress.bound}"
    return [first, found, "c stops and keeps the best so far."]


def _planned(stage: Stage, plan: Plan) -> list[str]:
    from rigtui.plan.words import headline, travel, verdict

    if plan.conflict is not None:
        return ["No plan can do that", plan.conflict.reason, "What would do is listed below."]
    said = verdict(plan, interrupted=stage.interrupted)
    first = headline(plan)
    if plan.after is not None:
        worst = f"worst change {plan.before.worst_change} → {plan.after.worst_change}"
        gaps = f"between songs {plan.before.set_up_moves} → {plan.after.set_up_moves}"
        first = f"{first}; {travel(plan) or worst}; {gaps}"
    if plan.kind == "curve":
        last = "Nothing to accept: this is what other switchers could do for you."
    elif plan.rig is None:
        last = "p starts again."
    elif stage.same:
        last = "Nothing to accept: the rig is so already."
    elif stage.accepted:
        last = "Accepted: the rig is as planned. u takes it back."
    elif stage.stale:
        last = "The rig has changed since: p plans again."
    else:
        last = "y accepts it as one step, which u takes back."
    return [first, said, last]
