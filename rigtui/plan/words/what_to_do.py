"""What to do about a plan, in one sentence: take it before the gig, or leave the rig as it is."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice, zip_longest

from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed, number_text, visible
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.figures import Figures
from rigtui.plan.verdict.appraisal import Appraisal
from rigtui.plan.verdict.memories import stored_anew
from rigtui.plan.verdict.worth import Worth, presses_saved, work_of, worth_of
from rigtui.plan.words.steps import ticks

_MOST_PLUGS, _MOST_MEMORIES = 3, 3
"""Things to re-plug, and memories to program, that are named one by one."""
_OTHERS = {
    "all": "no other loops, memories or mapping",
    "loops": "no other loops",
    "switches": "no other order of the memories",
    "route": "no other mapping",
}
_LESS = {
    "effort": "would take less effort",
    "extra": "would have fewer extra presses",
    "moves": "would need fewer presses inside songs",
}


def what_to_do(known: Appraisal) -> str:
    """Say in one sentence what to do before the gig and what that brings, or why to do nothing.

    Args:
        known: The plan held against the rig as it is; there must be a rig as planned.
    """
    worth = worth_of(known)
    if worth is Worth.TAKE:
        return f"Before the gig, {_doing(known, say_what_stays=True)}: {_brings(known)}."
    why = {
        Worth.STAY: _why_stay,
        Worth.SAME: lambda _: "this plan saves nothing",
        Worth.WORSE: _why_worse,
        Worth.HARDLY: _why_hardly,
    }[worth]
    return f"Leave the rig as it is: {why(known)}."


def _why_stay(known: Appraisal) -> str:
    plan = known.plan
    said = "no better plan was found"
    if plan.proved:
        said = f"{_OTHERS.get(plan.kind, 'no other plan')} {_LESS[plan.goal.first]}"
    lost = plan.before.unplayable
    return f"{said}, though {count(lost, 'section')} can't be played" if lost else said


def _why_worse(known: Appraisal) -> str:
    before, after = _figures_of(known)
    more = after.unplayable - before.unplayable
    if more > 0:
        return f"with this plan {count(more, 'more section')} can't be played"
    goods, bads = _gains(known)
    if not bads:
        effort = f"{number_text(before.effort)} → {number_text(after.effort)}"
        return f"this plan takes more effort ({effort})"
    return f"this plan has {listed(bads)}{f', for {listed(goods)}' if goods else ''}"


def _why_hardly(known: Appraisal) -> str:
    goods, bads = _gains(known)
    gain = listed(goods) or "no press less"
    if bads:
        gain += f" but {listed(bads)}"
    elif known.plan.before.extra_presses and presses_saved(known) > 0:
        gain += ", none of them an extra press"
    return f"it is hardly worth it to {_doing(known)} for {gain}"


def _brings(known: Appraisal) -> str:
    """What a plan brings: "every section can be played (2 can't today), with 3 fewer presses"."""
    before, after = _figures_of(known)
    goods, bads = _gains(known)
    said = " but ".join(listed(part) for part in (goods, bads) if part)
    lost, still = before.unplayable, after.unplayable
    if lost == still:
        worst = f"the worst change takes {after.worst_change} presses, not {before.worst_change}"
        said = said or worst
        return f"{said}, though {count(lost, 'section')} still can't be played" if lost else said
    can = f"every section can be played ({lost} can't today)"
    if still:
        can = f"{count(lost - still, 'more section')} can be played ({still} still can't)"
    return f"{can}, with {said}" if said else can


def _figures_of(known: Appraisal) -> tuple[Figures, Figures]:
    assert known.plan.after is not None
    return known.plan.before, known.plan.after


def _gains(known: Appraisal) -> tuple[list[str], list[str]]:
    """What gets better with a plan and what gets worse: presses, extra presses, other setlists."""
    before, after = _figures_of(known)
    each_time = _each_time(known.evening)
    inside, between = before.moves - after.moves, after.set_up_moves - before.set_up_moves
    saved = inside - between
    goods, bads = [], []
    if inside > 0 >= saved:
        goods.append(f"{_fewer(inside)} inside songs")
        bads.append(f"{between} more between")
    elif saved > 0:
        goods.append(f"{_fewer(saved)} {each_time} ({before.in_all} → {after.in_all})")
    elif saved < 0:
        bads.append(f"{_more(-saved)} {each_time} ({before.in_all} → {after.in_all})")
    was, will = before.extra_presses, after.extra_presses
    if will == 0 < was:
        goods.append(f"no extra press left ({was} today)")
    elif will < was:
        goods.append(f"{_fewer(was - will, 'extra ')} ({was} → {will})")
    elif will > was:
        bads.append(f"{_more(will - was, 'extra ')} ({was} → {will})")
    bads += [
        f"{count(len(other.lost), 'section')} of {visible(other.label)} that you can no longer play"
        for other in known.others
        if other.lost
    ]
    return goods, bads


def _fewer(number: int, kind: str = "") -> str:
    return count(number, f"fewer {kind}press", f"fewer {kind}presses")


def _more(number: int, kind: str = "") -> str:
    return count(number, f"more {kind}press", f"more {kind}presses")


def _each_time(evening: Evening) -> str:
    """Over what presses are counted."""
    setlists = len(evening.setlists)
    if setlists < 2:
        return "a night" if setlists else "over all songs"
    return "over both setlists" if setlists == 2 else f"over {setlists} setlists"


def _doing(known: Appraisal, *, say_what_stays: bool = False) -> str:
    """What to do: "take Chorus out of loop 5, reprogram 2 memories (1/2 and 2/1)"."""
    now, then = known.now, known.plan.rig
    assert then is not None
    plugs = [
        tick.text.partition(":")[0]
        for tick in ticks(now, then, known.evening)
        if tick.kind == "plug"
    ]
    work = work_of(now, then)
    said = plugs if len(plugs) <= _MOST_PLUGS else _in_and_out(now, then, len(plugs))
    if work.memories:
        if say_what_stays and not plugs and known.plan.kind in ("loops", "all"):
            said.append("keep the pedals as they are")
        said.append(_programming(now, then))
    if work.sections:
        said.append(f"relearn {count(work.sections, 'section')}")
    return listed(said) or "accept the plan"


def _in_and_out(now: Rig, then: Rig, things: int) -> list[str]:
    """Name the pedals that go out of loops or into them, a few of them; and how many things more.

    Args:
        now: The rig as it is.
        then: The rig as planned.
        things: How many things there are to re-plug.
    """
    old, new = lookup(now).loop_of, lookup(then).loop_of
    label = lookup(then).label
    pedals = [pedal.id for pedal in then.pedals]
    out = [f"take {label(x)} out of loop {old[x]}" for x in pedals if x in old and x not in new]
    into = [f"put {label(x)} in loop {new[x]}" for x in pedals if x in new and x not in old]
    by_turns = (visible(text) for pair in zip_longest(out, into) for text in pair if text)
    named = list(islice(by_turns, _MOST_PLUGS))
    left = things - len(named)
    if not named:
        return [f"re-plug {things} things"]
    return [*named, f"re-plug {count(left, 'more thing')}"] if left else named


def _programming(now: Rig, then: Rig) -> str:
    memories: Sequence[int] = [memory for memory, _ in stored_anew(now, then)]
    said = f"reprogram {count(len(memories), 'memory', 'memories')}"
    if len(memories) > _MOST_MEMORIES or then.switcher is None:
        return said
    return f"{said} ({listed(str(then.switcher.spot(memory)) for memory in memories)})"
