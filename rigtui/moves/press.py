"""A press of a foot, as a value."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

from rigtui.model.banks import Direction

PressKind = Literal["bank", "switch", "loop", "pedal", "channel"]
PressTime = Literal["now", "ahead", "later"]


class Press(NamedTuple):
    """One press of a foot; written out it is "bank up", "switch 3", "pedal wah" and so on."""

    kind: PressKind
    what: int | str
    """Direction of a bank step, number of a switch or loop, id of a pedal, name of a channel."""
    when: PressTime = "now"
    """Whether it must happen at the change itself, or can be made ahead of it, or later."""

    @property
    def can_wait(self) -> bool:
        """Whether it need not happen at the change itself."""
        return self.when != "now"

    @property
    def is_far(self) -> bool:
        """Whether the foot leaves the switcher for it."""
        return self.kind in ("pedal", "channel")

    def __str__(self) -> str:
        return f"{self.kind} {self.what}"


Presses = tuple[Press, ...]

_STEPS = {direction: Press("bank", direction, "ahead") for direction in ("up", "down")}


def bank_presses(way: tuple[int, Direction]) -> list[Press]:
    """Return the presses of a way between banks."""
    steps, direction = way
    return [_STEPS[direction]] * steps


def count_kind(presses: Iterable[Press], kind: PressKind) -> int:
    """Count the presses of a kind."""
    return [press.kind for press in presses].count(kind)


def on_the_beat(presses: Iterable[Press]) -> Presses:
    """Return the presses that must happen at the change itself."""
    return tuple([press for press in presses if press.when == "now"])
