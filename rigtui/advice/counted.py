"""What an evening asks of the feet, in the figures by which remedies are compared."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.model.rig import Rig
from rigtui.moves import evening_as_written, extra_presses_as_written, moves_as_written
from rigtui.moves.boards import board_of
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
    songs = {song.id: song for song in rig.songs}
    setlists = {setlist.id: setlist for setlist in rig.setlists}
    lost = board_of(rig).unplayable
    unplayable = extra = moves = 0
    for song_id, times in evening.times.items():
        song = songs[song_id]
        unplayable += times * sum(section.preset in lost for section in song.sections)
        extra += times * extra_presses_as_written(rig, song)
        moves += times * moves_as_written(rig, song)
    set_up = sum(evening_as_written(rig, setlists[row.id])[1] for row in evening.setlists)
    return Counted(unplayable, extra, moves, set_up, rig.player.extra_press_weight)
