"""Switches: which memory holds which preset, with the sounds and the mapping as they are."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from functools import partial

import numpy as np

from rigtui.model.edits import set_preset
from rigtui.model.lookup import lookup
from rigtui.model.presets_used import distinct_presets, presets_in_words
from rigtui.model.rig import Rig, Switcher
from rigtui.model.text import count, visible
from rigtui.moves import count_song
from rigtui.plan.ask.checked import checked
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of, figures
from rigtui.plan.ask.other_switcher import most_memories, with_memories
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import (
    Conflict,
    Figures,
    Plan,
    PlanError,
    Proof,
    Relaxation,
    Status,
    Stopped,
)
from rigtui.plan.ask.so_far import stopped
from rigtui.plan.memories.banks import Ints
from rigtui.plan.memories.copies import add_copies
from rigtui.plan.memories.placing import Gaps, Placement, place


def changes_between(rig: Rig, evening: Evening, ids: Sequence[str]) -> Ints:
    """How often each of some presets is recalled right after each other one, over the evening."""
    at = {preset: place_ for place_, preset in enumerate(ids)}
    flow = np.zeros((len(ids), len(ids)), dtype=np.int64)
    songs = {song.id: song for song in rig.songs}
    known = {preset.id for preset in rig.presets}
    for song, times in evening.times.items():
        mapped = [s.preset for s in songs[song].sections if s.preset in known]
        for before, after in itertools.pairwise(mapped):
            if before != after and before in at and after in at:
                flow[at[before], at[after]] += times
    return flow


def first_recalls(rig: Rig, evening: Evening, ids: Sequence[str]) -> list[int]:
    """How often a preset is recalled as the first of a song that does not start on any preset."""
    starts = dict.fromkeys(ids, 0)
    songs = {song.id: song for song in rig.songs}
    known = {preset.id for preset in rig.presets}
    for song, times in evening.times.items():
        sections = songs[song].sections
        if sections and sections[0].preset not in known:
            first = next((s.preset for s in sections if s.preset in known), None)
            if first in starts:
                starts[first] += times
    return list(starts.values())


def changes_in_gaps(rig: Rig, evening: Evening, ids: Sequence[str]) -> Gaps:
    """How often one preset is recalled after another on the way from song to song."""
    at = {preset: place_ for place_, preset in enumerate(ids)}
    flow = np.zeros((len(ids), len(ids)), dtype=np.int64)
    first = [0] * len(ids)
    songs = {song.id: [section.preset for section in song.sections] for song in rig.songs}
    known = {preset.id for preset in rig.presets}
    for _, walk in evening.walks:
        last: str | None = None
        for song in walk:
            mapped = [preset for preset in songs[song] if preset in known]
            start = songs[song][0] if songs[song] else None
            if start in at:
                if last is None:
                    first[at[start]] += 1
                elif last != start and last in at:
                    flow[at[last], at[start]] += 1
            last = mapped[-1] if mapped else last
    return Gaps(flow, tuple(first))


def presets_of(rig: Rig, evening: Evening) -> list[str]:
    """Ids of the presets that the evening uses, in the rig's order."""
    used = {
        section.preset
        for song in rig.songs
        if song.id in evening.times
        for section in song.sections
    }
    return [preset.id for preset in rig.presets if preset.id in used]


def plan_switches(
    rig: Rig,
    question: Question | None = None,
    control: Control | None = None,
) -> Plan:
    """Choose memories so that bank steps inside songs are as few as can be.

    Then those between songs, then the travel of the foot.

    Args:
        rig: The rig; its presets and mapping stay as they are.
        question: The setlists that count, memories that presets must have, and copies.
        control: Progress out, cancel in.

    Raises:
        PlanError: no switcher, or a question that makes no sense.
    """
    question, control = checked(rig, question or Question()), control or Control()
    evening = evening_of(rig, question.setlists)
    owned = needed_switcher(rig).memories
    used = presets_of(rig, evening)
    pins = question.pin_switch
    ids = [*used, *(preset for preset in pins if preset not in used)]
    before = figures(rig, evening)
    rig = with_memories(rig, question.memories)
    conflict = _clash(rig, needed_switcher(rig), evening, ids, pins, owned)
    if conflict is not None:
        return Plan("switches", Status.INFEASIBLE, before, conflict=conflict)
    try:
        return _placed(rig, evening, ids, pins, question.copies, before, control)
    except Stopped:
        return stopped("switches", before, control)


def _placed(
    rig: Rig,
    evening: Evening,
    ids: Sequence[str],
    pins: Mapping[str, int],
    copies: int,
    before: Figures,
    control: Control,
) -> Plan:
    switcher = needed_switcher(rig)
    control.tell("placing the presets", 0.0)
    beat = on_the_beat(rig, evening)
    control.prove(beat)
    old = {preset.id: preset.memory for preset in rig.presets}
    flow = changes_between(rig, evening, ids)
    pinned = {ids.index(preset): memory for preset, memory in pins.items()}
    starts = first_recalls(rig, evening, ids)
    gaps = changes_in_gaps(rig, evening, ids)

    def plan_of(memories: Sequence[int | None], own: Control, *, exact: bool) -> Plan:
        placed = place(switcher, flow, pinned, memories, own, starts=starts, gaps=gaps, exact=exact)
        own.stop_if_cancelled()
        new = stored(rig, switcher, dict(zip(ids, placed.memories)))
        if copies:
            new = add_copies(new, evening, copies, own)
        own.stop_if_cancelled()
        return _plan(rig, new, evening, before, beat, placed, copies, own)

    homes = [old[preset] for preset in ids]
    control.offer(partial(plan_of, homes, exact=False))
    return plan_of(homes, control, exact=True)


def _plan(
    rig: Rig,
    new: Rig,
    evening: Evening,
    before: Figures,
    beat: int,
    placed: Placement,
    copies: int,
    control: Control,
) -> Plan:
    after = figures(new, evening)
    made = len(new.presets) - len(rig.presets)
    spent = after.moves - beat
    assert made or spent == placed.bank_steps
    # Copies may spare every bank step, where there is a memory for one.
    with_copies = 0 if len(placed.memories) < needed_switcher(rig).memories else placed.bound
    fewest = with_copies if copies else placed.bound
    bound = beat + fewest
    proved = after.moves <= bound
    status = Status.OPTIMAL if proved else Status.TIMED_OUT if control.over else Status.FEASIBLE
    details: dict[str, object] = {
        "travel_proved": placed.proved and placed.travel_proved,
        "method": placed.method,
        "bound_with_copies": beat + with_copies,
    }
    if copies:
        details["copies"] = made
    return Plan(
        kind="switches",
        status=status,
        before=before,
        rig=new,
        after=after,
        lower_bound=bound,
        objective={"bank_steps": spent, "travel": placed.travel},
        parts=(Proof("switches", "bank steps inside songs", spent, fewest),),
        details=details,
    )


def on_the_beat(rig: Rig, evening: Evening) -> int:
    """Moves of an evening less its bank steps: what no placement can change."""
    songs = {song.id: song for song in rig.songs}
    return sum(
        times * sum(change.on_the_beat for change in count_song(rig, songs[song]).changes)
        for song, times in evening.times.items()
    )


def needed_switcher(rig: Rig) -> Switcher:
    """The rig's switcher.

    Raises:
        PlanError: it has none.
    """
    if rig.switcher is None:
        raise PlanError("the rig has no switcher: describe it first, memories and bank_size")
    return rig.switcher


def _clash(
    rig: Rig,
    switcher: Switcher,
    evening: Evening,
    ids: Sequence[str],
    pins: Mapping[str, int],
    owned: int,
) -> Conflict | None:
    """Why the presets cannot all be stored, if they cannot; `owned` memories the player has."""
    over = len(ids) - switcher.memories
    if over <= 0:
        return None
    known = lookup(rig)
    used = presets_of(rig, evening)
    distinct = len(distinct_presets(rig, used))
    reason = f"these songs use {presets_in_words(rig, used)}"
    idle = [preset for preset in ids if preset not in used]
    if idle:
        labels = ", ".join(visible(known.presets[preset].label) for preset in idle)
        reason += f", {labels} {'is' if len(idle) == 1 else 'are'} pinned to a memory besides"
    relaxations = []
    if over <= len(used) - distinct:
        relaxations.append(
            Relaxation("merge presets that switch the same, as the report offers", {})
        )
    if over == 1:
        for spared in idle:
            rest = {preset: memory for preset, memory in pins.items() if preset != spared}
            label = visible(known.presets[spared].label)
            relaxations.append(Relaxation(f"give up the pin of {label}", {"pin_switch": rest}))
    if len(ids) <= most_memories(switcher):
        other = len(ids) > owned
        text = f"{count(len(ids), 'memory', 'memories')} instead of {switcher.memories}"
        text += ", which takes another switcher" * other
        relaxations.append(Relaxation(text, {"memories": len(ids)}, switcher=other))
    else:
        size = count(len(ids), "memory", "memories")
        relaxations.append(Relaxation(f"a switcher with {size} in banks", {}, switcher=True))
    whose = "the switcher stores" if owned == switcher.memories else "you ask for"
    reason += f", and {whose} {switcher.memories}"
    if distinct < len(used):
        reason += ": each takes a memory as long as they are presets of their own"
    return Conflict(
        reason,
        relaxations=tuple(relaxations),
    )


def stored(rig: Rig, switcher: Switcher, memories: Mapping[str, int]) -> Rig:
    """Store presets in memories; others that were there go to a spare one, or to none."""
    taken = set(memories.values())
    homeless = []
    for preset in rig.presets:
        if preset.id in memories or preset.memory is None:
            continue
        if preset.memory in taken or preset.memory > switcher.memories:
            homeless.append(preset)
        else:
            taken.add(preset.memory)
    spare = [memory for memory in range(1, switcher.memories + 1) if memory not in taken]
    others = {preset.id: (spare.pop(0) if spare else None) for preset in homeless}
    new = rig
    for preset in rig.presets:
        memory = memories.get(preset.id, others.get(preset.id, preset.memory))
        if memory != preset.memory:
            new = set_preset(new, preset.id, memory=memory)
    return new
