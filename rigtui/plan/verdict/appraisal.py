"""What a plan is worth, all told: the gaps between songs too, and what to know before accepting."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rigtui.model.rig import Rig
from rigtui.model.text import count, visible
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.result import Figures, Plan
from rigtui.plan.verdict.compare import song_rows
from rigtui.plan.verdict.other_setlists import lost_words, moves_words, other_setlists
from rigtui.plan.verdict.unstored import unstored, unstored_then, unstored_today


@dataclass(frozen=True, slots=True)
class Appraisal:
    """A plan held against the rig as it is."""

    better: bool
    """Whether it saves moves inside songs and in all, or makes an evening playable that was not
    and costs no more; and whether all that can be recalled today still can, in other setlists
    too."""
    caveats: tuple[str, ...]
    """What to know before accepting, in sentences, what weighs most first."""


def appraise(plan: Plan, now: Rig, evening: Evening) -> Appraisal:
    """Say what a plan is worth.

    Args:
        plan: The plan; one without a rig has only what is to be known of today's figure.
        now: The rig that it was made for.
        evening: The songs that it was made for.
    """
    today = unstored_today(now, plan.rig, evening, plan.before.moves)
    if plan.rig is None or plan.after is None:
        return Appraisal(False, (today,) if today else ())
    held = unstored(now, evening) is not None and unstored(plan.rig, evening) is None
    before, after = plan.before, plan.after
    better = after.moves < before.moves and after.in_all < before.in_all
    better |= held and after.moves <= before.moves and after.in_all <= before.in_all
    rest = other_setlists(now, plan.rig, evening)
    lost = lost_words(plan.rig, rest)
    better &= lost is None
    said = [
        lost,
        _not_better(plan, before, after, held),
        today,
        unstored_then(plan.rig, evening),
        _worst(before, after),
        _songs(plan.rig, now, evening),
        moves_words(rest),
    ]
    return Appraisal(better, tuple(one for one in said if one is not None))


def _not_better(plan: Plan, before: Figures, after: Figures, held: bool) -> str | None:
    if after.moves >= before.moves:
        return _no_fewer(plan, before, after, held)
    if after.in_all < before.in_all or (held and after.in_all == before.in_all):
        return None
    said = (
        f"{count(before.moves - after.moves, 'move')} fewer inside songs, "
        f"{after.set_up_moves - before.set_up_moves} more between"
    )
    if after.in_all > before.in_all:
        said = f"Worse as a whole: {said}, {after.in_all - before.in_all} more in all"
    else:
        said = f"No gain in all: {said}"
    alone = plan.details.get("switches_alone")
    if alone is not None and alone["moves_in_all"] < after.in_all:
        said += (
            f". Changing memories alone (`switches`) needs {alone['moves_in_all']} in all, "
            f"{alone['moves']} of them inside songs"
        )
    return said


def _no_fewer(plan: Plan, before: Figures, after: Figures, held: bool) -> str:
    more = after.moves - before.moves
    inside = f"{count(more, 'move')} more inside songs" if more else "as many moves inside songs"
    gains = list(_gains(plan, before, after))
    if held:
        gains.insert(0, "every preset has its memory")
    if not gains:
        return f"No better than today: {inside}, and nothing else gets less"
    if more and not held:
        return f"No better than today: {inside}; what it brings: {', '.join(gains)}"
    name = "More moves than today's figure" if more else "No fewer moves inside songs"
    said = f"{name}: {inside}; what it brings" if more else f"{name}; what it brings"
    return f"{said}: {', '.join(gains)}"


def _gains(plan: Plan, before: Figures, after: Figures) -> Iterator[str]:
    """What gets less where the moves inside songs do not."""
    pairs = [
        ("the worst change", before.worst_change, after.worst_change),
        ("moves between songs", before.set_up_moves, after.set_up_moves),
        (
            "switches that the foot passes",
            plan.details.get("travel_switches_before", 0),
            plan.details.get("travel_switches", 0),
        ),
    ]
    for what, was, will in pairs:
        if will < was:
            yield f"{what} {was} → {will}"


def _worst(before: Figures, after: Figures) -> str | None:
    parts = [
        f"{what} {was} → {will}"
        for what, was, will in (
            ("the worst single change", before.worst_change, after.worst_change),
            ("the most presses on one beat", before.on_the_beat_worst, after.on_the_beat_worst),
        )
        if will > was
    ]
    return f"What gets harder: {', '.join(parts)}" if parts else None


def _songs(then: Rig, now: Rig, evening: Evening) -> str | None:
    rows = song_rows(now, then, evening)
    worse = [row for row in rows if row.then > row.now]
    if not worse:
        return None
    most = max(worse, key=lambda row: row.then - row.now)
    return visible(
        f"{len(worse)} of {count(len(rows), 'song')} "
        f"{'needs' if len(worse) == 1 else 'need'} more moves than today, {most.title} the most "
        f"({most.now} → {most.then})"
    )
