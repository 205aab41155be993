"""What the plan on the screen is worth: its caveats at once, its findings a little at a time."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.widget import Widget

    from rigtui.checks import Checkup, Difference
    from rigtui.model.rig import Rig
    from rigtui.plan.ask.question import Question
    from rigtui.plan.ask.result import Plan
    from rigtui.plan.verdict.appraisal import Appraisal

_SLICE_SECONDS = 0.01
"""How long the rules may hold up the keys."""


class PlanWorth:
    """Holds a plan against the rig that it was made for."""

    def __init__(self, owner: Widget, told: Callable[[], None]) -> None:
        """Take whose worker goes through the rules, and whom to tell once they are through."""
        self._owner, self._told = owner, told
        self.known: Appraisal | None = None
        """The plan held against the rig; None until it is weighed."""
        self.caveats: tuple[str, ...] = ()
        """What to know before it is accepted, in sentences."""
        self.findings: Difference | None = None
        """What the plan does to the findings; None until all rules went through both rigs."""
        self._checkups: list[Checkup] = []

    def forget(self) -> None:
        """Another plan has come, which has not been weighed yet."""
        self.known, self.caveats = None, ()
        self.findings, self._checkups = None, []

    def weigh(self, plan: Plan, rig: Rig, asked: Question) -> Appraisal:
        """Weigh a plan; the findings come some time later."""
        from rigtui.checks import Checkup
        from rigtui.plan.ask.evening import evening_of
        from rigtui.plan.verdict.appraisal import appraise
        from rigtui.plan.words.caveats import caveats

        self.known = appraise(plan, rig, evening_of(rig, asked.setlists))
        self.caveats = caveats(self.known)
        self.findings, self._checkups = None, []
        if plan.rig is not None:
            self._checkups = [Checkup(rig), Checkup(plan.rig)]
            self._owner.run_worker(
                self._go_through(self._checkups), group="findings", exclusive=True
            )
        return self.known

    async def _go_through(self, checkups: list[Checkup]) -> None:
        end = time.monotonic() + _SLICE_SECONDS
        for checkup in checkups:
            for _ in checkup:
                if time.monotonic() > end:
                    await asyncio.sleep(0.001)
                    if self._checkups is not checkups:
                        return
                    end = time.monotonic() + _SLICE_SECONDS
        if self._checkups is checkups:
            self.finish()
            self._told()

    def finish(self) -> None:
        """Have the findings now; what is not counted yet is counted while the screen waits."""
        if self.findings is not None or not self._checkups:
            return
        from rigtui.checks import difference

        for checkup in self._checkups:
            for _ in checkup:
                pass
        before, after = self._checkups
        self.findings = difference(before.findings, after.findings)

    @property
    def doubts(self) -> list[str]:
        """Why the player should be asked before the plan is accepted, in sentences."""
        better = self.known is None or self.known.better
        said = [] if better else list(self.caveats[:1])
        worse = self.findings.worse() if self.findings is not None else None
        return [*said, worse] if worse is not None else said

    @property
    def first_caveats(self) -> list[str]:
        """What to know first, beside the four lines of the head."""
        from rigtui.plan.words.caveats import brief_caveats

        if self.known is None:
            return []
        worse = self.findings.worse() if self.findings is not None else None
        said = list(brief_caveats(self.known))
        return [*said, worse] if worse is not None else said

    @property
    def sentences(self) -> list[str]:
        """All that is to be known before accepting."""
        said = list(self.caveats)
        if self.findings is not None:
            worse = self.findings.worse()
            said += [] if worse is None else [worse]
            said.append(self.findings.headline())
            rules = self.findings.lines() if worse is None else self.findings.fewer()
            said += [f"Findings, {line}" for line in rules]
        return said
