"""What `rigtui plan` has found, for whoever writes it down."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.advice.giving_up.smaller import SmallerWay
from rigtui.checks import Difference
from rigtui.cli.plan.without import Night
from rigtui.model.rig import Rig
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan
from rigtui.plan.verdict.appraisal import Appraisal


@dataclass(frozen=True)
class Outcome:
    """A plan and its inputs, the same for every output format."""

    file: str
    night: Night
    evening: Evening
    question: Question
    plan: Plan
    interrupted: bool
    """Whether Ctrl-C ended it."""
    appraisal: Appraisal
    """What the plan is worth, all told."""
    caveats: tuple[str, ...]
    """What to know before it is accepted, in sentences."""
    findings: Difference | None
    """What it does to the findings; None where there is no plan to write, or no time to compare."""
    explained: Plan | None = None
    """Why it is so, if that was asked for."""
    smaller: SmallerWay | None = None
    """What would do as well with far less to learn, if anything."""
    written: str | None = None
    """The new file, if there is one."""

    @property
    def rig(self) -> Rig:
        """What was planned for."""
        return self.night.rig
