"""Plans whose spare memories hold copies, where those help: which layout is best with them.

What is best with one memory for each preset need not be so with copies, so a few layouts are tried
for a little while, and the best of them for as long as there is time.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rigtui.model.rig import Rig
from rigtui.plan.ask.checked import needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, figures
from rigtui.plan.ask.goal import OF_GOAL
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Proof, Status
from rigtui.plan.memories.copies import copies_in, with_copies
from rigtui.plan.route.planner import song_data
from rigtui.plan.whole.loops import plan_key

_SHARE = 0.15
"""Of the time that is left, for each layout at first."""
_GLANCE, _LONG = 1, 8
"""Starts of the search in vain before it ends: for each layout at first, and for the best."""


def filled(
    plans: Sequence[Plan],
    now: Rig,
    evening: Evening,
    question: Question,
    control: Control,
    bound: int,
) -> Plan:
    """Put copies in the spare memories of the best plan for it.

    Args:
        plans: Plans of different layouts, each preset in one memory; the best of them counts
            where copies do not help.
        now: The rig as it is, on the switcher that is asked for.
        evening: The songs that count.
        question: The options.
        control: The time that there is; it is told of each better plan.
        bound: No plan weighs less, copies or not.
    """
    single = min(plans, key=plan_key)
    if question.copies == 0 or needed_switcher(now).banks < 2:
        return single
    without = {
        "value": single.value, "lower_bound": single.lower_bound, "proved": single.proved
    }  # fmt: skip

    control.offer(lambda _: single)
    tried: list[tuple[Plan, Plan]] = []
    for nth, plan in enumerate(plans):
        control.tell("filling spare memories", nth / len(plans), bound=bound)
        left = control.seconds_left
        own = control if left is None else control.within(left * _SHARE)
        tried.append(
            (copied(plan, now, evening, question, own, bound, rounds=_GLANCE, offers=control), plan)
        )
        control.stop_if_cancelled()
    best, plan = min(tried, key=lambda both: plan_key(both[0]))
    if not (best.proved or control.over):
        control.tell("filling spare memories", 1.0, bound=bound)
        assert best.rig is not None
        longer = copied(plan, now, evening, question, control, bound, best.rig, rounds=_LONG)
        best = min(best, longer, key=plan_key)
        control.stop_if_cancelled()
    return replace(best, details={**best.details, "without_copies": without})


def copied(
    plan: Plan,
    now: Rig,
    evening: Evening,
    question: Question,
    control: Control,
    bound: int,
    *starts: Rig,
    rounds: int = _GLANCE,
    offers: Control | None = None,
) -> Plan:
    """A plan with copies where they help.

    Args:
        plan: A plan of a layout, each preset in one memory.
        now: The rig as it is.
        evening: The songs that count.
        question: The options.
        control: The time for it.
        bound: No plan weighs less, copies or not.
        starts: Rigs with the same presets and copies to start from too.
        rounds: Starts in vain before the search ends.
        offers: What is told of each better plan, where that is another than `control`.
    """
    assert plan.rig is not None
    listens = offers or control

    def made(rig: Rig) -> Plan:
        return _with_memories(plan, rig, evening, listens, bound)

    new = with_copies(
        plan.rig, now, evening, question, control,
        lambda rig: listens.offer(lambda _: made(rig)), starts=starts, rounds=rounds,
    )  # fmt: skip
    return made(new.rig)


def _with_memories(plan: Plan, rig: Rig, evening: Evening, control: Control, bound: int) -> Plan:
    """A plan with the memories of another rig."""
    after, goal = figures(rig, evening), plan.goal
    weighed = goal.weighed(after)
    lower = min(bound, weighed)
    part = Proof(
        "copies", f"{OF_GOAL[goal.first]} as written, with copies", goal.value(after),
        goal.shown(lower),
    )  # fmt: skip
    status = Status.TIMED_OUT if control.over else Status.FEASIBLE
    return replace(
        plan,
        status=Status.OPTIMAL if weighed <= lower else status,
        rig=rig,
        after=after,
        bound=lower,
        objective={**plan.objective, "moves": after.moves, "worst_change": after.worst_change},
        parts=(*plan.parts, part),
        details={**plan.details, "copies": copies_in(rig, evening)},
    )


def with_walks(plan: Plan, evening: Evening, control: Control) -> Plan:
    """A plan with the walk of each song on its rig."""
    rig = plan.rig
    if rig is None:
        return plan
    songs = [song_data(rig, rig, song, control) for song in rig.songs if song.id in evening.times]
    return replace(plan, details={**plan.details, "songs": songs})
