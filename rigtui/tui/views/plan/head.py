"""The lines above the plan: how the planner stands, what it found, what can be done."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from rigtui.model.cells import cells, clip, wrap
from rigtui.model.text import number_text, visible

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rigtui.plan.ask.control import Progress
    from rigtui.plan.ask.result import Conflict, Plan
    from rigtui.plan.verdict.appraisal import Appraisal

_BAR = 20
_MOST_STEPS = 5
"""Best plans of which the figures are shown while the planner is at work, the last ones."""
_EVENING = 18
"""Cells for the name of a setlist."""
_FEW, _MANY = 9, 11
"""Lines of the head, where the screen is small and where it is large."""
_SENTENCE = 3
"""Lines of the sentence that says what to do."""
_NAME = 15
"""Cells for the names of the four lines."""
_ELSEWHERE = " (more in To do)"
_ENDS = re.compile(r"[.;:,]? (?=\()|[.;] |, ")
"""Where a text may end early and still be whole."""


class HeadLine(NamedTuple):
    """A line of the head, and how it looks."""

    text: str
    look: str = ""
    """A style of the screen library; what the line says stands in its words."""


@dataclass(frozen=True, slots=True)
class StageOfPlan:
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
    caveats: Sequence[str] = ()
    """What to know before the plan is accepted."""
    changed_since: Sequence[str] = ()
    """What is asked for otherwise now than when the plan was made."""
    asks: bool = False
    """Whether y asks before it accepts."""
    evening: str = ""
    """Which setlists it is for, where there are several."""
    known: Appraisal | None = None
    """The plan held against the rig, once it is weighed."""
    falling: Sequence[float] = ()
    """What the best plan so far came to, each better than the one before."""
    smaller: str = ""
    """What does as well with far less to learn, in a line; "" for nothing."""


def head_lines(stage: StageOfPlan, width: int, *, roomy: bool = False) -> list[HeadLine]:
    """Say how it stands: what was found, what it costs, what is proved, what to press next.

    Args:
        stage: How it stands.
        width: Cells in a line.
        roomy: Whether there is room for more than five lines, and so for whole sentences.
    """
    if stage.running:
        lines = _running(stage)
    elif stage.fault:
        next_ = "Change the options, then press p to start again."
        fault = _broken(f"No plan: {stage.fault}", max(1, width), "bold", most=6)
        return [*fault, *_broken(next_, max(1, width), most=1)]
    elif stage.plan is None:
        lines = [
            "Choose what may change and what must not: enter changes a row, x clears it.",
            "p starts the planner. Every section keeps its sound, and nothing changes",
            "until you accept.",
        ]
    else:
        return _planned(stage, stage.plan, max(1, width), roomy=roomy)
    first, *rest = [clip(visible(line), max(1, width)) for line in lines]
    return [HeadLine(first, "bold"), *map(HeadLine, rest)]


def _running(stage: StageOfPlan) -> list[str]:
    clock = f"{stage.seconds:.0f} s"
    if stage.stopping:
        return [f"Stopping; fetching the best plan ({clock})", "", "c again gives up."]
    progress = stage.progress
    if progress is None:
        return [f"Planning ... ({clock})", "", "c stops."]
    share = min(1.0, max(0.0, progress.done))
    full = round(share * _BAR)
    first = f"{'█' * full}{'░' * (_BAR - full)} {100 * share:3.0f} %  {progress.stage} ({clock})"
    best = "Nothing found yet"
    if stage.plan is not None and stage.plan.kind == "curve":
        best = "Below is what was found so far; - was not looked at yet"
    elif stage.falling:
        steps = [number_text(value) for value in stage.falling[-_MOST_STEPS:]]
        best = f"Best so far {' → '.join(steps)} {progress.counts}"
    if progress.bound is not None:
        best += f"; no plan needs fewer than {number_text(progress.bound)}"
    return [first, best, "c stops and keeps the best so far."]


def _planned(stage: StageOfPlan, plan: Plan, width: int, *, roomy: bool) -> list[HeadLine]:
    from rigtui.plan.words.curve import worth_most
    from rigtui.plan.words.outcome import brief_headline, headline, verdict, worst

    if plan.conflict is not None:
        return _refused(stage, plan, plan.conflict, width)
    if stage.known is not None and plan.rig is not None:
        return _weighed(stage, plan, stage.known, width, roomy=roomy)
    said = headline(plan) if roomy else brief_headline(plan)
    if plan.kind == "curve":
        said = f"{worth_most(plan.details['curves'])}."
    harder = worst(plan) if roomy and plan.kind != "curve" else None
    said = f"{said}; {harder}" if harder else said
    evening = clip(visible(stage.evening), _EVENING)
    said = f"{evening}: {said[0].lower()}{said[1:]}" if evening else said[0].upper() + said[1:]
    first = _broken(said, width, "bold", most=3 if roomy else 2)
    proof = verdict(plan, interrupted=stage.interrupted, brief=not roomy)
    elsewhere = "" if plan.kind == "curve" else _ELSEWHERE
    proved = _whole(proof, width, most=2, elsewhere=elsewhere)
    return [*first, *proved, *_broken(_next(stage, plan), width)]


def _weighed(
    stage: StageOfPlan, plan: Plan, known: Appraisal, width: int, *, roomy: bool
) -> list[HeadLine]:
    """What to do, the four lines, what to know first, and what can be done now."""
    from rigtui.plan.words.brief import head
    from rigtui.plan.words.what_to_do import what_to_do

    four: list[HeadLine] = []
    evening = clip(visible(stage.evening), _EVENING)
    room = max(1, width - _NAME)
    in_full, in_brief = (
        head(known, interrupted=stage.interrupted, brief=brief) for brief in (False, True)
    )
    for (name, text), (_, short) in zip(in_full, in_brief):
        said = text if cells(text) <= room else short
        said = f"{evening}: {said}" if evening and not four else said
        (line,) = _whole(said, room, most=1, elsewhere="")
        four.append(HeadLine(f"{name:<{_NAME}}{line.text}"))
    next_ = _broken(_next(stage, plan), width, most=1 + stage.accepted)
    if stage.accepted and not stage.same:
        return [*four, *next_]
    advice = _whole(what_to_do(known), width, "bold", most=_SENTENCE)
    if stage.smaller and not stage.stale:
        advice.append(_smaller(stage.smaller, width))
    caveats = stage.caveats
    room = (_MANY if roomy else _FEW) - len([*advice, *four, *next_])
    warned = []
    if caveats and room > 0:
        more = _ELSEWHERE if len(caveats) > 1 else ""
        warned = _whole(caveats[0], width, "$text-warning", most=room, more=more)
    return [*advice, *four, *warned, *next_]


def _smaller(brief: str, width: int) -> HeadLine:
    """What does as well with far less to learn, and the key that leads to it."""
    line = f"{brief}: o shows how."
    if cells(line) > width:
        line = f"{brief.partition(', with ')[0]}: o shows how."
    return HeadLine(clip(line, width))


def cut_sentence(known: Appraisal, width: int) -> str:
    """What to do, if the head has no room for all of it; else nothing.

    Args:
        known: The plan held against the rig as it is.
        width: Cells in a line of the head.
    """
    from rigtui.plan.words.what_to_do import what_to_do

    if known.plan.rig is None:
        return ""
    sentence = visible(what_to_do(known))
    return sentence if len(wrap(sentence, max(1, width))) > _SENTENCE else ""


def _refused(stage: StageOfPlan, plan: Plan, conflict: Conflict, width: int) -> list[HeadLine]:
    """Why there is no plan, and what can be done about it."""
    from rigtui.plan.words.conflict import sentence, title

    if stage.changed_since:
        last = (
            f"You've changed the options since ({', '.join(stage.changed_since)}): p plans again."
        )
    elif conflict.relaxations:
        last = "Below is what would make it work: enter adds one to your options."
    else:
        last = "Change the options, then press p to plan again."
    return [
        HeadLine(title(plan), "bold"),
        *_whole(sentence(conflict.reason), width, most=3, elsewhere=" (more below)"),
        *_broken(last, width),
    ]


def _next(stage: StageOfPlan, plan: Plan) -> str:
    """What can be done now."""
    if plan.rig is not None and stage.accepted and not stage.same:
        counts = " The line at the bottom counts one setlist alone." if stage.evening else ""
        return f"Accepted: the rig is as planned. u takes it back.{counts}"
    if stage.stale:
        return "The rig has changed since: p plans again."
    if stage.changed_since:
        asks = "; y asks first" if plan.rig is not None else ""
        return f"Made with other options ({', '.join(stage.changed_since)}): p plans again{asks}."
    if plan.kind == "curve":
        return "Nothing to accept: this is what other switchers could do for you."
    if plan.rig is None:
        return "p starts again."
    if stage.same:
        return "Nothing to accept: this is your rig as it is."
    if stage.asks:
        return "y accepts it after asking you. tab: what changes, what to do, songs."
    return "y accepts it as one step, u takes it back. tab: what to do, songs."


def _broken(text: str, width: int, look: str = "", most: int = 2) -> list[HeadLine]:
    """A text in as many lines as it needs, but not more than there is room for."""
    lines = wrap(visible(text), width)
    if len(lines) > most:
        rest = " ".join(lines[most - 1 :])
        lines = [*lines[: most - 1], clip(rest, width)]
    return [HeadLine(line, look) for line in lines]


def _whole(
    text: str,
    width: int,
    look: str = "",
    *,
    most: int,
    more: str = "",
    elsewhere: str = _ELSEWHERE,
) -> list[HeadLine]:
    """As much of a text as there is room for and is whole.

    Args:
        text: The text.
        width: Cells in a line.
        look: A style.
        most: Lines.
        more: What to say at its end if there is room.
        elsewhere: What to say where it ends early: where the rest stands.
    """
    shown = visible(text)
    for ended in (shown + more, shown):
        if len(wrap(ended, width)) <= most:
            return _broken(ended, width, look, most)
    for end in [*_ENDS.finditer(shown)][::-1]:
        cut = shown[: end.start()]
        if cut.count("(") != cut.count(")"):
            continue
        for ended in (cut + elsewhere, *[cut] * (end[0] == ". ")):
            if len(wrap(ended, width)) <= most:
                return _broken(ended, width, look, most)
    return _broken(shown, width, look, most)
