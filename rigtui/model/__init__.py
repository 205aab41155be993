"""The rig as a value, its edits, and what is wrong with bad data. No files, no screens.

Names are fetched when they are first used: the screens paint a file before the models are needed.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rigtui.model.errors import BadRigError, EditError, Problem, RigError
    from rigtui.model.rig import (
        FORMAT,
        Amp,
        Chain,
        Loop,
        Pedal,
        Player,
        Preset,
        Printed,
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
    "Printed",
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

_HOMES = dict.fromkeys(("BadRigError", "EditError", "Problem", "RigError"), "errors")
_HOMES |= dict.fromkeys(("rig_from_data", "rig_to_data"), "validate")


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    home = importlib.import_module(f"{__name__}.{_HOMES.get(name, 'rig')}")
    return globals().setdefault(name, getattr(home, name))
