"""What to do to get from a rig to the one that was planned: re-plug, re-program, learn.

All of it is read off the two rigs, so it is true of whatever comes out of a plan in the end.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Literal, NamedTuple

from rigtui.model.base import SIDES, Use
from rigtui.model.lookup import lookup
from rigtui.model.rig import Preset, Rig
from rigtui.model.text import count, visible
from rigtui.plan.ask.evening import Evening
from rigtui.plan.verdict.compare import signal_order
from rigtui.plan.verdict.mapping import mapped_anew
from rigtui.plan.verdict.memories import stored_anew
from rigtui.plan.verdict.worth import Worth
from rigtui.plan.words.hands import hand_steps
from rigtui.plan.words.mapping import mapping_step


class Tick(NamedTuple):
    """One thing for the player to do, to be ticked off."""

    kind: Literal["plug", "program", "learn"]
    text: str


def ticks(now: Rig, then: Rig, evening: Evening) -> list[Tick]:
    """What a plan takes of the player, each thing once: re-plug, program, learn.

    Args:
        now: The rig that it was made for.
        then: The rig as planned.
        evening: The songs that count.
    """
    return [
        *(Tick("plug", text) for text in (*_switcher(now, then), *_plugs(now, then))),
        *(Tick("program", text) for text in _programs(now, then, evening)),
        *(Tick("learn", text) for text in mapping_step(mapped_anew(now, then))),
    ]


def title_of_ticks(worth: Worth) -> str:
    """What stands above them: they are to do only where the plan is worth it."""
    return "To do" if worth is Worth.TAKE else "To do, if you take it all the same"


def steps(now: Rig, then: Rig, evening: Evening) -> tuple[str, ...]:
    """Say what a plan takes, in the order in which it is done, and what it writes besides.

    Args:
        now: The rig that it was made for.
        then: The rig as planned.
        evening: The songs that count.
    """
    return (
        *(tick.text for tick in ticks(now, then, evening)),
        *_gone(now, then),
        *_name(now, then),
        *hand_steps(now, then),
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
            f"rename the switcher in the rig if it is another one: it has "
            f"{count(len(then.loops), 'loop')}, and the file still calls it "
            f'"{visible(then.switcher.name)}"'
        )


# Pedals and loops

_HOW: dict[Use, str] = {
    "foot": "step on {} yourself",
    "treadle": "rock {}: that switches it on, without a press",
    "always": "leave {} on",
    "between": "use {} between songs",
    "home": "leave {} at home",
}
"""What to do with a pedal outside the loops, by its use."""


def _plugs(now: Rig, then: Rig) -> Iterator[str]:
    """What to re-plug, and which pedals are stepped on or left on from now on."""
    old, new = lookup(now), lookup(then)
    for pedal in then.pedals:
        was, loop = old.loop_of.get(pedal.id), new.loop_of.get(pedal.id)
        label = visible(pedal.label)
        use = pedal.used
        if was != loop:
            if loop is None:
                yield f"take {label} out of loop {was}: {_HOW[use].format('it')}"
            elif was is None:
                yield f"put {label} in loop {loop}"
            else:
                yield f"move {label} from loop {was} to loop {loop}"
        elif loop is None and old.pedals[pedal.id].used != use:
            yield _HOW[use].format(label)
    if [pedal for pedal in old.order if pedal in new.pedals] != list(new.order):
        was_order, new_order = signal_order(now), signal_order(then)
        for side in SIDES:
            if was_order[side] != new_order[side]:
                items = ", ".join(_chained(then, item) for item in getattr(then.chain, side))
                yield f"new order on the {side} side: {visible(items)}"
    known = {(loop.number, loop.side) for loop in now.loops}
    for row in then.loops:
        if (row.number, row.side) not in known:
            yield f"loop {row.number} is on the {row.side} side"


def _chained(rig: Rig, item: int | str) -> str:
    return f"loop {item}" if isinstance(item, int) else lookup(rig).label(item)


# Memories


def _programs(now: Rig, then: Rig, evening: Evening) -> Iterator[str]:
    """What to store, a line for each memory that holds something else, or nothing, now."""
    if then.switcher is None:
        return
    old = {preset.id: preset for preset in now.presets}
    sections = [(song, section) for song in then.songs for section in song.sections]
    users = Counter(section.preset for _, section in sections)
    here = {section.preset for song, section in sections if song.id in evening.times}
    for memory, preset in stored_anew(now, then):
        was = old.get(preset.id)
        held = was.memories if was is not None else ()
        where = f"in {then.switcher.spot(memory).words}"
        sound = _programmed(preset)
        if was is not None and memory in held:
            before = _loops(was) if was.channel == preset.channel else _programmed(was)
            said = f"reprogram {preset.label} {where}: {sound}; it was {before}"
        else:
            again = " as well" if memory != preset.memory else ""
            said = f"store {preset.label} {where}{again}: {sound}"
            said += "" if was is not None else "; a new preset"
        elsewhere = preset.id not in here and users[preset.id] > 0
        yield visible(said + ", for other songs" * elsewhere)


def _gone(now: Rig, then: Rig) -> Iterator[str]:
    """Presets that go, and those that lose their memory."""
    used = {section.preset for song in now.songs for section in song.sections}
    old = {preset.id: preset for preset in now.presets}
    stay = {preset.id: preset for preset in then.presets}
    for preset in now.presets:
        if preset.id not in stay:
            why = "its sections share other presets"
            why = why if preset.id in used else "no section uses it"
            yield f"{visible(preset.label)} is no longer needed: {why}"
    for preset in then.presets:
        if not preset.memories and preset.id in old and old[preset.id].memories:
            yield f"{visible(preset.label)} is left without a memory (the evening does not use it)"


def _programmed(preset: Preset) -> str:
    """What to store: "loops 1, 6, channel clean"."""
    return _loops(preset) + (f", channel {preset.channel}" if preset.channel else "")


def _loops(preset: Preset) -> str:
    if not preset.loops:
        return "no loop"
    word = "loop" if len(preset.loops) == 1 else "loops"
    return f"{word} {', '.join(map(str, sorted(preset.loops)))}"
