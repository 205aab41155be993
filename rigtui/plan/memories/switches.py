"""What an evening asks of the memories: its presets, the changes between them, what is stored."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence

import numpy as np

from rigtui.model.edits import set_preset
from rigtui.model.rig import Rig, Switcher
from rigtui.moves import count_song
from rigtui.plan.ask.evening import Evening
from rigtui.plan.memories.banks import Ints
from rigtui.plan.memories.placing import Gaps


def changes_between(rig: Rig, evening: Evening, ids: Sequence[str]) -> Ints:
    """How often each of some presets is recalled right after each other one, over the evening.

    Others are in no memory, and are recalled in whatever bank is shown.
    """
    at = {preset: place_ for place_, preset in enumerate(ids)}
    flow = np.zeros((len(ids), len(ids)), dtype=np.int64)
    songs = {song.id: song for song in rig.songs}
    for song, times in evening.times.items():
        recalled = [s.preset for s in songs[song].sections if s.preset in at]
        for before, after in itertools.pairwise(recalled):
            if before != after:
                flow[at[before], at[after]] += times
    return flow


def first_recalls(rig: Rig, evening: Evening, ids: Sequence[str]) -> list[int]:
    """How often a preset is recalled as the first of a song that does not start on any of them."""
    starts = dict.fromkeys(ids, 0)
    songs = {song.id: song for song in rig.songs}
    for song, times in evening.times.items():
        sections = songs[song].sections
        if sections and sections[0].preset not in starts:
            first = next((s.preset for s in sections if s.preset in starts), None)
            if first is not None:
                starts[first] += times
    return list(starts.values())


def changes_in_gaps(rig: Rig, evening: Evening, ids: Sequence[str]) -> Gaps:
    """How often one preset is recalled after another on the way from song to song."""
    at = {preset: place_ for place_, preset in enumerate(ids)}
    flow = np.zeros((len(ids), len(ids)), dtype=np.int64)
    first = [0] * len(ids)
    songs = {song.id: [section.preset for section in song.sections] for song in rig.songs}
    for _, walk in evening.walks:
        last: str | None = None
        for song in walk:
            recalled = [preset for preset in songs[song] if preset in at]
            start = songs[song][0] if songs[song] else None
            if start in at:
                if last is None:
                    first[at[start]] += 1
                elif last != start:
                    flow[at[last], at[start]] += 1
            last = recalled[-1] if recalled else last
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


def moves_without_steps(rig: Rig, evening: Evening) -> int:
    """Moves of an evening less its bank steps: what no placement can change."""
    songs = {song.id: song for song in rig.songs}
    return sum(
        times
        * sum(change.moves - change.bank_steps for change in count_song(rig, songs[song]).changes)
        for song, times in evening.times.items()
    )


def stored(rig: Rig, switcher: Switcher, memories: Mapping[str, int]) -> Rig:
    """Store presets in one memory each; others that were there go to a spare one, or to none.

    Copies of the others stay where they are, unless a preset that has no other memory needs the
    place.
    """
    taken = set(memories.values())
    homeless = []
    for preset in rig.presets:
        if preset.id in memories or preset.memory is None:
            continue
        if preset.memory in taken or preset.memory > switcher.memories:
            homeless.append(preset)
        else:
            taken.add(preset.memory)
    copies = {memory for row in rig.presets if row.id not in memories for memory in row.copies}
    free = (memory for memory in range(1, switcher.memories + 1) if memory not in taken)
    spare = sorted(free, key=lambda memory: memory in copies)
    others = {preset.id: (spare.pop(0) if spare else None) for preset in homeless}
    taken |= {memory for memory in others.values() if memory is not None}
    new = rig
    for preset in rig.presets:
        memory = memories.get(preset.id, others.get(preset.id, preset.memory))
        kept = tuple(
            copy
            for copy in preset.copies
            if preset.id not in memories and copy <= switcher.memories and copy not in taken
        )
        taken.update(kept)
        if (memory, kept) != (preset.memory, preset.copies):
            new = set_preset(new, preset.id, memory=memory, copies=kept)
    return new
