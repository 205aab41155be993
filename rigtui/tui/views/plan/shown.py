"""What each list of the plan view shows, by what is known of the plan and of the rig."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.tui.views.plan.head import cut_sentence
from rigtui.tui.views.plan.lists import PlacedRows, conflict_listing, song_listing, todo_listing
from rigtui.tui.views.plan.outcome import board_listing, curve_listing, walk_listing

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.plan.ask.question import Question
    from rigtui.tui.views.plan.runs import PlanRuns
    from rigtui.tui.views.plan.worth import PlanWorth


def outcome_shown(
    runs: PlanRuns, rig: Rig | None, width: int, *, accepted: bool
) -> PlacedRows | None:
    """The board now and as planned, the walk or the curve; the board as it is before any plan."""
    plan, now = runs.plan, runs.rig
    if plan is None or now is None:
        return None if rig is None else board_listing(rig, rig, width)
    if plan.conflict is not None:
        return conflict_listing(plan, now, width)
    if plan.kind == "curve":
        return curve_listing(plan, width)
    if plan.kind == "route":
        return walk_listing(plan, now, width)
    if plan.rig is None:
        return None
    return board_listing(now, plan.rig, width, accepted=accepted)


def todo_shown(
    runs: PlanRuns, worth: PlanWorth, width: int, head_width: int, *, accepted: bool
) -> PlacedRows | None:
    """What to know, to re-plug, to program and to learn, and why.

    Args:
        runs: The planner's runs, with the last plan.
        worth: What it is worth.
        width: Cells in a line.
        head_width: Cells in a line of the head, which may be too narrow for all that it says.
        accepted: Whether the rig is as planned.
    """
    if runs.plan is None or runs.rig is None:
        return None
    sentence = cut_sentence(worth.known, head_width) if worth.known is not None else ""
    return todo_listing(
        runs.plan, runs.rig, worth.sentences, runs.why, width, worth.known,
        sentence=sentence, accepted=accepted,
    )  # fmt: skip


def songs_shown(
    runs: PlanRuns, rig: Rig | None, question: Question, width: int, *, accepted: bool
) -> PlacedRows | None:
    """Presses of each song now and as planned; as they are before any plan."""
    from rigtui.plan.ask.evening import evening_of
    from rigtui.plan.ask.result import PlanError

    plan, now, asked = runs.plan, runs.rig, runs.asked
    if plan is not None and now is not None and asked is not None:
        if plan.rig is None:
            return None
        evening = evening_of(now, asked.setlists)
        return song_listing(now, plan.rig, evening, width, accepted=accepted)
    if rig is None:
        return None
    try:
        evening = evening_of(rig, question.fitting(rig).setlists)
    except PlanError:  # there is no song yet
        return None
    return song_listing(rig, rig, evening, width)
