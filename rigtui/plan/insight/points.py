"""A curve as it is found: presses and extra presses against one property of the switcher."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.model.rig import Switcher
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import Goal


@dataclass(frozen=True, slots=True)
class Copied:
    """What a plan with copies of presets comes to on one switcher."""

    weight: int
    moves: int
    extra_presses: int
    effort: float
    better: Switcher | None = None
    """A smaller one that does better, where there is such."""


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One switcher on a curve; its figures are those without copies, where nothing else is said."""

    value: int
    """How many loops, memories, or footswitches to a bank."""
    weight: int | None
    """What the evening weighs by the goal, bank steps included; None where nothing fits."""
    bound: int
    """No plan of this kind weighs less, copies or not."""
    moves: int | None
    """Moves inside songs."""
    extra_presses: int | None
    effort: float | None
    """Both together, as the player weighs them."""
    without_bank_steps: int | None
    """Moves without the bank steps."""
    loops_used: int
    presets_used: int
    now: bool
    """Whether this is the switcher as it stands."""
    switcher: Switcher
    better: Switcher | None = None
    """A smaller one that does better, where there is such."""
    copied: Copied | None = None
    """What it comes to with copies; None while that was not looked at, or where nothing fits."""

    @property
    def best(self) -> CurvePoint | Copied:
        """What it comes to with copies where that is known."""
        return self.copied or self

    @property
    def proved(self) -> bool:
        """Whether that cannot be bettered."""
        return self.best.weight is not None and self.best.weight <= self.bound

    @property
    def calm(self) -> bool:
        """Whether nothing is crowded."""
        return 0 in (self.extra_presses, self.best.extra_presses)


@dataclass(frozen=True, slots=True)
class Curve:
    """What the feet have to do against one property of the switcher, all else as it is."""

    kind: str
    before: Figures
    """What it comes to as written."""
    points: tuple[CurvePoint, ...]
    complete: bool
    goal: Goal

    @property
    def calm(self) -> CurvePoint | None:
        """The smallest switcher on which nothing is crowded; None where there is none."""
        return next((point for point in self.points if point.calm), None)
