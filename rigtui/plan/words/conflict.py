"""A conflict in lines, the same wherever it is shown."""

from __future__ import annotations

from typing import NamedTuple

from rigtui.model.place_words import place_in_words
from rigtui.model.places import place_at, section_place, taken_apart
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed
from rigtui.plan.ask.result import Clashing, Plan, Relaxation, Status

_MOST_SONGS = 3


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
    several = len(conflict.relaxations) > 1
    return ConflictWords(
        title(plan),
        sentence(conflict.reason),
        [(_sound(sound, rig), sound) for sound in conflict.sounds],
        "Any one of these makes it work" if several else "This makes it work",
        [(way.text, way) for way in conflict.relaxations],
        "The time was up before every change to the options was tried." if conflict.untried else "",
    )


def title(plan: Plan) -> str:
    """Say how sure it is that there is no plan."""
    return "No plan can do that" if plan.status is Status.INFEASIBLE else "No plan was found"


def sentence(text: str) -> str:
    """Begin with a capital and end with a full stop."""
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?")) else ".")


def _sound(sound: Clashing, rig: Rig) -> str:
    wants = f" ({sound.wants})" if sound.wants else ""
    places = [taken_apart(where) for where in sound.places]
    if any(place.table == "presets" for place in places):
        return f"{sound.name}{wants}"
    per_song: dict[str, list[int]] = {}
    for place in places:
        if place.section is not None:
            per_song.setdefault(place.row, []).append(place.section)
    said = [_in_song(rig, song, at) for song, at in list(per_song.items())[:_MOST_SONGS]]
    more = len(per_song) - len(said)
    return f"{sound.name}{wants}: {'; '.join(said)}" + (
        f"; and {count(more, 'more song')}" if more else ""
    )


def _in_song(rig: Rig, song: str, sections: list[int]) -> str:
    """Say "Low Fen, section 3 (Chorus)" or "Low Fen, sections 3, 5 and 7"."""
    if len(sections) == 1:
        return place_in_words(rig, section_place(song, sections[0]))
    numbers = listed(str(at + 1) for at in sections)
    return f"{place_in_words(rig, place_at('songs', song))}, sections {numbers}"
