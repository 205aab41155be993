"""A plan for a night without some pedals: dead, lent out, or left at home."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rigtui.checks.sounds_changed import sounds_changed
from rigtui.cli.terminal import Terminal
from rigtui.model.cells import wrap
from rigtui.model.edits import delete_pedal
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import listed
from rigtui.plan.ask.checked import unknown
from rigtui.plan.ask.result import PlanError


class Night(NamedTuple):
    """The rig that there is to play."""

    rig: Rig
    missing: tuple[str, ...] = ()
    """Ids of the pedals that it does without."""
    told: tuple[str, ...] = ()
    """What sections lose, in sentences."""


def night_without(rig: Rig, missing: Sequence[str]) -> Night:
    """Take pedals out of a rig, wherever it names them; their loops stay.

    Raises:
        PlanError: there is no such pedal.
    """
    pedals = {pedal.id: pedal.label for pedal in rig.pedals}
    missing = tuple(dict.fromkeys(missing))
    faults = [unknown("pedal", pedal, pedals) for pedal in missing if pedal not in pedals]
    if faults:
        raise PlanError(*faults)
    if not missing:
        return Night(rig)
    left = rig
    for pedal in missing:
        left = delete_pedal(left, pedal)
    names = listed([lookup(rig).label(pedal) for pedal in missing], "or")
    told = sounds_changed(rig, left) or [f"No section uses {names}"]
    return Night(left, missing, tuple(told))


def night_text(night: Night, terminal: Terminal) -> Iterator[str]:
    """Write what sections lose, for people."""
    for line in night.told:
        yield from wrap(terminal.show(line), terminal.width, hang="  ")
