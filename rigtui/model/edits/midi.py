"""Edits of MIDI devices and of what presets send them."""

from __future__ import annotations

from typing import Any

from rigtui.model.edits.presets import set_preset
from rigtui.model.edits.tables import changed, in_range, place_of, swapped_in, taken, with_table
from rigtui.model.rig import Rig


def set_midi_device(rig: Rig, device_id: str, **fields: Any) -> Rig:
    """Change keys of a MIDI device: name, channel, counts_from, shared, load_ms, note."""
    at = place_of(rig.midi, device_id, "MIDI device")
    return with_table(rig, "midi", swapped_in(rig.midi, at, changed(rig.midi[at], **fields)))


def set_midi_send(rig: Rig, preset_id: str, at: int, **fields: Any) -> Rig:
    """Change keys of the entry at a place (from 0) in what a preset sends."""
    sends = rig.presets[place_of(rig.presets, preset_id, "preset")].midi
    in_range(sends, at, "entry of midi")
    return set_preset(rig, preset_id, midi=swapped_in(sends, at, changed(sends[at], **fields)))


def drop_midi_send(rig: Rig, preset_id: str, at: int) -> Rig:
    """Take the entry at a place (from 0) out of what a preset sends."""
    sends = rig.presets[place_of(rig.presets, preset_id, "preset")].midi
    in_range(sends, at, "entry of midi")
    return set_preset(rig, preset_id, midi=taken(sends, at))
