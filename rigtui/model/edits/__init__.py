"""Everything that can be done to a rig, as pure functions from Rig to Rig.

An edit raises `EditError` with a sentence for the player and changes nothing otherwise: undo is a
list of rigs. Quick fixes of findings and accepted plans go through the same door.
"""

from __future__ import annotations

from rigtui.model.edits.board import (
    put_in_chain,
    set_amp,
    set_chain,
    set_loop,
    set_pedal,
    set_switcher,
    take_from_chain,
)
from rigtui.model.edits.folding import fold_into_copies, merge_presets
from rigtui.model.edits.loops import leave_on, share_loop
from rigtui.model.edits.midi import drop_midi_send, set_midi_device, set_midi_send
from rigtui.model.edits.outside import take_outside
from rigtui.model.edits.presets import (
    add_preset,
    delete_preset,
    duplicate_preset,
    leave_memory,
    move_preset,
    set_preset,
    set_preset_id,
    take_copies,
    take_memory,
    toggle_loop,
)
from rigtui.model.edits.printed import forget_printed, record_printed
from rigtui.model.edits.setlists import (
    add_set,
    add_setlist,
    add_to_set,
    delete_set,
    delete_setlist,
    duplicate_set,
    duplicate_setlist,
    move_in_set,
    move_set,
    move_setlist,
    remove_from_set,
    set_set,
    set_setlist,
    set_setlist_id,
)
from rigtui.model.edits.songs import (
    add_section,
    add_song,
    delete_section,
    delete_song,
    duplicate_section,
    duplicate_song,
    map_section,
    move_section,
    move_song,
    new_song_id,
    set_section,
    set_song,
    set_song_id,
    step_pedal,
)
from rigtui.model.edits.waivers import unwaive, waive

__all__ = [
    "add_preset",
    "add_section",
    "add_set",
    "add_setlist",
    "add_song",
    "add_to_set",
    "delete_preset",
    "delete_section",
    "delete_set",
    "delete_setlist",
    "delete_song",
    "drop_midi_send",
    "duplicate_preset",
    "duplicate_section",
    "duplicate_set",
    "duplicate_setlist",
    "duplicate_song",
    "fold_into_copies",
    "forget_printed",
    "leave_memory",
    "leave_on",
    "map_section",
    "merge_presets",
    "move_in_set",
    "move_preset",
    "move_section",
    "move_set",
    "move_setlist",
    "move_song",
    "new_song_id",
    "put_in_chain",
    "record_printed",
    "remove_from_set",
    "set_amp",
    "set_chain",
    "set_loop",
    "set_midi_device",
    "set_midi_send",
    "set_pedal",
    "set_preset",
    "set_preset_id",
    "set_section",
    "set_set",
    "set_setlist",
    "set_setlist_id",
    "set_song",
    "set_song_id",
    "set_switcher",
    "share_loop",
    "step_pedal",
    "take_copies",
    "take_from_chain",
    "take_memory",
    "take_outside",
    "toggle_loop",
    "unwaive",
    "waive",
]
