"""The rig as a value, its edits, and what is wrong with bad data. No files, no screens."""

from __future__ import annotations

from rigtui.model.errors import BadRigError, EditError, Problem, RigError
from rigtui.model.rig import (
    FORMAT,
    Amp,
    Chain,
    Loop,
    Pedal,
    Player,
    Preset,
    Rig,
    Section,
    Set,
    Setlist,
    Song,
    Switcher,
    Waiver,
)
from rigtui.model.validate import rig_from_data, rig_to_data

__all__ = [
    "FORMAT",
    "Amp",
    "BadRigError",
    "Chain",
    "EditError",
    "Loop",
    "Pedal",
    "Player",
    "Preset",
    "Problem",
    "Rig",
    "RigError",
    "Section",
    "Set",
    "Setlist",
    "Song",
    "Switcher",
    "Waiver",
    "rig_from_data",
    "rig_to_data",
]
