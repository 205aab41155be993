"""Copies of presets in spare memories, so that a song finds what it needs in the bank shown.

From a rig whose presets all have a memory to one whose banks hold what the songs need: what the
rig asks of the banks, the search, and the memories that come of it. A preset that is in several
memories has them as its `memory` and its `copies`; songs stay mapped as they are.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from rigtui.model.banks import Spot
from rigtui.model.edits.tables import changed, with_table
from rigtui.model.playable import in_range
from rigtui.model.rig import Preset, Rig
from rigtui.plan.ask.checked import needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.question import Question
from rigtui.plan.memories.contents import (
    Contents,
    ContentsProblem,
    Recalls,
    Score,
    flow_within,
    masks_of,
)
from rigtui.plan.memories.contents_search import ContentsSearch
from rigtui.plan.memories.travel import best_places

NO_COPIES = 1 << 60
"""A bound where there is no room for a copy, or none may be made."""


@dataclass(frozen=True, slots=True)
class Stores:
    """What an evening asks of the banks of a rig, and which preset is which."""

    ids: tuple[str, ...]
    """Presets that keep a memory, those of the evening first."""
    problem: ContentsProblem

    def contents(self, rig: Rig) -> Contents | None:
        """What the banks of a rig hold of these presets; None where one of them is in none.

        A preset that is in no memory there takes a place that is free.
        """
        switcher = needed_switcher(rig)
        memories = {row.id: in_range(row, switcher.memories) for row in rig.presets}
        banks: list[list[int]] = [[] for _ in self.problem.rooms]
        waiting = []
        for at, preset in enumerate(self.ids):
            held = memories.get(preset, [])
            for memory in held:
                bank = switcher.spot(memory).bank
                if bank < len(banks) and at not in banks[bank]:
                    banks[bank].append(at)
            if not held:
                waiting.append(at)
        for at in waiting:
            rooms = zip(banks, self.problem.rooms)
            home = next((bank for bank, room in rooms if len(bank) < room), None)
            if home is None:
                return None
            home.append(at)
        contents = tuple(tuple(sorted(bank)) for bank in banks)
        return contents if self.problem.fits(contents) else None


class FilledRig(NamedTuple):
    """A rig whose banks hold what its songs need."""

    rig: Rig
    bound: int
    """Bank steps inside songs that no copies go below."""


def stores_of(rig: Rig, evening: Evening, pins: Mapping[str, int]) -> Stores:
    """Work out what an evening asks of the banks.

    Presets that are stored and that the evening does not use keep a memory, as long as there is
    room: those that other songs use in any bank, those that no song uses where they are.

    Args:
        rig: The rig; every preset that the evening recalls has a memory.
        evening: The songs that count.
        pins: Memory that a preset must have.
    """
    switcher = needed_switcher(rig)
    songs = {song.id: song for song in rig.songs}
    stored = {row.id: row for row in rig.presets if in_range(row, switcher.memories)}
    used = {section.preset for song in evening.times for section in songs[song].sections}
    of_others = {section.preset for song in rig.songs for section in song.sections}
    ids = [preset for preset in stored if preset in used or preset in pins]
    idle = sorted((row for row in stored if row not in ids), key=lambda row: row not in of_others)
    idle = idle[: max(0, switcher.memories - len(ids))]
    ids += idle
    place = {preset: at for at, preset in enumerate(ids)}
    recalls, names = [], list(evening.times)
    for name in names:
        sections = songs[name].sections
        heard = (place[s.preset] for s in sections if s.preset in place)
        cold = bool(sections) and sections[0].preset not in place
        presets = tuple(preset for preset, _ in itertools.groupby(heard))
        recalls.append(Recalls(presets, evening.times[name], cold and bool(presets)))
    at_song = {name: at for at, name in enumerate(names)}
    walks = tuple(tuple(at_song[song] for song in walk) for _, walk in evening.walks)
    bank_of = {place[preset]: switcher.spot(memory).bank for preset, memory in pins.items()
               if preset in place}  # fmt: skip
    for preset in idle:
        if preset not in of_others:
            memory = in_range(stored[preset], switcher.memories)[0]
            bank_of[place[preset]] = switcher.spot(memory).bank
    return Stores(
        tuple(ids),
        ContentsProblem(switcher.ring, switcher.rooms, len(ids), tuple(recalls), walks, bank_of),
    )


def with_copies(
    then: Rig,
    now: Rig,
    evening: Evening,
    question: Question,
    control: Control,
    better: Callable[[Rig], None] | None = None,
    *,
    starts: Sequence[Rig] = (),
    rounds: int = 6,
    tidy: bool = True,
) -> FilledRig:
    """The rig with as many copies as help, no more than the question allows.

    Args:
        then: A rig whose presets of the evening have one memory each.
        now: The rig as it is, whose copies stay where they help.
        evening: The songs that count.
        question: Memories that presets must have, and how many copies there may be.
        control: The time that there is.
        better: Called with each rig that is the best so far.
        starts: Rigs with the same presets to start from too.
        rounds: Starts in a row that may bring nothing before the search ends.
        tidy: Whether copies that save nothing are taken out, and steps between songs spared.
    """
    switcher = needed_switcher(then)
    stores = stores_of(then, evening, question.pin_switch)
    problem = stores.problem
    spare = switcher.memories - problem.presets
    copies = spare if question.copies is None else min(spare, question.copies)
    first = stores.contents(then)
    if copies <= 0 or switcher.banks < 2 or first is None:
        return FilledRig(then, NO_COPIES)
    known = (stores.contents(rig) for rig in (now, *starts))
    enough = [c for c in known if c is not None and sum(map(len, c)) <= problem.presets + copies]

    def tell(contents: Contents, score: Score) -> None:
        if better is not None and contents != first:
            better(_written(then, now, stores, contents, question.pin_switch, control))

    search = ContentsSearch(problem, control, tell, most=problem.presets + copies)
    search.run([*enough, first], rounds=rounds, tidy=tidy)
    assert search.best is not None
    bound = search.score.written if search.proved else problem.bound
    if search.best == first:
        return FilledRig(then, bound)
    return FilledRig(_written(then, now, stores, search.best, question.pin_switch, control), bound)


def _written(
    then: Rig,
    now: Rig,
    stores: Stores,
    contents: Contents,
    pins: Mapping[str, int],
    control: Control,
) -> Rig:
    """Give the presets the memories of the banks that hold them."""
    switcher = needed_switcher(then)
    spots = {
        row.id: {switcher.spot(memory) for memory in in_range(row, switcher.memories)}
        for rig in (then, now)
        for row in rig.presets
    }
    flow = flow_within(stores.problem, masks_of(stores.problem, contents))
    memories: dict[str, list[int]] = {}
    for bank, members in enumerate(contents):
        weight = np.zeros((len(members), len(members)), dtype=np.int64)
        for (where, a, b), times in flow.items():
            if where == bank:
                i, j = members.index(a), members.index(b)
                weight[i, j] = weight[j, i] = times
        old, fixed = [], {}
        for at, member in enumerate(members):
            preset = stores.ids[member]
            here = [spot.switch for spot in spots.get(preset, ()) if spot.bank == bank]
            old.append(min(here, default=None))
            if preset in pins and switcher.spot(pins[preset]).bank == bank:
                fixed[at] = switcher.spot(pins[preset]).switch
        places, _, _ = best_places(weight, stores.problem.rooms[bank], fixed, old, control)
        for member, switch in zip(members, places):
            memory = switcher.memory_at(Spot(bank, switch))
            memories.setdefault(stores.ids[member], []).append(memory)
    return in_memories(then, memories)


def in_memories(rig: Rig, memories: Mapping[str, Sequence[int]]) -> Rig:
    """The rig with its presets in these memories, and in no others.

    The first of each is the one that is nearest bank 1, from which a song is set up.
    """
    switcher = needed_switcher(rig)
    from_first = switcher.ring.table[0]

    def stored(row: Preset) -> Preset:
        held = sorted(
            memories.get(row.id, ()),
            key=lambda memory: (from_first[switcher.spot(memory).bank], memory),
        )
        first, rest = next(iter(held), None), tuple(sorted(held[1:]))
        if (first, rest) == (row.memory, row.copies):
            return row
        return changed(row, memory=first, copies=rest)

    return with_table(rig, "presets", [stored(row) for row in rig.presets])


def copies_in(rig: Rig, evening: Evening) -> int:
    """How many memories beside their first the presets of an evening have."""
    used = {section.preset for song in evening.songs for section in song.sections}
    most = needed_switcher(rig).memories
    return sum(max(0, len(in_range(row, most)) - 1) for row in rig.presets if row.id in used)


def travel_within_banks(rig: Rig, evening: Evening) -> int:
    """Switches that the foot passes inside songs without leaving a bank."""
    switcher = needed_switcher(rig)
    stores = stores_of(rig, evening, {})
    presets = {row.id: row for row in rig.presets}
    switch: dict[tuple[int, int], int] = {}
    masks = [0] * stores.problem.presets
    for at, preset in enumerate(stores.ids):
        for memory in in_range(presets[preset], switcher.memories):
            bank, place = switcher.spot(memory)
            switch[bank, at] = place
            masks[at] |= 1 << bank
    return sum(
        times * abs(switch[bank, a] - switch[bank, b])
        for (bank, a, b), times in flow_within(stores.problem, masks).items()
    )
