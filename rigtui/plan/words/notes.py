"""What is to be known of a plan besides, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import count, number_text, visible
from rigtui.plan.ask.goal import OF_GOAL
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan
from rigtui.plan.words.route import by_foot, least_note


def notes(now: Rig, plan: Plan, question: Question) -> tuple[str, ...]:
    """Say what is to be known of a plan besides.

    Args:
        now: The rig that it was made for.
        plan: The plan.
        question: What was asked.
    """
    return (
        *_goals(plan),
        *_search(plan),
        *_pins(now, plan, question),
        *_copies(plan),
        *_route(now, plan),
        *_curves(plan),
    )


_FIRST = {
    "effort": "least effort",
    "extra": "extra presses first",
    "moves": "presses alone",
}


def _goals(plan: Plan) -> Iterator[str]:
    """Say side by side what comes of it if something else comes first, where that differs."""
    told = plan.details.get("goals", {})
    rows = {
        first: (
            f"{number_text(goal['effort'])} effort, "
            f"{count(goal['extra_presses'], 'extra press', 'extra presses')}, "
            f"{goal['moves']} presses inside songs"
        )
        for first, goal in told.items()
    }
    if len(set(rows.values())) < 2:
        return
    said = "; ".join(f"{_FIRST[first]}: {row}" for first, row in rows.items())
    yield f"what comes first makes a difference ({said}): --first, or Comes first on the screen"


def _search(plan: Plan) -> Iterator[str]:
    left_out = plan.details.get("pedals_left_out", 0)
    if left_out:
        yield (
            f"{plan.details['pedals_switched']} pedals are switched: too many to try every choice. "
            f"Only those that cost most outside were tried in loops; the other {left_out} stay "
            f"outside"
        )
    sounds = plan.details.get("sounds_left_out", 0)
    if sounds:
        yield (
            f"too many sounds to try a preset for each: the {count(sounds, 'sound')} heard least "
            f"got none, and you reach them by switching pedals on top of others"
        )
    proved = any(part.name == "loops" and part.proved for part in plan.parts)
    if plan.kind == "loops" and proved and not plan.proved:
        yield "the loops are proved best if bank steps don't count; `all` counts them too"


def _pins(now: Rig, plan: Plan, question: Question) -> Iterator[str]:
    """Presets that must be in a memory and are not: that is of no use to the evening."""
    if plan.rig is None or plan.kind not in ("loops", "all"):
        return
    then = lookup(plan.rig).presets
    for preset, memory in question.pin_switch.items():
        if preset not in then:
            yield f"{visible(preset)} no longer exists, so it can't be pinned to a memory"
        elif memory not in then[preset].memories:
            yield (
                f"{visible(then[preset].label)} is not in memory {memory}: these songs don't use "
                f"it, and need every memory"
            )


def _copies(plan: Plan) -> Iterator[str]:
    """Say what copies save, where a plan has any."""
    made, without = plan.details.get("copies"), plan.details.get("without_copies")
    if not made or without is None or plan.value in (None, without["value"]):
        return
    assert plan.value is not None
    proved = " (proved)" if without["proved"] else ""
    yield (
        f"{count(made, 'copy', 'copies')} of presets in spare memories: {OF_GOAL[plan.goal.first]} "
        f"{number_text(without['value'])}{proved} without, {number_text(plan.value)} with"
    )


def _route(now: Rig, plan: Plan) -> Iterator[str]:
    if plan.kind != "route" or plan.rig is None or "by_foot" not in plan.details:
        return
    least = least_note(plan.details["least_moves"], plan.details["least_held"])
    if least is not None:
        yield least
    for song in plan.details["by_foot"]:
        yield by_foot(now, song)


def _curves(plan: Plan) -> Iterator[str]:
    if plan.kind == "curve" and plan.conflict is None:
        yield from (curve["sentence"] for curve in plan.details["curves"] if curve["points"])
