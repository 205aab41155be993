"""Sections that a plan plays otherwise, in words."""

from __future__ import annotations

from collections.abc import Sequence

from rigtui.model.lookup import Lookup, lookup
from rigtui.model.rig import Rig
from rigtui.model.text import count, first_few, visible
from rigtui.plan.verdict.mapping import Played, SongChange

_MOST_NAMED = 2


def change_lines(change: SongChange, now: Rig, then: Rig) -> list[str]:
    """The sections of a song in words, those that change alike together.

    "2 Verse, 4 Verse: Clean Wide → Clean with Chorus".
    """
    old, new = lookup(now), lookup(then)
    alike: dict[str, list[str]] = {}
    for section in change.sections:
        words = f"{_played(section.now, old)} → {_played(section.then, new)}"
        alike.setdefault(words, []).append(visible(f"{section.section + 1} {section.name}"))
    return [f"{', '.join(names)}: {words}" for words, names in alike.items()]


def _played(played: Played, known: Lookup) -> str:
    preset = known.presets.get(played.preset or "")
    text = preset.label if preset is not None else played.preset or "no preset"
    if played.plus:
        text += f" with {', '.join(known.label(pedal) for pedal in played.plus)}"
    if played.minus:
        joint = ", but not" if played.plus else " but not"
        text += f"{joint} {', '.join(known.label(pedal) for pedal in played.minus)}"
    return visible(text)


def mapping_step(changes: Sequence[SongChange]) -> list[str]:
    """The one thing to do about them; the file itself is written for the player."""
    to_learn = [song for song in changes if song.to_learn]
    if not to_learn:
        return []
    sections = sum(song.to_learn for song in to_learn)
    titles = first_few([visible(song.title) for song in to_learn], _MOST_NAMED)
    songs = count(len(to_learn), "song")
    return [f"relearn {count(sections, 'section')} of {songs}: {titles}"]
