"""What does as well as a plan with far less to learn: the rig as it is, some sounds given up."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.advice.giving_up.answer import what_to_give_up
from rigtui.advice.giving_up.point import FrontierPoint
from rigtui.advice.giving_up.words import given_up, stored_in_words
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError
from rigtui.plan.verdict.appraisal import Appraisal
from rigtui.plan.verdict.worth import work_of

MANY = 20
"""Sections to learn anew from which on something smaller is looked for."""
_SECONDS = 3.0
_TIMES = 3
"""How many times fewer sections it must touch."""


@dataclass(frozen=True, slots=True)
class Sought:
    """What something smaller has to be as good as."""

    setlists: tuple[str, ...]
    keep: tuple[str, ...]
    """Ids of presets that stay."""
    unplayable: int
    """Sections that can't be played with the plan."""
    extra_presses: int
    sections: int
    """Sections that the plan has the player learn anew."""


@dataclass(frozen=True, slots=True)
class SmallerWay:
    """The rig as it is with a few sounds given up, as good as a plan that changes far more."""

    point: FrontierPoint
    instead_of: int
    """Sections that the plan has to be learned anew."""

    @property
    def brief(self) -> str:
        """How much less it is, and how many extra presses are left, in a line."""
        extra = count(self.point.counted.extra_presses, "extra press", "extra presses")
        return f"{self._touch}, with {extra}"

    @property
    def text(self) -> str:
        """It in a sentence."""
        rig, figures = self.point.rig, self.point.counted
        words = [given.text for given in given_up(rig, self.point.compromises)]
        words += [stored_in_words(self.point)] if self.point.stored else []
        doing = listed(text[0].lower() + text[1:] for text in words)
        lost = figures.unplayable
        can = f"all but {count(lost, 'section')}" if lost else "every section"
        return (
            f"{self._touch}: {doing}; "
            f"{can} can be played, {count(figures.extra_presses, 'extra press', 'extra presses')}, "
            f"{count(figures.moves, 'press', 'presses')} inside songs"
        )

    @property
    def _touch(self) -> str:
        return f"Or touch {count(self.point.sections, 'section')}, not {self.instead_of}"


def sought(known: Appraisal, question: Question) -> Sought | None:
    """Return what to look for beside a plan of loops; None where it touches few sections.

    Args:
        known: The plan.
        question: What it was asked.
    """
    plan = known.plan
    if plan.kind not in ("loops", "all") or plan.rig is None or plan.after is None:
        return None
    sections = work_of(known.now, plan.rig).sections
    if sections < MANY or question.memories is not None:
        return None
    return Sought(
        question.setlists,
        tuple(question.keep),
        plan.after.unplayable,
        plan.after.extra_presses,
        sections,
    )


def smaller_way(rig: Rig, wanted: Sought, control: Control) -> SmallerWay | None:
    """Look for sounds to give up that do as well as a plan of loops, and touch far fewer sections.

    Args:
        rig: The rig that the plan was made for.
        wanted: What it has to be as good as.
        control: The time that there is; not much of it is taken.
    """
    try:
        answer = what_to_give_up(
            rig, wanted.setlists, wanted.keep, control=control.within(_SECONDS)
        )
    except PlanError:
        return None
    for at, (_, step) in enumerate(answer.steps):
        enough = step.level.extra_presses <= wanted.extra_presses
        if enough and step.level.unplayable <= wanted.unplayable:
            point = answer.point(at)
            small = 0 < point.sections * _TIMES <= wanted.sections
            return SmallerWay(point, wanted.sections) if small else None
    return None
