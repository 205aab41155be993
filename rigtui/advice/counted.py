"""What an evening demands of the feet, in the figures that remedies are compared by."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.model.rig import Rig
from rigtui.moves import asked_as_written
from rigtui.moves.figures import effort_of
from rigtui.plan.ask.evening import Evening


@dataclass(frozen=True, slots=True)
class Counted:
    """The figures of an evening, songs that it plays twice counted twice."""

    unplayable: int
    extra_presses: int
    moves: int
    """Inside songs."""
    set_up_moves: int
    weight: float
    """What the player counts for an extra press."""

    @property
    def effort(self) -> float:
        """Moves inside songs, and the weight of each extra press."""
        return effort_of(self.moves, self.extra_presses, self.weight)

    @property
    def order(self) -> tuple[float, ...]:
        """What rigs with the same sounds are compared by; the less the better."""
        return (self.unplayable, self.effort, self.set_up_moves)


def counted(rig: Rig, evening: Evening) -> Counted:
    """Count an evening as the report does.

    The evening may have been made of another rig with the same songs and setlists.
    """
    setlists = {setlist.id: setlist for setlist in rig.setlists}
    asked = asked_as_written(rig, [setlists[row.id] for row in evening.setlists])
    return Counted(*asked, weight=rig.player.extra_press_weight)
