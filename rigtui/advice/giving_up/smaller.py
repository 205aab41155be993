"""What does as well as a plan with far less to learn: the rig as it is, some sounds given up."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.advice.giving_up.answer import what_to_give_up
from rigtui.advice.giving_up.point import FrontierPoint
from rigtui.advice.giving_up.words import given_up, stored_in_words
from rigtui.model.text import count, listed
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError
from rigtui.plan.verdict.appraisal import Appraisal
from rigtui.plan.verdict.mapping import mapped_anew

MANY = 20
"""Sections to learn anew from which on something smaller is looked for."""
_SECONDS = 3.0
_TIMES = 3
"""How many times fewer sections it must touch."""


@dataclass(frozen=True, slots=True)
class SmallerWay:
    """The rig as it is with a few sounds given up, as good as a plan that changes far more."""

    point: FrontierPoint
    instead_of: int
    """Sections that the plan has to be learned anew."""

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
            f"Or touch {count(self.point.sections, 'section')}, not {self.instead_of}: {doing}; "
            f"{can} can be played, {count(figures.extra_presses, 'extra press', 'extra presses')}, "
            f"{count(figures.moves, 'press', 'presses')} inside songs"
        )


def smaller_way(known: Appraisal, question: Question, control: Control) -> SmallerWay | None:
    """Look for sounds to give up that do as well as a plan of loops, and touch far fewer sections.

    Args:
        known: The plan.
        question: What it was asked.
        control: The time that there is; not much of it is taken.
    """
    plan = known.plan
    if plan.kind not in ("loops", "all") or plan.rig is None or plan.after is None:
        return None
    learned = sum(len(song.sections) for song in mapped_anew(known.now, plan.rig))
    if learned < MANY or question.memories is not None:
        return None
    try:
        answer = what_to_give_up(
            known.now, question.setlists, question.keep, control=control.within(_SECONDS)
        )
    except PlanError:
        return None
    enough = (plan.after.unplayable, plan.after.extra_presses)
    for at, (_, step) in enumerate(answer.steps):
        if step.level.unplayable <= enough[0] and step.level.extra_presses <= enough[1]:
            point = answer.point(at)
            small = 0 < point.sections * _TIMES <= learned
            return SmallerWay(point, learned) if small else None
    return None
