"""Looks beside the screen for what does as well as the plan on it with far less to learn."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from rigtui.tui.adviser import Adviser

if TYPE_CHECKING:
    from textual.widget import Widget

    from rigtui.advice.giving_up.told import ToldSmaller
    from rigtui.plan.ask.question import Question
    from rigtui.plan.verdict.appraisal import Appraisal


class SmallerSearch:
    """One search at a time, for the plan that was weighed last."""

    def __init__(self, owner: Widget, told: Callable[[], None]) -> None:
        """Take whose worker waits for the answer, and whom to tell if there is one."""
        self._owner, self._told = owner, told
        self._adviser: Adviser | None = None
        self.way: ToldSmaller | None = None
        """What would do as well, once that is known."""

    def look(self, known: Appraisal, asked: Question) -> None:
        """Look for it, if the plan touches very many sections."""
        from rigtui.advice.giving_up.smaller import sought
        from rigtui.advice.giving_up.told import smaller_of
        from rigtui.advice.wire import smaller_task

        self.forget()
        wanted, rig = sought(known, asked), known.now
        if wanted is not None:
            task = partial(smaller_task, rig, wanted)
            self._adviser = Adviser(task, lambda data: smaller_of(data["smaller"], rig))
            self._owner.run_worker(self._hear(self._adviser), group="smaller", exclusive=True)

    async def _hear(self, adviser: Adviser) -> None:
        answer: ToldSmaller | str | None = await adviser.answer()
        if self._adviser is not adviser:
            return
        self._adviser = None
        if answer is not None and not isinstance(answer, str):
            self.way = answer
            self._told()

    def forget(self) -> None:
        """Give up a search that goes on, and what was found."""
        if self._adviser is not None:
            self._adviser.kill()
        self._adviser = self.way = None
