"""Accepting the plan on the screen: at once, or after a question where something speaks against."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from rigtui.model.errors import EditError

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.tui.views.base import View
    from rigtui.tui.views.plan.runs import PlanRuns
    from rigtui.tui.views.plan.worth import PlanWorth


class Accepting:
    """Has the view make the rig what the plan says."""

    def __init__(
        self,
        view: View,
        runs: PlanRuns,
        worth: PlanWorth,
        changed_since: Callable[[], list[str]],
        plan_again: Callable[[], None],
    ) -> None:
        """Take what there is to accept, and what a question leads to.

        Args:
            view: The view, which asks for the edit.
            runs: The planner's runs, with the last plan.
            worth: What that plan is worth.
            changed_since: Says which options were changed since the plan was made.
            plan_again: Starts the planner.
        """
        self._view, self._runs, self._worth = view, runs, worth
        self._changed_since, self._plan_again = changed_since, plan_again

    def accept(self) -> None:
        """Make the rig what the plan says, as one step of undo."""
        plan, now = self._runs.plan, self._runs.rig
        if plan is None or plan.rig is None or now is None:
            return
        if not self._runs.fits(self._view.rig):
            self._does_not_fit(plan.rig)
            return
        self._worth.finish()
        if self._changed_since() or self._worth.doubts:
            self._ask(now, plan.rig, plan.kind)
        else:
            self._do(now, plan.rig, plan.kind)

    def _ask(self, now: Rig, then: Rig, kind: str) -> None:
        """Say what speaks against the plan, and accept it only after a yes."""
        from rigtui.tui.views.plan.forms import accept_question

        def answered(answer: str | None) -> None:
            if answer == "p":
                self._plan_again()
            elif answer == "y":
                self._do(now, then, kind)

        question = accept_question(self._worth, self._changed_since())
        self._view.app.push_screen(question, answered)

    def _do(self, now: Rig, then: Rig, kind: str) -> None:
        def edit(rig: Rig) -> Rig:
            if rig is not now and rig != now:
                raise EditError("the rig has changed since this plan was made: plan again")
            return then

        self._view.request(f"plan {kind}", edit)

    def _does_not_fit(self, then: Rig) -> None:
        """Say that the plan is accepted already, or offer to plan again."""
        from rigtui.tui.views.plan.forms import again_question

        if then == self._view.rig:
            self._view.notify("The plan is accepted already; u takes it back.", markup=False)
            return

        def answered(answer: str | None) -> None:
            if answer == "p":
                self._plan_again()

        self._view.app.push_screen(again_question(), answered)
