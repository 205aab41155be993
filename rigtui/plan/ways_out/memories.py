"""Why presets cannot all be stored, in the player's words, and what would do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rigtui.model.lookup import lookup
from rigtui.model.presets_used import distinct_presets, presets_in_words
from rigtui.model.rig import Rig
from rigtui.model.text import count, visible
from rigtui.plan.ask.checked import needed_switcher
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.other_switcher import most_memories
from rigtui.plan.ask.result import Conflict, Relaxation
from rigtui.plan.memories.switches import presets_of


def too_few_memories(
    rig: Rig,
    evening: Evening,
    ids: Sequence[str],
    pins: Mapping[str, int],
    owned: int,
) -> Conflict | None:
    """Say why presets cannot all be stored, and what would do; None where they can.

    Args:
        rig: The rig, on the switcher that is asked for.
        evening: The songs that count.
        ids: The presets that are to be stored: those that are used, and those that are pinned.
        pins: Memory of each preset that must be in one.
        owned: Memories that the player's switcher has.
    """
    switcher = needed_switcher(rig)
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
        reason += f", and {labels} {'is' if len(idle) == 1 else 'are'} pinned to a memory too"
    relaxations = []
    if over <= len(used) - distinct:
        relaxations.append(
            Relaxation("merge presets that switch the same, as the report offers", {})
        )
    if over == 1:
        for spared in idle:
            rest = {preset: memory for preset, memory in pins.items() if preset != spared}
            label = visible(known.presets[spared].label)
            relaxations.append(Relaxation(f"unpin {label}", {"pin_switch": rest}))
    if len(ids) <= most_memories(switcher):
        other = len(ids) > owned
        text = f"{count(len(ids), 'memory', 'memories')} instead of {switcher.memories}"
        text += ", which means another switcher" * other
        relaxations.append(Relaxation(text, {"memories": len(ids)}, switcher=other))
    else:
        size = count(len(ids), "memory", "memories")
        relaxations.append(Relaxation(f"a switcher with {size} in banks", {}, switcher=True))
    whose = "the switcher stores" if owned == switcher.memories else "you ask for"
    reason += f", and {whose} {switcher.memories}"
    if distinct < len(used):
        reason += ": each takes a memory as long as it is a preset of its own"
    return Conflict(
        reason,
        relaxations=tuple(relaxations),
    )
