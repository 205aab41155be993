"""Merge several presets into one; their sections go to it and lose nothing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rigtui.model.edits.presets import stored_in
from rigtui.model.edits.tables import changed, place_of, swapped_in, with_table
from rigtui.model.errors import EditError
from rigtui.model.hands import kept_hands
from rigtui.model.midi import MidiSend
from rigtui.model.places import place_at, taken_apart
from rigtui.model.rig import Preset, Rig, Section, Song, Waiver

Groups = tuple[tuple[str, ...], ...]
"""Ids of presets that become one; the one that stays comes first."""

Recalled = tuple[str | None, tuple[MidiSend, ...]]
"""The amp's channel, and what is sent over MIDI: what a preset sets besides the loops."""

Switched = tuple[frozenset[int], str | None, tuple[MidiSend, ...]]


def recalled_by(preset: Preset) -> Recalled:
    """What a preset sets besides the loops; an empty name names no channel."""
    return preset.channel or None, preset.midi


def switched(preset: Preset) -> Switched:
    """What a preset is to the switcher: its loops, its channel, and what it sends over MIDI."""
    return frozenset(preset.loops), *recalled_by(preset)


def merge_presets(rig: Rig, stays: str, gone: str) -> Rig:
    """Make two presets one; the sections of the second go to the first.

    The first takes over the second's memory if it has none. Where guitar volume, pickup or
    hands differ, the sections keep theirs.

    Raises:
        EditError: there is no such preset, or it is only one.
    """
    for preset_id in (stays, gone):
        place_of(rig.presets, preset_id, "preset")
    if stays == gone:
        raise EditError("a preset can't be merged with itself")
    fold = Fold(rig, ((stays, gone),))
    folded = changed(rig, presets=fold.presets, waivers=fold.waivers(rig.waivers))
    return with_table(folded, "songs", [fold.song(song) for song in rig.songs])


def fold_into_copies(rig: Rig, stays: str, clone: str) -> Rig:
    """Make a preset a copy of another that switches the same: the other takes over its memories.

    Sections that used it go to the other, and hands lose nothing by it.

    Raises:
        EditError: there is no such preset, or it is only one.
    """
    memories = rig.presets[place_of(rig.presets, clone, "preset")].memories
    merged = merge_presets(rig, stays, clone)
    at = place_of(merged.presets, stays, "preset")
    preset = merged.presets[at]
    folded = stored_in(preset, (*preset.memories, *memories))
    return with_table(merged, "presets", swapped_in(merged.presets, at, folded))


def folds(rig: Rig, number: int) -> Groups:
    """Presets that would store the same if one loop were not there.

    The one that stays is the first without the loop.
    """
    groups: dict[Switched, list[Preset]] = {}
    for preset in rig.presets:
        loops, channel, midi = switched(preset)
        groups.setdefault((loops - {number}, channel, midi), []).append(preset)
    groups_found = []
    for members in groups.values():
        without = [preset.id for preset in members if number not in preset.loops]
        if without and len(without) < len(members):
            others = (preset.id for preset in members if preset.id != without[0])
            groups_found.append((without[0], *others))
    return tuple(groups_found)


class Fold:
    """What becomes of presets, sections and waivers when groups of presets become one each."""

    def __init__(self, rig: Rig, groups: Groups) -> None:
        self.groups = groups
        self._before = {preset.id: preset for preset in rig.presets}
        self._stays = {preset_id: group[0] for group in groups for preset_id in group}
        self._kept_apart = {
            key: {
                preset_id
                for group in groups
                if len({getattr(self._before[preset_id], key) for preset_id in group}) > 1
                for preset_id in group
            }
            for key in ("guitar_volume", "pickup")
        }
        self.presets = tuple(self._presets(rig.presets))
        by_id = {preset.id: preset for preset in self.presets}
        self._after = {old: by_id[stays] for old, stays in self._stays.items()}

    def _presets(self, presets: Sequence[Preset]) -> list[Preset]:
        members = {group[0]: group for group in self.groups}
        kept = []
        for preset in presets:
            group = members.get(preset.id)
            if group is None:
                if preset.id not in self._stays:
                    kept.append(preset)
                continue
            changes: dict[str, Any] = {
                key: None for key, apart in self._kept_apart.items() if preset.id in apart
            }
            if not preset.memories:
                memories = (
                    memory for preset_id in group for memory in self._before[preset_id].memories
                )
                changes["memory"] = next(memories, None)
            kept.append(changed(preset, **changes))
        return kept

    def changes(self, section: Section) -> dict[str, Any]:
        """Keys to change in a section so that it asks for the same of feet and hands."""
        old = section.preset
        if old is None or old not in self._stays:
            return {}
        changes: dict[str, Any] = kept_hands(section, self._before[old], self._after[old])
        if old != self._stays[old]:
            changes["preset"] = self._stays[old]
        return changes

    def song(self, song: Song) -> Song:
        """The song with its sections on the presets that stay."""
        all_changes = [self.changes(section) for section in song.sections]
        if not any(all_changes):
            return song
        sections = tuple(
            changed(section, **changes) if changes else section
            for section, changes in zip(song.sections, all_changes)
        )
        return changed(song, sections=sections)

    def waivers(self, waivers: Sequence[Waiver]) -> tuple[Waiver, ...]:
        """Waivers of presets that went, moved to the one that stays unless it has its own."""
        taken = {(waiver.rule, waiver.where) for waiver in waivers}
        kept = []
        for waiver in waivers:
            table, preset_id, steps = taken_apart(waiver.where)
            stays = self._stays.get(preset_id) if table == "presets" else None
            if stays is not None and stays != preset_id:
                place = (waiver.rule, place_at("presets", stays, *steps))
                if place in taken:
                    continue
                taken.add(place)
                waiver = changed(waiver, where=place[1])
            kept.append(waiver)
        return tuple(kept)
