"""Edits of presets. Each takes a Rig and returns a new one."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rigtui.model.edits.tables import (
    changed,
    made,
    moved,
    place_of,
    put,
    swapped_in,
    taken,
    with_table,
)
from rigtui.model.edits.waivers import with_waivers_moved
from rigtui.model.errors import EditError
from rigtui.model.places import place_at
from rigtui.model.rig import Preset, Rig
from rigtui.model.text import slug


def set_preset(rig: Rig, preset_id: str, **fields: Any) -> Rig:
    """Change keys of a preset: name, role, loops, memory, channel, guitar_volume, hands, ..."""
    at = place_of(rig.presets, preset_id, "preset")
    row = changed(rig.presets[at], **fields)
    return with_table(rig, "presets", swapped_in(rig.presets, at, row))


def toggle_loop(rig: Rig, preset_id: str, number: int) -> Rig:
    """Switch a loop in or out of a preset; loops are kept in the order of their numbers."""
    at = place_of(rig.presets, preset_id, "preset")
    loops = rig.presets[at].loops
    new = [n for n in loops if n != number] if number in loops else sorted([*loops, number])
    return set_preset(rig, preset_id, loops=tuple(new))


def without_loop(preset: Preset, number: int) -> Preset:
    """The preset with a loop switched out, the very same one if it was out already."""
    if number not in preset.loops:
        return preset
    return changed(preset, loops=tuple(n for n in preset.loops if n != number))


def loop_out_everywhere(rig: Rig, number: int) -> Rig:
    """Switch a loop out in all presets."""
    return with_table(rig, "presets", [without_loop(preset, number) for preset in rig.presets])


def add_preset(rig: Rig, name: str, at: int | None = None, **fields: Any) -> Rig:
    """Add a preset; its id is made from its name."""
    row = made(Preset, id=slug(name, _ids(rig)), name=name, **fields)
    return with_table(rig, "presets", put(rig.presets, at, row))


def duplicate_preset(rig: Rig, preset_id: str) -> Rig:
    """Put a copy of a preset behind it, not yet stored in a memory."""
    at = place_of(rig.presets, preset_id, "preset")
    old = rig.presets[at]
    name = f"{old.label} copy"
    row = changed(old, id=slug(name, _ids(rig)), name=name, memory=None, copies=())
    return with_table(rig, "presets", put(rig.presets, at + 1, row))


def delete_preset(rig: Rig, preset_id: str, instead: str | None = None) -> Rig:
    """Delete a preset; sections that used it go to another preset or become unmapped."""
    at = place_of(rig.presets, preset_id, "preset")
    if instead is not None:
        place_of(rig.presets, instead, "preset")
    return _repointed(with_table(rig, "presets", taken(rig.presets, at)), preset_id, instead)


def move_preset(rig: Rig, preset_id: str, by: int) -> Rig:
    """Move a preset by some places in the list."""
    at = place_of(rig.presets, preset_id, "preset")
    return with_table(rig, "presets", moved(rig.presets, at, by))


def set_preset_id(rig: Rig, preset_id: str, new_id: str) -> Rig:
    """Give a preset another id; sections and waivers that name it follow."""
    if new_id != preset_id and new_id in _ids(rig):
        raise EditError(f'id "{new_id}" belongs to another preset')
    renamed = _repointed(set_preset(rig, preset_id, id=new_id), preset_id, new_id)
    return with_waivers_moved(renamed, place_at("presets", preset_id), place_at("presets", new_id))


def first_free_memory(rig: Rig) -> int | None:
    """Return the lowest memory of the switcher that no preset is in; None where there is none."""
    full = {memory for preset in rig.presets for memory in preset.memories}
    memories = range(1, rig.switcher.memories + 1) if rig.switcher is not None else ()
    return next((memory for memory in memories if memory not in full), None)


def take_memory(rig: Rig, preset_id: str, memory: int | None) -> Rig:
    """Store a preset in a memory; a preset that is there already gets this one's old memory.

    Copies stay where they are; without a memory there are none.
    """
    at = place_of(rig.presets, preset_id, "preset")
    preset = rig.presets[at]
    if memory is None:
        return _stored_in(rig, preset_id, ())
    _check_memory(rig, memory)
    for other in rig.presets:
        if memory in other.memories and other.id != preset_id:
            rig = _stored_in(rig, other.id, _exchanged(other.memories, memory, preset.memory))
    copies = _exchanged(preset.copies, memory, preset.memory)
    return _stored_in(rig, preset_id, (memory, *copies))


def take_copies(rig: Rig, preset_id: str, copies: Iterable[int]) -> Rig:
    """Store a preset in further memories, and in no others but its own.

    Raises:
        EditError: the switcher has no such memory, or another preset is in it.
    """
    at = place_of(rig.presets, preset_id, "preset")
    copies = tuple(copies)
    for memory in copies:
        _check_memory(rig, memory, "copies: ")
        for other in rig.presets:
            if memory in other.memories and other.id != preset_id:
                raise EditError(f"copies need free memories: memory {memory} holds {other.label}")
    return _stored_in(rig, preset_id, (rig.presets[at].memory, *copies))


def leave_memory(rig: Rig, preset_id: str, memory: int) -> Rig:
    """Take a preset out of one of its memories; it keeps the others."""
    at = place_of(rig.presets, preset_id, "preset")
    return _stored_in(rig, preset_id, (m for m in rig.presets[at].memories if m != memory))


def _check_memory(rig: Rig, memory: int, what: str = "") -> None:
    switcher = rig.switcher
    if switcher is not None and memory > switcher.memories:
        raise EditError(
            f"{what}memory {memory} does not exist: the switcher has {switcher.memories}"
        )


def _exchanged(memories: Iterable[int], memory: int, instead: int | None) -> list[int | None]:
    return [instead if held == memory else held for held in memories]


def stored_in(preset: Preset, memories: Iterable[int | None]) -> Preset:
    """Store a preset in these memories, the first as its own; drop repeats and None."""
    held = tuple(dict.fromkeys(memory for memory in memories if memory is not None))
    return changed(preset, memory=held[0] if held else None, copies=held[1:])


def _stored_in(rig: Rig, preset_id: str, memories: Iterable[int | None]) -> Rig:
    at = place_of(rig.presets, preset_id, "preset")
    row = stored_in(rig.presets[at], memories)
    return with_table(rig, "presets", swapped_in(rig.presets, at, row))


def _ids(rig: Rig) -> set[str]:
    return {preset.id for preset in rig.presets}


def _repointed(rig: Rig, old: str, new: str | None) -> Rig:
    songs = []
    for song in rig.songs:
        if any(section.preset == old for section in song.sections):
            sections = tuple(
                changed(section, preset=new) if section.preset == old else section
                for section in song.sections
            )
            song = changed(song, sections=sections)
        songs.append(song)
    return with_table(rig, "songs", songs)
