"""What the hands do in a section: its own words, else those of its preset that hold there."""

from __future__ import annotations

from typing import Any, NamedTuple

from rigtui.model.rig import Preset, Section

HAND_KEYS = ("guitar_volume", "pickup", "hands")
"""Keys that a section has in place of its preset's."""
OWN_HANDS = ("guitar_volume", "pickup", "preset_hands", "ignores")
"""Keys of a section that decide which of its preset's hold in it; never its own `hands`."""


class Hands(NamedTuple):
    """Where the hands set the guitar, and what they do besides."""

    guitar_volume: float | None = None
    pickup: str = ""
    hands: str = ""


def preset_hands(preset: Preset | None) -> Hands:
    """What a preset asks of the hands."""
    if preset is None:
        return Hands()
    return Hands(preset.guitar_volume, preset.pickup or "", preset.hands)


def hands_in(section: Section, preset: Preset | None) -> Hands:
    """What a section asks of the hands.

    Args:
        section: The section.
        preset: Its preset; None where it names none that exists.
    """
    its = preset_hands(preset)
    ignored = section.ignores
    volume = section.guitar_volume
    if volume is None and "guitar_volume" not in ignored:
        volume = its.guitar_volume
    pickup = section.pickup or ("" if "pickup" in ignored else its.pickup)
    text = section.hands or section.preset_hands or ("" if "hands" in ignored else its.hands)
    return Hands(volume, pickup, text)


def default_hands(section: Section, preset: Preset | None) -> dict[str, Any]:
    """What a section takes from its preset, key by key; keys of its own are left out."""
    its = hands_in(section, preset)
    own: dict[str, Any] = {}
    if section.guitar_volume is None:
        own["guitar_volume"] = its.guitar_volume
    if not section.pickup:
        own["pickup"] = its.pickup
    if not section.hands and not section.preset_hands:
        own["hands"] = its.hands
    return own


def kept_hands(section: Section, old: Preset | None, new: Preset | None) -> dict[str, Any]:
    """Return the keys a section needs so that its hands stay the same on another preset.

    Its own `hands` stay as they are, so that as many hand moves are counted.
    """
    given, changes = preset_hands(new), dict[str, Any]()
    ignored: list[str] = list(section.ignores)
    for key, wanted in default_hands(section, old).items():
        if getattr(given, key) == wanted:
            if key in ignored and wanted not in (None, ""):
                ignored.remove(key)
        elif wanted in (None, ""):
            ignored += [key] if key not in ignored else []
        else:
            changes["preset_hands" if key == "hands" else key] = wanted
    if tuple(ignored) != section.ignores:
        changes["ignores"] = tuple(ignored)
    return changes
