"""What each memory holds, and which have to be programmed to get from one rig to another."""

from __future__ import annotations

from rigtui.model.edits.folding import Switched, switched
from rigtui.model.rig import Preset, Rig


def stored_in(rig: Rig) -> dict[int, list[Preset]]:
    """The presets in each memory, copies included; more than one where they clash."""
    memories: dict[int, list[Preset]] = {}
    for preset in rig.presets:
        for memory in preset.memories:
            memories.setdefault(memory, []).append(preset)
    return memories


def stored_anew(now: Rig, then: Rig) -> list[tuple[int, Preset]]:
    """The memories that hold another preset than now, or the same one programmed otherwise."""
    before, after = stored_in(now), stored_in(then)
    most = then.switcher.memories if then.switcher is not None else 0
    return [
        (memory, preset)
        for memory in sorted(after)
        if memory <= most
        for preset in after[memory]
        if programmed(preset) not in map(programmed, before.get(memory, ()))
    ]


def programmed(preset: Preset) -> tuple[str, Switched]:
    """What a memory of a preset holds: the preset, and what it switches."""
    return preset.id, switched(preset)
