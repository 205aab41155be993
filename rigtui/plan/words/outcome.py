"""What a plan comes to, in sentences that every form of it shares."""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.model.text import count, number_text
from rigtui.plan.ask.goal import OF_GOAL
from rigtui.plan.ask.result import Plan, Proof, Status


def headline(plan: Plan) -> str:
    """Say what becomes of the moves: "Inside songs 41 → 28: 13 fewer (32 %); between songs ..."."""
    before, after = plan.before, plan.after
    if after is None:
        said = f"{count(before.moves, 'move')} inside songs as written"
        if before.set_up_moves:
            said += f", {before.set_up_moves} between songs, {before.in_all} in all"
        return said
    parts = [f"inside songs {_becomes(before.moves, after.moves, share=True)}"]
    if before.set_up_moves or after.set_up_moves:
        parts.append(f"between songs {before.set_up_moves} → {after.set_up_moves}")
        parts.append(f"in all {_becomes(before.in_all, after.in_all)}")
    said = "; ".join(parts)
    return said[0].upper() + said[1:]


def brief_headline(plan: Plan) -> str:
    """Say the same in a line: "inside songs 41 → 28, between 8 → 9, in all 49 → 37"."""
    before, after = plan.before, plan.after
    if after is None:
        return f"{count(before.moves, 'move')} inside songs as written, {before.in_all} in all"
    said = f"inside songs {before.moves} → {after.moves}"
    if before.set_up_moves or after.set_up_moves:
        said += f", between {before.set_up_moves} → {after.set_up_moves}"
        said += f", in all {before.in_all} → {after.in_all}"
    return said


def _becomes(before: int, after: int, *, share: bool = False) -> str:
    """Say "41 → 28: 13 fewer (32 %)"."""
    if after == before:
        return f"{before} → {after}: as many"
    less = before - after
    of_all = f" ({round(100 * abs(less) / before)} %)" if before and share else ""
    return f"{before} → {after}: {abs(less)} {'fewer' if less > 0 else 'more'}{of_all}"


def worst(plan: Plan) -> str | None:
    """Say what becomes of the worst change: "worst change 3 → 2, on the beat 2 → 2"."""
    if plan.after is None:
        return None
    before, after = plan.before, plan.after
    return (
        f"worst single change {before.worst_change} → {after.worst_change}, "
        f"on the beat {before.on_the_beat_worst} → {after.on_the_beat_worst}"
    )


def travel(plan: Plan) -> str | None:
    """Say how far the foot goes along the row of switches, where that was planned."""
    before, after = (plan.details.get(f"travel_switches{end}") for end in ("_before", ""))
    if before is None or after is None:
        return None
    length = plan.details.get("travel_mm")
    metres = f" ({length / 1000:.1f} m)" if length is not None else ""
    return f"the foot passes {before} → {after} switches{metres} within banks"


def verdict(plan: Plan, *, interrupted: bool = False, brief: bool = False) -> str:
    """Say whether the plan is proved, or what the bound is; in a line if need be."""
    if plan.status is Status.INFEASIBLE:
        return "Proved: no plan can do that"
    if plan.kind == "curve":
        ended = "The time was up: the last rows are missing. " * (plan.status is Status.TIMED_OUT)
        return (
            f"{ended}proved: that switcher can't do with less effort. A number and +: less than "
            f"that is impossible; the figure shown may or may not be the least"
        )
    value = plan.value
    if value is None:
        return "Stopped before any plan was found"
    inside = " inside songs" if plan.goal.first == "moves" and not brief else ""
    less = _LESS[plan.goal.first] + inside
    if plan.proved:
        kind = "" if brief else " of this kind"
        figure = _figure(plan, value, brief=brief)
        return f"Proved: no plan{kind} {less} than {figure}"
    why = "Not proved"
    if interrupted or plan.status is Status.TIMED_OUT:
        why = "Stopped early, not proved" if interrupted else "The time was up, not proved"
    if plan.lower_bound <= 0:
        return f"{why}: how few a plan could need is not known yet"
    said = f"{why}: no plan {less} than {number_text(plan.lower_bound)}"
    here = f" ({number_text(value)} here)"
    said += here if brief else f", this one {_HAS[plan.goal.first]} {_figure(plan, value)}"
    if plan.status is Status.FEASIBLE and not interrupted and _searched(plan) and not brief:
        said += "; more time would not help"
    return said


_LESS = {
    "effort": "takes less effort",
    "extra": "has fewer extra presses",
    "moves": "needs fewer presses",
}
"""What a plan that is better by its goal does."""
_HAS = {"effort": "takes", "extra": "has", "moves": "needs"}


def _figure(plan: Plan, value: float, *, brief: bool = False) -> str:
    """What comes first, and how effort is made up: "22 (16 presses + 3 x 2 extra)"."""
    extra = plan.after.extra_presses if plan.after is not None else 0
    if plan.goal.first != "effort" or not extra:
        return number_text(value)
    weight = number_text(plan.goal.extra / plan.goal.move)
    presses = "" if brief else " presses"
    return f"{number_text(value)} ({plan.moves_after}{presses} + {weight} x {extra} extra)"


def _searched(plan: Plan) -> bool:
    """Whether a longer search of the same kind would find the same."""
    return plan.kind == "route" or all(part.proved for part in plan.parts)


def proofs(plan: Plan, *, interrupted: bool = False) -> list[str]:
    """Say what is proved of a plan, what of its parts, and what is open and why."""
    said = [verdict(plan, interrupted=interrupted)]
    if len(plan.parts) < 2:
        return said
    if plan.proved or not all(part.proved for part in plan.parts):
        return said + [reason(part) for part in plan.parts]
    each = "; ".join(f"{part.value:g} {part.question}" for part in plan.parts)
    return [*said, f"Each part is the best by itself: {each}", *_still_open(plan)]


def _still_open(plan: Plan) -> Iterator[str]:
    """Why a plan is not proved though each of its parts is."""
    if plan.value is not None:
        gap = plan.value - plan.lower_bound
        yield (
            f"The search of all parts together was not finished: it might still save up to "
            f"{gap:g} more {OF_GOAL[plan.goal.first]}"
        )


_OF_PARTS = {
    "loops": "Loops and presets",
    "switches": "Memories",
    "route": "Sections",
    "copies": "Copies",
}


def reason(part: Proof) -> str:
    """Say how good the answer to one question is: "Memories: 41 bank steps, proved"."""
    name = _OF_PARTS.get(part.name, part.name)
    said = f"{name}: {part.value:g} {part.question}"
    if part.proved:
        return f"{said}; proved, less is impossible"
    if part.bound <= 0:
        return f"{said}; not proved"
    return f"{said}; less than {part.bound:g} is impossible, {part.value:g} may not be the least"
