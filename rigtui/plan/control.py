"""The wire between a planner and whoever waits for it: progress out, cancel in, a time limit."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from rigtui.plan.result import Stopped


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a planner has come."""

    stage: str
    """What it is doing, in words."""
    done: float
    """Share of the stage that is done, 0 to 1."""
    best: int | None = None
    """Moves of the best plan so far."""
    bound: int | None = None
    """No plan can need fewer."""


class Control:
    """Carries progress to a callback, and the wish to stop to the planner.

    Args:
        report: Called with each `Progress`; it may raise nothing.
        cancelled: Asked often, at least every few hundredths of a second.
        seconds: Time limit; None for no limit.
    """

    def __init__(
        self,
        report: Callable[[Progress], None] | None = None,
        cancelled: Callable[[], bool] | None = None,
        seconds: float | None = None,
    ) -> None:
        self._report, self._cancelled = report, cancelled
        self._end = None if seconds is None else time.monotonic() + seconds
        self.best: int | None = None
        self.bound: int | None = None

    def check(self) -> None:
        """Raise `Stopped` if the player cancelled or the time is up."""
        if self.over:
            raise Stopped

    @property
    def over(self) -> bool:
        """Whether to stop now."""
        late = self._end is not None and time.monotonic() >= self._end
        return late or self.cancelled

    @property
    def cancelled(self) -> bool:
        """Whether the player wants to stop, the time aside."""
        return self._cancelled is not None and self._cancelled()

    def tell(
        self, stage: str, done: float, *, best: int | None = None, bound: int | None = None
    ) -> None:
        """Report progress, and stop if that is wanted."""
        if best is not None and (self.best is None or best < self.best):
            self.best = best
        if bound is not None and (self.bound is None or bound > self.bound):
            self.bound = bound
        if self._report is not None:
            self._report(Progress(stage, done, self.best, self.bound))
        self.check()

    def within(self, seconds: float) -> Control:
        """Give a part of the work its own time limit; it still hears the player's cancel."""
        part = Control(self._report, self._cancelled, seconds)
        if self._end is not None and part._end is not None:
            part._end = min(part._end, self._end)
        return part
