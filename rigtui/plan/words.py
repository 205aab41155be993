"""What a plan comes to, in sentences that every form of it shares."""

from __future__ import annotations

from rigtui.model.text import count
from rigtui.plan.result import Part, Plan, Status


def headline(plan: Plan) -> str:
    """Say what the plan saves: "41 moves → 28: 13 fewer"."""
    before, after = plan.moves_before, plan.moves_after
    if after is None:
        return f"{count(before, 'move')} as written"
    if after == before:
        return f"{count(before, 'move')}, and as many with the plan"
    saved = before - after
    share = f" ({round(100 * abs(saved) / before)} %)" if before else ""
    return (
        f"{count(before, 'move')} → {after}: {abs(saved)} {'fewer' if saved > 0 else 'more'}{share}"
    )


def travel(plan: Plan) -> str | None:
    """Say how far the foot goes along the row of switches, where that was planned."""
    before, after = (plan.details.get(f"travel_switches{end}") for end in ("_before", ""))
    if before is None or after is None:
        return None
    length = plan.details.get("travel_mm")
    metres = f" ({length / 1000:.1f} m)" if length is not None else ""
    return f"the foot passes {before} → {after} switches{metres} within banks"


def verdict(plan: Plan, *, interrupted: bool = False) -> str:
    """Say whether the plan is proved, or what the bound is."""
    if plan.status is Status.INFEASIBLE:
        return "Proved: no plan can do that"
    if plan.kind == "curve":
        ended = "The time was up: the last rows are missing. " * (plan.status is Status.TIMED_OUT)
        return f"{ended}Each row is proved, or its bound stands beside it"
    if plan.moves_after is None:
        return "Stopped before any plan was found"
    if plan.proved:
        return "Proved: no plan of this kind needs fewer moves"
    why = "Not proved"
    if interrupted or plan.status is Status.TIMED_OUT:
        why = "Stopped early, not proved" if interrupted else "The time was up, not proved"
    gap = plan.moves_after - plan.lower_bound
    return f"{why}: no plan needs fewer than {plan.lower_bound}, {gap} less than this"


def reason(part: Part) -> str:
    """Say how good the answer to one question is."""
    if part.proved:
        return f"{part.value}, proved"
    return f"{part.value}, and no answer is below {part.bound}"
