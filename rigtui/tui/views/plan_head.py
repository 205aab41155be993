"""The lines above the plan: how the planner stands, what it found, what can be done."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from rigtui.model.cells import clip, wrap
from rigtui.model.text import visible

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rigtui.checks import Difference
    from rigtui.plan.appraisal import Appraisal
    from rigtui.plan.control import Progress
    from rigtui.plan.result import Conflict, Plan

_BAR = 20
_EVENING = 18
"""Cells for the name of a setlist."""
_ROOMY = 100
"""Cells from which on the rules that find more are named in the head too."""


class Line(NamedTuple):
    """A line of the head, and how it looks."""

    text: str
    look: str = ""
    """A style of the screen library; what the line says stands in its words."""


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
    appraisal: Appraisal | None = None
    """What the plan is worth."""
    findings: Difference | None = None
    """What it does to the findings, once that is counted."""
    other_wishes: Sequence[str] = ()
    """What is asked for otherwise now than when the plan was made."""
    asks: bool = False
    """Whether y asks before it accepts."""
    evening: str = ""
    """Which setlists it is for, where there are several."""


def head_lines(stage: Stage, width: int) -> list[Line]:
    """Say how it stands: what was found, what it costs, what is proved, what to press next."""
    if stage.running:
        lines = _running(stage)
    elif stage.fault:
        next_ = "Change the wishes, and p starts again."
        fault = _broken(f"No plan: {stage.fault}", max(1, width), "bold", most=6)
        return [*fault, *_broken(next_, max(1, width), most=1)]
    elif stage.plan is None:
        lines = [
            "Say what may change and what must not: enter changes a row, x takes it back.",
            "p starts the planner. Every section keeps its sound, and nothing is changed",
            "until you accept.",
        ]
    else:
        return _planned(stage, stage.plan, max(1, width))
    first, *rest = [clip(visible(line), max(1, width)) for line in lines]
    return [Line(first, "bold"), *map(Line, rest)]


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


def _planned(stage: Stage, plan: Plan, width: int) -> list[Line]:
    from rigtui.plan.words import headline, verdict, worst

    if plan.conflict is not None:
        return _refused(stage, plan, plan.conflict, width)
    figures = [headline(plan), worst(plan) if plan.kind != "curve" else None]
    said = "; ".join(text for text in figures if text)
    if stage.evening:
        evening = clip(visible(stage.evening), _EVENING)
        said = f"{evening}: {said[0].lower()}{said[1:]}"
    lines = _broken(said, width, "bold", most=3)
    caveats = stage.appraisal.caveats if stage.appraisal is not None else ()
    if caveats and not stage.accepted:
        more = f" (and {len(caveats) - 1} more to know)" if len(caveats) > 1 else ""
        lines += _broken(f"{caveats[0]}{more}", width, "$text-warning")
    said = verdict(plan, interrupted=stage.interrupted)
    lines += _broken(said, width)
    if plan.rig is not None and not stage.accepted:
        lines += _broken(_findings(stage.findings, width), width, most=1)
    return lines + _broken(_next(stage, plan), width, most=1)


def _refused(stage: Stage, plan: Plan, conflict: Conflict, width: int) -> list[Line]:
    """Why there is no plan, and what can be done about it."""
    from rigtui.plan.conflict_words import sentence, title

    if stage.other_wishes:
        last = f"You wish otherwise since ({', '.join(stage.other_wishes)}): p plans again."
    elif conflict.relaxations:
        last = "Below stands what would do: enter takes one into the wishes, p plans again."
    else:
        last = "Change the wishes, and p plans again."
    return [
        Line(title(plan), "bold"),
        *_broken(sentence(conflict.reason), width),
        *_broken(last, width),
    ]


def _findings(found: Difference | None, width: int) -> str:
    """What the plan does to the findings, and where there is room, the rules that find more."""
    if found is None:
        return "Findings: counting ..."
    rules = found.more() if width >= _ROOMY else []
    return "; ".join([found.headline(), *rules])


def _next(stage: Stage, plan: Plan) -> str:
    """What can be done now."""
    if plan.rig is not None and stage.accepted and not stage.same:
        return "Accepted: the rig is as planned. u takes it back."
    if stage.stale:
        return "The rig has changed since: p plans again."
    if stage.other_wishes:
        asks = "; y asks first" if plan.rig is not None else ""
        return f"Made for other wishes ({', '.join(stage.other_wishes)}): p plans again{asks}."
    if plan.kind == "curve":
        return "Nothing to accept: this is what other switchers could do for you."
    if plan.rig is None:
        return "p starts again."
    if stage.same:
        return "Nothing to accept: the rig is so already."
    if stage.asks:
        return "y accepts it after asking you. tab: what changes, what to do, songs."
    return "y accepts it as one step, u takes it back. tab: what to do, songs."


def _broken(text: str, width: int, look: str = "", most: int = 2) -> list[Line]:
    """A text in as many lines as it needs, but not more than there is room for."""
    lines = wrap(visible(text), width)
    if len(lines) > most:
        rest = " ".join(lines[most - 1 :])
        lines = [*lines[: most - 1], clip(rest, width)]
    return [Line(line, look) for line in lines]
