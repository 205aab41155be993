"""The planner's runs as the plan view needs them: one plan at a time, and then why it is so."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import aclosing
from dataclasses import replace
from typing import TYPE_CHECKING

from rigtui.tui.planner import Planner, SoFar

if TYPE_CHECKING:
    from textual.widget import Widget

    from rigtui.model.rig import Rig
    from rigtui.plan.ask.control import Progress
    from rigtui.plan.ask.question import Question
    from rigtui.plan.ask.result import Plan

_TOO_SOON = "stopped before there was any"


def _empty(plan: Plan) -> bool:
    """Whether a plan says nothing at all."""
    return plan.moves_after is None and plan.conflict is None and not plan.details


class PlanRuns:
    """Starts planners, hears them, and keeps the last plan."""

    def __init__(
        self,
        owner: Widget,
        heard: Callable[[], None],
        shown: Callable[[], None],
        ended: Callable[[], None],
        explained: Callable[[], None],
    ) -> None:
        """Take whom to tell.

        Args:
            owner: The widget whose workers listen to the planners.
            heard: Called when there is progress.
            shown: Called when there is more to look at, and the planner goes on.
            ended: Called when a planner has ended, with a plan or without.
            explained: Called when it is known why the plan is as it is.
        """
        self._owner, self._heard, self._shown = owner, heard, shown
        self._ended, self._told = ended, explained
        self.planner: Planner | None = None
        self.explainer: Planner | None = None
        self._clear()

    def _clear(self) -> None:
        self.plan: Plan | None = None
        """The last plan; it stands until the next one comes."""
        self.rig: Rig | None = None
        """The rig that the plan is for."""
        self.asked: Question | None = None
        self.interrupted = False
        """Whether the player stopped the planner that made the plan."""
        self.fault = ""
        """Why the last run gave no plan, where the planner could not say it in one."""
        self.why: Plan | None = None
        """Why the plan is as it is; it comes some time after the plan."""
        self.progress: Progress | None = None
        self.falling: list[float] = []
        """What the best plan so far came to, each better than the one before."""
        self._began = 0.0

    @property
    def running(self) -> bool:
        """Whether a planner is at work."""
        return self.planner is not None

    @property
    def stopping(self) -> bool:
        """Whether the planner at work was asked to stop."""
        return self.planner is not None and self.planner.stopping

    @property
    def seconds(self) -> float:
        """How long the planner has been at work."""
        return time.monotonic() - self._began if self.running else 0.0

    def fits(self, rig: Rig | None) -> bool:
        """Whether a rig is the one that the plan is for."""
        return rig is self.rig or rig == self.rig

    def start(self, rig: Rig, question: Question) -> None:
        """Plan; a run that goes on is given up."""
        self.kill()
        self.planner, self.progress, self.fault = Planner(rig, question), None, ""
        self.falling = []
        self._began = time.monotonic()
        self._owner.run_worker(self._hear(self.planner), group="planner", exclusive=True)

    def stop(self) -> None:
        """Ask for the best so far; a second time, give the run up."""
        if self.planner is not None:
            self.planner.stop()

    def kill(self) -> None:
        """End all planners at once."""
        for planner in (self.planner, self.explainer):
            if planner is not None:
                planner.kill()
        self.planner = self.explainer = None

    def forget(self) -> None:
        """End all planners, and forget the last plan."""
        self.kill()
        self._clear()

    async def _hear(self, planner: Planner) -> None:
        from rigtui.plan.ask.control import Progress

        async with aclosing(planner.answers()) as answers:
            async for answer in answers:
                if self.planner is not planner:
                    return
                if isinstance(answer, str):
                    self._end(planner, None, answer)
                elif isinstance(answer, Progress):
                    self.progress = answer
                    if answer.best is not None and [answer.best] != self.falling[-1:]:
                        self.falling.append(answer.best)
                    self._heard()
                elif isinstance(answer, SoFar):
                    self._take(planner, answer.plan)
                    self._shown()
                else:
                    self._end(planner, answer, "")
        if self.planner is planner:  # killed before it had any plan
            self._end(planner, None, _TOO_SOON)

    def _end(self, planner: Planner, plan: Plan | None, fault: str) -> None:
        if plan is not None and planner.stopping and _empty(plan):
            plan, fault = None, _TOO_SOON
        if fault == _TOO_SOON and self.plan is not None:
            fault += "; the plan from before still stands"
        self.planner, self.progress, self.fault = None, None, fault
        if plan is not None:
            self._take(planner, plan)
            self.interrupted, self.why = planner.stopping, None
            if plan.rig is not None:
                self._explain(plan.rig, planner.question)
        self._ended()

    def _take(self, planner: Planner, plan: Plan) -> None:
        self.plan, self.rig, self.asked = plan, planner.rig, planner.question

    def _explain(self, rig: Rig, question: Question) -> None:
        """Have it worked out why the plan is as it is, while the player looks at it."""
        self.explainer = Planner(rig, replace(question, kind="explain"))
        self._owner.run_worker(self._hear_why(self.explainer), group="reasons", exclusive=True)

    async def _hear_why(self, planner: Planner) -> None:
        async with aclosing(planner.answers()) as answers:
            async for answer in answers:
                if self.explainer is planner and getattr(answer, "kind", "") == "explain":
                    self.why = answer  # type: ignore[assignment]
                    self._told()
