"""Whether a plan is worth its work: what it takes once, held against what it saves at every gig."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.plan.verdict.appraisal import Appraisal
from rigtui.plan.verdict.compare import signal_order
from rigtui.plan.verdict.mapping import mapped_anew
from rigtui.plan.verdict.memories import stored_anew

SMALL = 5
"""Presses are few if less than one in so many is saved."""


class Worth(enum.Enum):
    """What to do about a plan."""

    TAKE = "worth it"
    HARDLY = "hardly worth it"
    SAME = "no gain"
    WORSE = "worse"
    STAY = "nothing to change"
    """The plan is the rig as it is."""


@dataclass(frozen=True, slots=True)
class Work:
    """What a plan takes of the player, once, before the next gig."""

    pedals: int
    """Pedals to re-plug: those in another loop, into one or out of one; where the order on a side
    of the amp changes, that counts as one more."""
    memories: int
    """Memories to program."""
    sections: int
    """Sections to relearn, of all songs: those that only lose a press are none."""
    songs: int
    """Songs that they are in."""

    @property
    def things(self) -> int:
        """Things to do, one by one."""
        return self.pedals + self.memories + self.sections


def work_of(now: Rig, then: Rig) -> Work:
    """Count what it takes to get from one rig to another."""
    songs = mapped_anew(now, then)
    return Work(
        pedals=_replugged(now, then),
        memories=len(stored_anew(now, then)),
        sections=sum(song.to_learn for song in songs),
        songs=sum(song.to_learn > 0 for song in songs),
    )


def _replugged(now: Rig, then: Rig) -> int:
    old, new = lookup(now).loop_of, lookup(then).loop_of
    moved = {pedal.id for pedal in then.pedals if old.get(pedal.id) != new.get(pedal.id)}
    before, after = signal_order(now), signal_order(then)
    turned = [
        side
        for side in after
        if [pedal for pedal in before[side] if pedal not in moved]
        != [pedal for pedal in after[side] if pedal not in moved]
    ]
    return len(moved) + len(turned)


def presses_saved(known: Appraisal) -> int:
    """Presses that a plan saves each time, inside songs and between them; below 0 it costs some."""
    assert known.plan.after is not None
    return known.plan.before.in_all - known.plan.after.in_all


def worth_of(known: Appraisal) -> Worth:
    """Say whether a plan is worth its work.

    A plan is hardly worth it if it saves fewer presses than it takes things to do, and less than
    one press in `SMALL`. That is never said of a plan with which more can be played, or with fewer
    extra presses or crowded changes: those are what trips a player on stage.

    Args:
        known: The plan held against the rig as it is; there must be a rig as planned.
    """
    plan = known.plan
    before, after = plan.before, plan.after
    assert plan.rig is not None
    assert after is not None
    if plan.rig == known.now:
        return Worth.STAY
    was, will = plan.goal.key(before), plan.goal.key(after)
    if will >= was:
        return Worth.SAME if will == was else Worth.WORSE
    calmer = after.extra_presses < before.extra_presses or after.crowded < before.crowded
    plays_more = after.unplayable < before.unplayable or any(
        other.newly_recalled for other in known.others
    )
    saved = presses_saved(known)
    few = saved < work_of(known.now, plan.rig).things and saved * SMALL < before.in_all
    return Worth.HARDLY if few and not calmer and not plays_more else Worth.TAKE
