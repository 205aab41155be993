"""Copies: store a preset a second time, in a bank that keeps stepping away to reach it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import partial

from rigtui.advice.counted import counted
from rigtui.advice.proposals.asked import Asked
from rigtui.advice.remedy import Proposal
from rigtui.model.edits import take_copies
from rigtui.model.lookup import lookup
from rigtui.model.playable import in_range
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed
from rigtui.moves import changes_as_written

MOST_COPIES = 4
MOST_TRIED = 3
"""Copies that are tried before the best of them is taken, each time."""


def propose(asked: Asked) -> Iterator[Proposal | None]:
    """Propose copies in memories that are free, one after the other, as long as each helps."""
    switcher = asked.rig.switcher
    if switcher is None or switcher.banks < 2 or asked.before.unplayable:
        return
    rig, chosen = asked.rig, list[tuple[str, int]]()
    order = asked.before.order
    while len(chosen) < MOST_COPIES:
        best = None
        for preset, memory in _wanted(rig, asked)[:MOST_TRIED]:
            yield None
            trial = copied(rig, ((preset, memory),))
            after = counted(trial, asked.evening).order
            if after < order:
                best, order, better = (preset, memory), after, trial
        if best is None:
            break
        chosen.append(best)
        rig = better
    if chosen:
        label = {preset.id: preset.label for preset in rig.presets}
        yield Proposal(
            "copies",
            "Store "
            + listed(f"{label[preset]} in memory {memory}" for preset, memory in chosen)
            + " as well",
            partial(copied, chosen=tuple(chosen)),
            tuple(f"presets.{preset}" for preset, _ in chosen),
            {"memories": len(chosen)},
            detail=(f"{count(len(chosen), 'memory', 'memories')} that no preset uses now",),
        )


def copied(rig: Rig, chosen: tuple[tuple[str, int], ...]) -> Rig:
    """Return the rig with presets in further memories."""
    for preset, memory in chosen:
        rig = take_copies(rig, preset, (*lookup(rig).presets[preset].copies, memory))
    return rig


def _wanted(rig: Rig, asked: Asked) -> list[tuple[str, int]]:
    """Presets and free memories in banks from which they are stepped to, most often first."""
    switcher = rig.switcher
    assert switcher is not None
    held = {memory for preset in rig.presets for memory in preset.memories}
    free: dict[int, int] = {}
    for memory in range(1, switcher.memories + 1):
        if memory not in held:
            free.setdefault(switcher.spot(memory).bank, memory)
    presets, times = lookup(rig).presets, Counter[tuple[str, int]]()
    for song in asked.evening.songs if free else ():
        for change in changes_as_written(rig, song):
            if change.bank_steps:
                before, after = (
                    presets.get(song.sections[at].preset or "")
                    for at in (change.from_section, change.to_section)
                )
                for memory in in_range(before, switcher.memories) if before and after else ():
                    bank = switcher.spot(memory).bank
                    if bank in free and after is not None and after.memories:
                        times[after.id, free[bank]] += asked.evening.times[song.id]
    return [key for key, _ in times.most_common()]
