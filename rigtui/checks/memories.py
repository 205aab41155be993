"""Presets and the memories that store them: too few, too many, the same twice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import partial

from rigtui.checks.all_moves import all_moves
from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.words import named
from rigtui.model import Preset, Rig, Section
from rigtui.model.edits import (
    delete_preset,
    first_free_memory,
    fold_into_copies,
    leave_memory,
    merge_presets,
    set_preset,
)
from rigtui.model.edits.folding import Switched, switched
from rigtui.model.places import place_at
from rigtui.model.playable import in_range
from rigtui.model.presets_used import distinct_presets, presets_in_words
from rigtui.model.text import count, listed, number_text, visible
from rigtui.moves.words import nearest_in_words


def _used(rig: Rig) -> dict[str, int]:
    """In how many sections each preset is used."""
    times: dict[str, int] = {}
    for song in rig.songs:
        for section in song.sections:
            if section.preset is not None:
                times[section.preset] = times.get(section.preset, 0) + 1
    return times


def _other_memory(view: RigView, preset: Preset, memory: int) -> Fix:
    """Give up one of a preset's memories; where it has no other, for the next free, if any is."""
    if len(preset.memories) > 1:
        return Fix(
            f"take {named(preset)} out of memory {memory}: it has others",
            partial(leave_memory, preset_id=preset.id, memory=memory),
        )
    free = first_free_memory(view.rig)
    label = (
        f"store {named(preset)} in memory {free}"
        if free
        else f"leave {named(preset)} planned, without a memory"
    )
    return Fix(label, partial(set_preset, preset_id=preset.id, memory=free, copies=()))


def _memory_clash(view: RigView) -> Iterator[Hit]:
    first: dict[int, Preset] = {}
    presets = view.rig.presets
    copies = [(memory, preset) for preset in presets for memory in preset.memories[1:]]
    for memory, preset in [*((p.memories[0], p) for p in presets if p.memories), *copies]:
        other = first.setdefault(memory, preset)
        if other is not preset:
            yield Hit(
                place_at("presets", preset.id),
                f"{named(preset)} and {named(other)} are both in memory {memory}",
                _other_memory(view, preset, memory),
            )
    for preset in presets:
        named_twice = Counter([*preset.copies, preset.memory])
        for memory in preset.memories:
            if named_twice[memory] > 1:
                yield Hit(
                    place_at("presets", preset.id),
                    f"{named(preset)} lists memory {memory} twice",
                    Fix(
                        f"list memory {memory} once",
                        partial(set_preset, preset_id=preset.id, copies=preset.memories[1:]),
                    ),
                )


def _memory_out_of_range(view: RigView) -> Iterator[Hit]:
    switcher = view.rig.switcher
    if switcher is None:
        return
    for preset in view.rig.presets:
        for memory in preset.memories:
            if memory > switcher.memories:
                yield Hit(
                    place_at("presets", preset.id),
                    f"{named(preset)} is in memory {memory}, but the switcher has "
                    f"{count(switcher.memories, 'memory', 'memories')}",
                    _other_memory(view, preset, memory),
                )


def _preset_blowup(view: RigView) -> Iterator[Hit]:
    """More than fit: no choice of memories can hold what the songs ask for."""
    rig, used = view.rig, _used(view.rig)
    needed = [preset.id for preset in rig.presets if preset.id in used]
    if rig.switcher and len(distinct_presets(rig, needed)) > rig.switcher.memories:
        yield Hit(
            "switcher",
            f"The songs use {presets_in_words(rig, needed)}, but the switcher has "
            f"{count(rig.switcher.memories, 'memory', 'memories')}",
        )


def _unstored_preset(view: RigView) -> Iterator[Hit]:
    used, free = _used(view.rig), first_free_memory(view.rig)
    for preset in view.rig.presets if view.rig.switcher else ():
        if preset.memories or preset.id not in used:
            continue
        label = f"store {named(preset)} in memory {free}"
        fix = Fix(label, partial(set_preset, preset_id=preset.id, memory=free)) if free else None
        where, sections = place_at("presets", preset.id), count(used[preset.id], "section")
        none_free = "" if free else "; none is free"
        nearest = None
        if preset.id in view.board.unplayable:
            nearest = nearest_in_words(view.rig, Section(name="any", bars=1, preset=preset.id))
        if nearest is None:  # it sounds like one that is stored, or nothing is stored yet
            says = f"{named(preset)} is used in {sections} but is in no memory{none_free}"
            yield Hit(where, says, fix)
        else:
            says = f"{named(preset)} is in no memory{none_free}: {sections} can't be played"
            yield Hit(where, f"{says}. {nearest}", fix, "error")


def _unused_preset(view: RigView) -> Iterator[Hit]:
    used = _used(view.rig)
    if not any(song.sections for song in view.rig.songs):
        return
    for preset in view.rig.presets:
        if preset.id not in used:
            held = ""
            if preset.memories:
                holds = "memories {} store" if len(preset.memories) > 1 else "memory {} stores"
                held = f"; {holds.format(listed(map(str, preset.memories)))} it"
            yield Hit(
                place_at("presets", preset.id),
                f"No section uses {named(preset)}{held}",
                Fix(f"delete {named(preset)}", partial(delete_preset, preset_id=preset.id)),
                why=None if preset.memories else _UNUSED_PLAN,
            )


_UNUSED_PLAN = "It is in no memory, so it costs none, but it is one more name to read past."


def _twin_presets(view: RigView) -> Iterator[Hit]:
    first: dict[Switched, Preset] = {}
    for preset in view.rig.presets:
        other = first.setdefault(switched(preset), preset)
        if other is not preset:
            yield _twin(view, preset, other)


def _twin(view: RigView, preset: Preset, other: Preset) -> Hit:
    merge = partial(merge_presets, stays=other.id, gone=preset.id)
    message = (
        f"{named(preset)} switches the same as {named(other)}: {_what(preset)}"
        f"{_unlike(preset, other)}"
    )
    if _banks_apart(view, preset, other):
        saved = all_moves(merge(view.rig)).moves - all_moves(view.rig).moves
        if saved > 0:
            over = "over every setlist" if view.rig.setlists else "over every song"
            message += f"; in a bank of its own it saves {count(saved, 'move')} {over}"
        fold = partial(fold_into_copies, stays=other.id, clone=preset.id)
        label = f"make {named(preset)} a copy of {named(other)}"
        return Hit(place_at("presets", preset.id), message, Fix(label, fold), why=_COPY_WHY)
    return Hit(
        place_at("presets", preset.id),
        message,
        Fix(f"merge {named(preset)} into {named(other)}", merge),
    )


_COPY_WHY = (
    "The switcher and the player can't tell them apart. As one preset in both "
    "memories, each change recalls it from the nearer one, and you edit it once."
)


def _banks_apart(view: RigView, preset: Preset, other: Preset) -> bool:
    """Whether a preset is in a bank where another is not, and so may spare the steps to it."""
    switcher = view.rig.switcher
    if switcher is None:
        return False
    mine, others = (
        {switcher.spot(memory).bank for memory in in_range(stored, switcher.memories)}
        for stored in (preset, other)
    )
    return bool(others) and not mine <= others


def _what(preset: Preset) -> str:
    """Say "loops 2 and 5, channel drive"."""
    loops = sorted(set(preset.loops))
    noun = "loop" if len(loops) == 1 else "loops"
    text = f"{noun} {listed(map(str, loops))}" if loops else "no loop"
    return text + (f", channel {visible(preset.channel)}" if preset.channel else "")


def _unlike(preset: Preset, other: Preset) -> str:
    """Say how high the guitar is in each, where that differs: a merge leaves it to the sections."""
    if preset.guitar_volume == other.guitar_volume:
        return ""
    heights = [
        "none" if volume is None else number_text(volume)
        for volume in (preset.guitar_volume, other.guitar_volume)
    ]
    return f"; they differ in guitar volume ({listed(heights)})"


def _no_switcher(view: RigView) -> Iterator[Hit]:
    rig = view.rig
    if rig.switcher is None and (rig.presets or rig.loops):
        held = [count(len(rig.loops), "loop")] if rig.loops else []
        held += [count(len(rig.presets), "preset")] if rig.presets else []
        yield Hit(
            "switcher",
            f"The file has {listed(held)} but no switcher, so banks and memories are not counted",
        )


_SLOTS = "Arithmetic: a memory stores one preset."

RULES = (
    Rule(
        id="memory-clash",
        severity="error",
        scope="rig",
        summary="Two presets are in the same memory, or one preset lists it twice.",
        why="A memory stores one preset: you get the one that was stored last.",
        source=_SLOTS,
        check=_memory_clash,
    ),
    Rule(
        id="memory-out-of-range",
        severity="error",
        scope="rig",
        summary="A preset is in a memory that the switcher doesn't have.",
        why="You can't store it there, so no footswitch recalls it.",
        source=_SLOTS,
        check=_memory_out_of_range,
    ),
    Rule(
        id="preset-blowup",
        severity="error",
        scope="rig",
        summary="The songs use more different presets than the switcher stores.",
        why="Whatever you store where, a sound is missing on the night. Take a pedal that "
        "suits any sound out of the loops, or give up a sound.",
        source="Common practice: k independent toggles inside presets need base x 2^k presets "
        "(arithmetic).",
        check=_preset_blowup,
    ),
    Rule(
        id="no-switcher",
        severity="warning",
        scope="rig",
        summary="The file has loops or presets but no switcher.",
        why="What a change costs your feet depends on the switcher's banks and buttons.",
        source="Rig file format: [switcher].",
        check=_no_switcher,
    ),
    Rule(
        id="unstored-preset",
        severity="advice",
        scope="rig",
        summary="A preset that songs use is in no memory. It is an error where nothing stored "
        "sounds the same.",
        why="No footswitch recalls it. Its moves are counted as if it were in the bank shown.",
        source="Rig file format: memory.",
        check=_unstored_preset,
    ),
    Rule(
        id="unused-preset",
        severity="advice",
        scope="rig",
        summary="No section uses a preset.",
        why="It takes a memory, and it is one more switch to read past in the dark.",
        source="common practice",
        check=_unused_preset,
    ),
    Rule(
        id="twin-presets",
        severity="advice",
        scope="rig",
        summary="Two presets switch in the same loops and channel.",
        why="To the switcher they are the same. The second takes a memory, and a change "
        "from one to the other takes a press that does nothing.",
        source="common practice",
        check=_twin_presets,
    ),
)
