"""What the hands do in a section, read off the rig file's own words: docs/rig-file.md, "Hands"."""

from __future__ import annotations

from rigtui.model.rig import Preset, Rig, Section


def hands(part: Section, its: Preset | None) -> list[object]:
    """Volume, pickup and text: the section's own, else its preset's unless it ignores that."""
    own = {
        "guitar_volume": part.guitar_volume,
        "pickup": part.pickup,
        "hands": part.hands or part.preset_hands,
    }
    for key, value in own.items():
        if value in (None, "") and its is not None and key not in part.ignores:
            own[key] = getattr(its, key)
    return [None if value == "" else value for value in own.values()]


def all_hands(rig: Rig) -> list[list[object]]:
    """The hands of every section of a rig, in order; a volume of 0 is one."""
    known = {preset.id: preset for preset in rig.presets}
    return [
        hands(part, known.get(part.preset or "")) for song in rig.songs for part in song.sections
    ]
