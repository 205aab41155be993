"""What every planner gives back, and the errors of asking for what cannot be."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from rigtui.model.errors import RigError
from rigtui.model.rig import Rig
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import Goal


class PlanError(RigError, ValueError):
    """A question that makes no sense for this rig, with the reasons in the player's words."""

    def __init__(self, *reasons: str) -> None:
        super().__init__("; ".join(reasons))
        self.reasons = reasons


class Stopped(Exception):
    """The player cancelled, or the time was up; planners catch it and give the best so far."""


class Status(enum.Enum):
    """How a search ended."""

    OPTIMAL = "optimal"
    """Nothing better exists: proved."""
    FEASIBLE = "feasible"
    """A plan that works, and a bound on how much better one could be."""
    INFEASIBLE = "infeasible"
    """No plan can do what is wanted: proved."""
    TIMED_OUT = "timed-out"
    """Stopped before the end; the plan is the best so far, if there is one."""


@dataclass(frozen=True, slots=True)
class Proof:
    """One question that a plan answered, and what was proved of the answer."""

    name: str
    """loops, switches or route."""
    question: str
    """What was made as small as can be, in words."""
    value: float
    bound: float
    """Nothing below this is possible for the question."""

    @property
    def proved(self) -> bool:
        """Whether the answer cannot be bettered."""
        return self.value <= self.bound


@dataclass(frozen=True, slots=True)
class Clashing:
    """A sound that can share no preset with the others of a conflict."""

    name: str
    """The preset that makes it now, and what is switched on top."""
    wants: str
    """What sets it apart from the others."""
    places: tuple[str, ...]
    """Where it is heard, as "songs.low-fen.sections.3", or the preset that must be kept."""


@dataclass(frozen=True, slots=True)
class Relaxation:
    """A change to the options with which a plan is possible: that was checked."""

    text: str
    changes: Mapping[str, Any]
    """New values of the fields of the question that change (fit for JSON)."""
    switcher: bool = False
    """Whether it takes another switcher than the rig has."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """Why no plan can do what is asked, and the least that would have to give way."""

    reason: str
    sounds: tuple[Clashing, ...] = ()
    """Sounds that clash pairwise: more of them than there is room for."""
    relaxations: tuple[Relaxation, ...] = ()
    """Any one of them is enough; what changes least comes first."""
    untried: bool = False
    """Whether the time was up before all changes were tried."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What a planner returns: a new rig, its moves, and what was proved.

    `after` is always what `rigtui.moves` counts on `rig`.
    """

    kind: str
    status: Status
    before: Figures
    rig: Rig | None = None
    after: Figures | None = None
    bound: int = 0
    """No plan of this kind weighs less, by the goal."""
    objective: Mapping[str, int] = field(default_factory=dict)
    """What was minimised, most important first."""
    parts: tuple[Proof, ...] = ()
    steps: tuple[str, ...] = ()
    """What to re-plug, re-program and re-map, in the player's words."""
    notes: tuple[str, ...] = ()
    conflict: Conflict | None = None
    details: Mapping[str, Any] = field(default_factory=dict)
    """Plain data that belongs to this kind of plan alone (fit for JSON)."""
    goal: Goal = field(default_factory=Goal)
    """What it makes as small as can be."""

    @property
    def proved(self) -> bool:
        """Whether no plan of this kind is better by its goal, or no plan exists at all."""
        if self.status is Status.INFEASIBLE:
            return True
        return self.after is not None and self.goal.weighed(self.after) <= self.bound

    @property
    def value(self) -> float | None:
        """What the goal counts once the plan is accepted: effort, extra presses or moves."""
        return None if self.after is None else self.goal.value(self.after)

    @property
    def lower_bound(self) -> float:
        """No plan of this kind does with less of that."""
        return self.goal.shown(self.bound)

    @property
    def moves_before(self) -> int:
        """Moves as written now."""
        return self.before.moves

    @property
    def moves_after(self) -> int | None:
        """Moves as written once the plan is accepted."""
        return None if self.after is None else self.after.moves

    @property
    def worst_change(self) -> int | None:
        """Moves of the worst single change once the plan is accepted."""
        return None if self.after is None else self.after.worst_change
