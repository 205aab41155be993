"""A conflict in lines, the same wherever it is shown."""

from __future__ import annotations

from typing import NamedTuple

from rigtui.model.places import place_in_words
from rigtui.model.rig import Rig
from rigtui.model.text import count
from rigtui.plan.result import Clashing, Plan, Relaxation, Status

_MOST_PLACES = 3


class ConflictWords(NamedTuple):
    """What is said of a conflict."""

    title: str
    reason: str
    sounds: list[tuple[str, Clashing]]
    """A line for each sound that clashes with all the others."""
    offer: str
    relaxations: list[tuple[str, Relaxation]]
    """A line for each change that would do."""
    untried: str
    """What was left out for want of time, or ""."""


def conflict_words(plan: Plan, rig: Rig) -> ConflictWords:
    """Say why no plan can do what is wanted, and what would do."""
    conflict = plan.conflict
    assert conflict is not None
    proved = plan.status is Status.INFEASIBLE
    several = len(conflict.relaxations) > 1
    return ConflictWords(
        "No plan can do that" if proved else "No plan was found",
        sentence(conflict.reason),
        [(_sound(one, rig), one) for one in conflict.sounds],
        "Any one of these makes it work" if several else "This makes it work",
        [(one.text, one) for one in conflict.relaxations],
        "The time was up before every change to the wishes was tried." if conflict.untried else "",
    )


def sentence(text: str) -> str:
    """Begin with a capital and end with a full stop."""
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?")) else ".")


def _sound(sound: Clashing, rig: Rig) -> str:
    said = [place_in_words(rig, place) for place in sound.places[:_MOST_PLACES]]
    more = len(sound.places) - len(said)
    where = "; ".join(said) + (f"; and {count(more, 'more section')}" if more else "")
    wants = f" ({sound.wants})" if sound.wants else ""
    if sound.places[:1] and sound.places[0].startswith("presets."):
        return f"{sound.name}{wants}"
    return f"{sound.name}{wants}: {where}"
