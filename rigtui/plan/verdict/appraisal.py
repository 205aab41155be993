"""Compare a plan with the rig as it is, other setlists included."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.model.rig import Rig
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.result import Plan
from rigtui.plan.verdict.compare import SongRow, song_rows
from rigtui.plan.verdict.other_setlists import OtherSetlist, other_setlists
from rigtui.plan.verdict.unstored import Unstored, unstored


@dataclass(frozen=True, slots=True)
class Appraisal:
    """A plan held against the rig as it is."""

    plan: Plan
    now: Rig
    """The rig that it was made for."""
    evening: Evening
    """The songs that it was made for."""
    better: bool
    """Whether it is better by the order that plans are compared in, and all that can be recalled
    today still can, in other setlists too."""
    unstored_now: Unstored | None
    """What no memory holds today."""
    unstored_then: Unstored | None = None
    """What no memory holds with the plan."""
    others: tuple[OtherSetlist, ...] = ()
    """The setlists that it was not made for."""
    songs: tuple[SongRow, ...] = ()
    """Moves of each song, now and then."""

    @property
    def makes_playable(self) -> bool:
        """Whether the plan has a memory for every preset, and today some have none."""
        planned = self.plan.rig is not None
        return planned and self.unstored_now is not None and self.unstored_then is None


def appraise(plan: Plan, now: Rig, evening: Evening) -> Appraisal:
    """Hold a plan against the rig as it is.

    Args:
        plan: The plan; one without a rig has only what is to be known of today's figure.
        now: The rig that it was made for.
        evening: The songs that it was made for.
    """
    today = unstored(now, evening)
    before, after = plan.before, plan.after
    if plan.rig is None or after is None:
        return Appraisal(plan, now, evening, False, today)
    then = unstored(plan.rig, evening)
    others = tuple(other_setlists(now, plan.rig, evening))
    better = plan.goal.key(after) < plan.goal.key(before)
    better &= not any(other.lost for other in others)
    songs = tuple(song_rows(now, plan.rig, evening))
    return Appraisal(plan, now, evening, better, today, then, others, songs)
