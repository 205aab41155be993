"""What a plan makes as small as can be, once all that is wanted can be played.

After sections that cannot be played at all comes the effort of the feet: moves inside songs, and
so much for each extra press as the player says. The two ends of that can be asked for: extra
presses before all else, or moves alone.

Source of the order: the rig file's rules, "What can be played".
"""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.plan.ask.figures import Figures

OF_GOAL = {"effort": "effort", "extra": "extra presses", "moves": "moves"}
"""What can come first, and what it is in words."""
FIRST = tuple(OF_GOAL)


@dataclass(frozen=True, slots=True)
class Goal:
    """What comes first, and what presses weigh for that."""

    first: str = "moves"
    """One of `FIRST`."""
    move: int = 1
    """What a move inside a song weighs."""
    extra: int = 0
    """What an extra press weighs, beside the move that it is."""

    def weighed(self, figures: Figures) -> int:
        """What the moves and extra presses of an evening weigh together."""
        return self.move * figures.moves + self.extra * figures.extra_presses

    def shown(self, weight: int) -> float:
        """The figure that a weight stands for: effort, extra presses or moves.

        A lower bound stays one.
        """
        if self.first == "extra":
            return weight // self.extra
        whole = weight % self.move == 0
        return weight // self.move if whole else weight / self.move

    def weight(self, shown: float) -> int:
        """What an evening weighs at least whose figure is no lower than the one shown."""
        return round(shown * (self.extra if self.first == "extra" else self.move))

    def value(self, figures: Figures) -> float:
        """The figure of an evening that comes first."""
        return self.shown(self.weighed(figures))

    def key(self, figures: Figures, loops: int = 0, presets: int = 0) -> tuple[int, ...]:
        """What plans are compared by, most important first.

        Args:
            figures: What the plan comes to.
            loops: Loops in use.
            presets: Presets in use.
        """
        first = (figures.unplayable, self.weighed(figures))
        last = (figures.worst_change, loops, presets)
        if self.first == "moves":
            return (*first, *last, figures.set_up_moves)
        return (*first, figures.set_up_moves, *last)
