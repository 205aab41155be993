"""What is asked of the planners, as plain data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from typing import Any

KINDS = ("loops", "switches", "route", "all", "curve", "explain")


@dataclass(frozen=True, slots=True)
class Question:
    """What may change, for which setlists, and what the player will not have."""

    kind: str
    """One of `KINDS`."""
    setlists: tuple[str, ...] = ()
    """Ids; all setlists where none is named."""
    seconds: float | None = None
    """Time limit; None for none."""
    pins: Mapping[str, str] = field(default_factory=dict)
    """For a pedal, "in" (it must be in a loop) or "out" (it must be outside)."""
    keep: tuple[str, ...] = ()
    """Presets whose sound, and whose sections, stay as they are."""
    apart: tuple[tuple[str, str], ...] = ()
    """Pairs of pedals that may not share a loop."""
    sharing: bool = True
    """Whether neighbours in the chain may share a loop."""
    keep_order: bool = True
    """Whether the signal order stays as it is."""
    loops: Mapping[str, int] | None = None
    """Loops of each side ("front", "fx"), where they are not as the rig has them."""
    total_loops: int | None = None
    """Loops in all, either side at will; in place of `loops`."""
    memories: int | None = None
    """Presets that can be stored, where not as the switcher has it."""
    pin_switch: Mapping[str, int] = field(default_factory=dict)
    """Memory, from 1, that a preset must have."""
    copies: int = 0
    """How many copies of presets may be put in spare memories."""


def question_to_data(question: Question) -> dict[str, Any]:
    """Make plain data of a question, fit for JSON."""
    return asdict(question)


def question_from_data(data: Mapping[str, Any]) -> Question:
    """Make a question of plain data.

    Raises:
        TypeError: it is of another version of the program.
    """
    known = dict(data)
    for key in ("setlists", "keep"):
        known[key] = tuple(known[key])
    known["apart"] = tuple((one, other) for one, other in known["apart"])
    return Question(**known)
