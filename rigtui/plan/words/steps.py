"""What to do to get from a rig to the one that was planned: re-plug, re-program, learn.

All of it is read off the two rigs, so it is true of whatever comes out of a plan in the end.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rigtui.model.base import SIDES
from rigtui.model.edits.folding import switched
from rigtui.model.lookup import lookup
from rigtui.model.rig import Preset, Rig
from rigtui.model.text import count, visible
from rigtui.plan.ask.evening import Evening
from rigtui.plan.verdict.mapping import mapped_anew
from rigtui.plan.words.hands import hand_steps
from rigtui.plan.words.mapping import mapping_step


def steps(now: Rig, then: Rig, evening: Evening) -> tuple[str, ...]:
    """Say what a plan takes, in the order in which it is done.

    Args:
        now: The rig that it was made for.
        then: The rig as planned.
        evening: The songs that count.
    """
    return (
        *_switcher(now, then),
        *_plugs(now, then),
        *_programs(now, then),
        *_memories(now, then, evening),
        *_name(now, then),
        *hand_steps(now, then),
        *mapping_step(mapped_anew(now, then)),
    )


def _switcher(now: Rig, then: Rig) -> Iterator[str]:
    """What another switcher takes; nothing where it is the same one."""
    old, new = now.switcher, then.switcher
    if old is None or new is None or old.memories == new.memories:
        return
    has = count(new.memories, "memory", "memories")
    banks = count(new.banks, "bank")
    if new.memories > old.memories:
        yield f"get a switcher with {has} ({banks} of {new.bank_size}) instead of {old.memories}"
    else:
        yield f"use {has} of the switcher's {old.memories} ({banks} of {new.bank_size})"


def _name(now: Rig, then: Rig) -> Iterator[str]:
    """A switcher with other loops is another, and may have to be called otherwise."""
    if then.switcher is not None and then.switcher.name and len(now.loops) != len(then.loops):
        yield (
            f"give the switcher another name in the rig, if it is another: it then has "
            f'{count(len(then.loops), "loop")}, and is still called "{visible(then.switcher.name)}"'
        )


# Pedals and loops


def _plugs(now: Rig, then: Rig) -> Iterator[str]:
    """What to re-plug, and which pedals are stepped on or left on from now on."""
    old, new = lookup(now), lookup(then)
    for pedal in then.pedals:
        was, loop = old.loop_of.get(pedal.id), new.loop_of.get(pedal.id)
        label = visible(pedal.label)
        use = pedal.used
        if was != loop:
            if loop is None:
                how = {"foot": "step on it yourself", "always": "leave it on"}
                yield f"take {label} out of loop {was}: {how.get(use, 'use it between songs')}"
            elif was is None:
                yield f"put {label} in loop {loop}"
            else:
                yield f"move {label} from loop {was} to loop {loop}"
        elif loop is None and old.pedals[pedal.id].used != use:
            how = {"foot": "step on {} yourself", "always": "leave {} on"}
            yield how.get(use, "use {} between songs").format(label)
    if [pedal for pedal in old.order if pedal in new.pedals] != list(new.order):
        for side in SIDES:
            if _order(now, side) != _order(then, side):
                items = ", ".join(_chained(then, item) for item in getattr(then.chain, side))
                yield f"new order on the {side} side: {visible(items)}"
    known = {(loop.number, loop.side) for loop in now.loops}
    for row in then.loops:
        if (row.number, row.side) not in known:
            yield f"loop {row.number} is on the {row.side} side"


def _order(rig: Rig, side: str) -> list[str]:
    known = lookup(rig)
    return [pedal for pedal in known.order if known.pedals[pedal].side == side]


def _chained(rig: Rig, item: int | str) -> str:
    return f"loop {item}" if isinstance(item, int) else lookup(rig).label(item)


# Presets and memories


def _programs(now: Rig, then: Rig) -> Iterator[str]:
    """Presets to program: those that change, new ones, and those that may go."""
    old = {preset.id: preset for preset in now.presets}
    for preset in then.presets:
        was = old.get(preset.id)
        if was is None:
            if _copied(now, then, preset) is None:
                yield f"new preset {visible(preset.label)}: {_programmed(then, preset)}"
            continue
        other_channel = (was.channel or None) != (preset.channel or None)
        if set(was.loops) != set(preset.loops) or other_channel:
            before = _loops(was)
            if other_channel:
                before += f", channel {was.channel}" if was.channel else ", no channel"
            yield visible(f"program {preset.label}: {_programmed(then, preset)}; it was {before}")
    used = {section.preset for song in now.songs for section in song.sections}
    stay = {preset.id for preset in then.presets}
    for preset in now.presets:
        if preset.id not in stay:
            why = "its sections share other presets"
            why = why if preset.id in used else "no section uses it"
            yield f"{visible(preset.label)} is no longer needed: {why}"


def _programmed(rig: Rig, preset: Preset) -> str:
    """What to store: "loops 1, 6 (Compressor; Delay), channel clean"."""
    known = lookup(rig)
    pedals = [
        ", ".join(known.label(pedal) for pedal in loop.pedals)
        for loop in sorted(rig.loops, key=lambda loop: loop.number)
        if loop.number in preset.loops and loop.pedals
    ]
    named = f" ({'; '.join(pedals)})" if pedals else ""
    channel = f", channel {preset.channel}" if preset.channel else ""
    return visible(f"{_loops(preset)}{named}{channel}")


def _loops(preset: Preset) -> str:
    if not preset.loops:
        return "no loop"
    word = "loop" if len(preset.loops) == 1 else "loops"
    return f"{word} {', '.join(map(str, preset.loops))}"


def _memories(now: Rig, then: Rig, evening: Evening) -> Iterator[str]:
    """Presets to store, and those that lose their memory."""
    if then.switcher is None:
        return
    old = {preset.id: preset.memory for preset in now.presets}
    sections = [(song, section) for song in then.songs for section in song.sections]
    users = Counter(section.preset for _, section in sections)
    here = {section.preset for song, section in sections if song.id in evening.times}
    originals = {preset.id: _copied(now, then, preset) for preset in then.presets}
    for preset in sorted(then.presets, key=lambda row: originals[row.id] is not None):
        was, memory, original = old.get(preset.id), preset.memory, originals[preset.id]
        if memory == was:
            continue
        label = visible(preset.label)
        if memory is None:
            yield f"{label} is left without a memory (the evening does not use it)"
            continue
        what = label if original is None else f"a copy of {visible(original.label)}"
        said = f"store {what} in memory {memory} ({then.switcher.spot(memory).words})"
        said += f"; it was in {was}" if was else ""
        yield said + ", for other songs" * (preset.id not in here and users[preset.id] > 0)


def _copied(now: Rig, then: Rig, preset: Preset) -> Preset | None:
    """The preset that a new one is a copy of: the one in front of it that switches the same."""
    known = {row.id for row in now.presets}
    if preset.id in known:
        return None
    at = then.presets.index(preset)
    same = (row for row in then.presets[:at][::-1] if row.id in known)
    return next((row for row in same if switched(row) == switched(preset)), None)
