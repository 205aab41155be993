"""Keep what the hands do: a section on another preset gets its own entries for whatever differs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from rigtui.model.edits.tables import changed
from rigtui.model.hands import HAND_KEYS, OWN_HANDS, default_hands, hands_in, kept_hands
from rigtui.model.rig import Preset, Rig, Section, Song

Defaults = Mapping[str, Counter[Any]]
"""For each key of the hands, how many sections of a preset want which value of it."""


def defaults_of(sections: Iterable[tuple[Section, Preset]]) -> Defaults:
    """What sections take from the presets that they are on, each with its old preset."""
    wanted: dict[str, Counter[Any]] = {key: Counter() for key in HAND_KEYS}
    for section, preset in sections:
        for key, value in default_hands(section, preset).items():
            wanted[key][value] += 1
    return wanted


def hands_for(like: Preset | None, wanted: Defaults) -> dict[str, Any]:
    """What a preset that is to serve some sections asks of the hands.

    Its own from before, as long as any section takes it; else what most of them want. A guitar
    volume is left to the sections where some want none: `hand_moves` counts it where it is named.

    Args:
        like: The preset that it goes on as; None for a new one.
        wanted: What its sections take from their presets now.
    """
    hands: dict[str, Any] = {}
    for key in HAND_KEYS:
        values = wanted[key]
        own = None if like is None else getattr(like, key)
        if key == "pickup":
            own = own or ""
        if not values or (like is not None and own in values):
            hands[key] = own
        else:
            hands[key] = max(values, key=lambda value: values[value])
        if key == "guitar_volume" and None in values:
            hands[key] = None
    return {**hands, "pickup": hands["pickup"] or None, "hands": hands["hands"] or ""}


def same_hands(section: Section, was: Section, old: Preset | None, new: Preset | None) -> Section:
    """A section on another preset, its hands as they were.

    Args:
        section: The section as it is to be, but for its hands.
        was: The section as it was.
        old: Its preset then.
        new: Its preset now.
    """
    fields = {key: getattr(was, key) for key in OWN_HANDS} | kept_hands(was, old, new)
    differ = {key: value for key, value in fields.items() if value != getattr(section, key)}
    return changed(section, **differ) if differ else section


def with_hands_kept(now: Rig, then: Rig) -> Rig:
    """The rig as planned, every section with the hands that it has now."""
    old = {preset.id: preset for preset in now.presets}
    new = {preset.id: preset for preset in then.presets}
    before = {song.id: song for song in now.songs}
    songs = []
    for song in then.songs:
        first = before.get(song.id)
        if first is None or len(first.sections) != len(song.sections):
            songs.append(song)
            continue
        songs.append(_song(first, song, old, new))
    if all(song is other for song, other in zip(songs, then.songs)):
        return then
    return changed(then, songs=tuple(songs))


def _song(first: Song, song: Song, old: Mapping[str, Preset], new: Mapping[str, Preset]) -> Song:
    sections = []
    for was, will in zip(first.sections, song.sections):
        before, after = old.get(was.preset or ""), new.get(will.preset or "")
        if hands_in(was, before) != hands_in(will, after):
            will = same_hands(will, was, before, after)
        sections.append(will)
    if all(section is other for section, other in zip(sections, song.sections)):
        return song
    return changed(song, sections=tuple(sections))


def differ_in_use(preset: Preset, other: Preset) -> bool:
    """Whether two presets are meant otherwise, though their loops may be the same."""
    keys: Sequence[str] = ("role", *HAND_KEYS)
    return any((getattr(preset, key) or None) != (getattr(other, key) or None) for key in keys)
