"""The wire between a planner and whoever waits for it: progress out, cancel in, a time limit."""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable
from dataclasses import dataclass

from rigtui.plan.ask.goal import OF_GOAL, Goal
from rigtui.plan.ask.result import Plan, Stopped

_QUICK_SECONDS = 0.03
"""What may still be spent on a plan once the player waits."""
_PATIENCE_SECONDS = 0.05
"""How long memories are chosen for a plan that is only kept in case the player stops."""
_FIRST_SECONDS = 2.0
"""How long the first plan may still take once the player waits, or the time is up."""
_SHARE = 4
"""Making plans on the way may take one part in so many and one of the time."""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a planner has come."""

    stage: str
    """What it is doing, in words."""
    done: float
    """Share of the stage that is done, 0 to 1."""
    best: float | None = None
    """What the goal counts of the best plan so far: effort, extra presses or moves."""
    bound: float | None = None
    """No plan can do with less."""
    counts: str = OF_GOAL["moves"]
    """What the goal counts, in words."""


class Control:
    """Carries progress to a callback, and the word to stop to the planner.

    Args:
        report: Called with each `Progress`; it may raise nothing.
        cancelled: Asked often, at least every few hundredths of a second.
        seconds: Time limit; None for no limit.
        keep: Called with each `Plan` that is better than all before it.
    """

    def __init__(
        self,
        report: Callable[[Progress], None] | None = None,
        cancelled: Callable[[], bool] | None = None,
        seconds: float | None = None,
        keep: Callable[[Plan], None] | None = None,
    ) -> None:
        self._report, self._cancelled, self._keep = report, cancelled, keep
        self._end = None if seconds is None else time.monotonic() + seconds
        self.goal = Goal()
        """What is made as small as can be; the planner says so once it has read the question."""
        self.best: int | None = None
        """What the best plan so far weighs."""
        self.bound: int | None = None
        """No plan weighs less."""
        self.plan: Plan | None = None
        """The best plan so far; what is given where the player stops the planner."""
        self._making, self._next = 0.0, 0.0
        self._waiting: Callable[[Control], Plan] | None = None
        self._keeps = True
        self.first_plan = False
        """Whether to go on to the first plan, for a little while, though it is time to stop."""
        self._first_end: float | None = None

    def stop_if_over(self) -> None:
        """Raise `Stopped` if the player cancelled or the time is up."""
        if self.over:
            raise Stopped

    def stop_if_cancelled(self) -> None:
        """Raise `Stopped` if the player cancelled; the time is no matter here."""
        if self.cancelled:
            raise Stopped

    @property
    def over(self) -> bool:
        """Whether to stop now."""
        late = self._end is not None and time.monotonic() >= self._end
        return (late or self._asked) and not self._first_comes

    @property
    def cancelled(self) -> bool:
        """Whether the player wants to stop, the time aside."""
        return self._asked and not self._first_comes

    @property
    def _asked(self) -> bool:
        return self._cancelled is not None and self._cancelled()

    @property
    def _first_comes(self) -> bool:
        """Whether there is no plan yet, and still time for one; asked where it is time to stop."""
        if not self.first_plan or self.plan is not None:
            return False
        now = time.monotonic()
        if self._first_end is None:
            self._first_end = now + _FIRST_SECONDS
        return now < self._first_end

    def _stop(self) -> bool:
        return self.cancelled

    def tell(self, stage: str, done: float, *, bound: int | None = None) -> None:
        """Report progress, and stop if that is wanted."""
        if bound is not None:
            self.prove(bound)
        if self._report is not None:
            self._report(
                Progress(
                    stage, done, self._shown(self.best), self._shown(self.bound),
                    OF_GOAL[self.goal.first],
                )
            )  # fmt: skip
        self.stop_if_over()

    def _shown(self, weight: int | None) -> float | None:
        return None if weight is None else self.goal.shown(weight)

    def prove(self, bound: int) -> None:
        """Take down that no plan weighs less."""
        if self.bound is None or bound > self.bound:
            self.bound = bound

    def offer(self, make: Callable[[Control], Plan]) -> None:
        """Keep a plan for the case that the player stops the planner, if it is the best so far.

        Making one takes a while for a rig of many songs. So it is put off while too much of the
        time would go on that, and left where the player waits already.

        Args:
            make: Makes the plan; it is given a control of its own, for little time.

        Raises:
            Stopped: the player stopped the planner meanwhile.
        """
        now = time.monotonic()
        if not self._keeps:
            return
        if self.plan is not None and (self.cancelled or now < self._next):
            self._waiting = make
            return
        own = Control(cancelled=self._stop, seconds=_PATIENCE_SECONDS)
        own.goal = self.goal
        self._make(make, own)
        self.stop_if_cancelled()

    def best_so_far(self) -> Plan | None:
        """The best plan so far, for a player who has stopped the planner and waits."""
        if self._waiting is not None and self._making <= _QUICK_SECONDS:
            own = Control(seconds=_QUICK_SECONDS)
            own.goal = self.goal
            self._make(self._waiting, own)
        return self.plan

    def _make(self, make: Callable[[Control], Plan], own: Control) -> None:
        self._waiting = None
        start = time.monotonic()
        plan = None
        with contextlib.suppress(Stopped):  # it takes too long: the one before must do
            plan = make(own)
        end = time.monotonic()
        self._making, self._next = end - start, end + _SHARE * (end - start)
        if plan is None:
            return
        known = self.plan.after if self.plan is not None else None
        if known is not None and (
            plan.after is None or self.goal.key(plan.after) > self.goal.key(known)
        ):
            return
        self.plan = plan
        self.best = None if plan.after is None else self.goal.weighed(plan.after)
        if self._keep is not None:
            self._keep(plan)

    @property
    def seconds_left(self) -> float | None:
        """The time that is left; None for no limit."""
        return None if self._end is None else max(0.0, self._end - time.monotonic())

    def within(self, seconds: float) -> Control:
        """Give a part of the work its own time limit; it still hears the player's cancel.

        What it proves is of that part alone.
        """
        part = Control(self._report, self._stop, seconds)
        part.goal, part.best, part.bound = self.goal, self.best, self.bound
        if self._end is not None and part._end is not None:
            part._end = min(part._end, self._end)
        return part

    def finishing(self, seconds: float) -> Control:
        """For what rounds a plan off: the time that is left, and at least so many seconds.

        It hears the player's cancel once those are over, and keeps nothing.
        """
        sure = time.monotonic() + seconds

        def asked() -> bool:
            return time.monotonic() >= sure and self._stop()

        part = Control(cancelled=asked)
        part.goal, part._keeps = self.goal, False
        part._end = None if self._end is None else max(self._end, sure)
        return part

    def without_deadline(self) -> Control:
        """For what must be done in any case: it hears the player's cancel, and keeps nothing."""
        part = Control(cancelled=self._stop)
        part.goal = self.goal
        part._keeps = False
        return part
