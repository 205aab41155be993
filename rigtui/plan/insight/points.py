"""A curve as it is found: moves against one property of the switcher."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.model.rig import Switcher


@dataclass(frozen=True, slots=True)
class Point:
    """One switcher on a curve."""

    value: int
    """How many loops, memories, or footswitches to a bank."""
    moves: int | None
    """Moves of the evening, bank steps included; None where nothing fits."""
    bound: int
    """No plan of this kind needs fewer."""
    without_bank_steps: int | None
    loops_used: int
    presets_used: int
    now: bool
    """Whether this is the switcher as it stands."""
    switcher: Switcher
    better: Switcher | None = None
    """A smaller one that needs fewer moves, where there is such."""

    @property
    def proved(self) -> bool:
        """Whether the moves cannot be bettered."""
        return self.moves is not None and self.moves <= self.bound


@dataclass(frozen=True, slots=True)
class Curve:
    """Moves against one property of the switcher, all else as it is."""

    kind: str
    moves_before: int
    points: tuple[Point, ...]
    complete: bool
