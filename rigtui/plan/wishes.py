"""What the player wants of a loop plan, checked against the rig."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rigtui.model.rig import Rig
from rigtui.model.text import nearest, visible
from rigtui.plan.result import PlanError


@dataclass(frozen=True, slots=True)
class LoopWishes:
    """Constraints on which pedals go in loops, and how."""

    pin_in: Sequence[str] = ()
    """Pedals that must be in a loop."""
    pin_out: Sequence[str] = ()
    """Pedals that must be outside."""
    keep_presets: Sequence[str] = ()
    """Presets whose sound, and whose sections, stay as they are."""
    keep_apart: Sequence[tuple[str, str]] = ()
    """Pairs of pedals that may not share a loop."""
    share: bool = True
    """Whether neighbours in the chain may share a loop."""
    keep_order: bool = True
    """Whether the signal order must stay: then an outside pedal cannot leave its place, and a
    switcher without jacks between its loops holds every pedal from the first to the last of a
    side that is in a loop."""
    loops: Mapping[str, int] | None = None
    """Loops of each side ("front", "fx"), where they are not as the rig has them."""
    total_loops: int | None = None
    """Loops in all, either side at will; in place of `loops`."""
    memories: int | None = None
    """Presets that can be stored, where not as the switcher has it."""
    pins: Mapping[str, int] = field(default_factory=dict)
    """Memory, from 1, that a preset must have."""


def checked_wishes(rig: Rig, wishes: LoopWishes) -> LoopWishes:
    """Return the wishes if they make sense.

    Raises:
        PlanError: an unknown pedal or preset, a pedal both in and out, a silly number.
    """
    pedals = [pedal.id for pedal in rig.pedals]
    presets = [preset.id for preset in rig.presets]
    apart = [pedal for pair in wishes.keep_apart for pedal in pair]
    for pedal in (*wishes.pin_in, *wishes.pin_out, *apart):
        _known(pedal, pedals, "pedal")
    for preset in wishes.keep_presets:
        _known(preset, presets, "preset")
    both = [pedal for pedal in wishes.pin_in if pedal in wishes.pin_out]
    if both:
        raise PlanError(f"{visible(both[0])} cannot be both in a loop and outside")
    numbers = {
        "total_loops": wishes.total_loops,
        "memories": wishes.memories,
        **{f"{side} loops": count for side, count in (wishes.loops or {}).items()},
    }
    for name, number in numbers.items():
        low, high = (1, 128) if name == "memories" else (0, 99)
        if number is not None and not low <= number <= high:
            raise PlanError(f"{name.replace('_', ' ')} must be {low} to {high}, not {number}")
    for side in wishes.loops or ():
        if side not in ("front", "fx"):
            raise PlanError(f'a loop is on side "front" or "fx", not "{visible(side)}"')
    if wishes.loops is not None and sum(wishes.loops.values()) > 99:
        raise PlanError("a switcher has at most 99 loops")
    return wishes


def _known(name: str, names: Sequence[str], what: str) -> None:
    if name not in names:
        close = nearest(name, names)
        hint = f': did you mean "{visible(close)}"?' if close else ""
        raise PlanError(f'there is no {what} "{visible(name)}"{hint}')
