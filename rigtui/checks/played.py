"""A song as it is played: what sounds in each section, and where the hand has left the guitar.

A section without a preset leaves everything as it is, and so does what a section does not name.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple, TypeVar

from rigtui.checks.finding import RigView
from rigtui.checks.reordered import sounds_as_before
from rigtui.model import Preset, Section, Song
from rigtui.model.hands import hands_in
from rigtui.model.lookup import alone
from rigtui.model.remembered import Remembered

T = TypeVar("T")


class PlayedSection(NamedTuple):
    """One section as it is played."""

    section: Section
    preset: Preset | None
    """Its own preset; None where it names none that exists."""
    sound: tuple[str, ...]
    """Pedals heard on, in signal order."""
    named_volume: float | None
    """Guitar volume that the section or its preset names."""
    volume: float | None
    """Guitar volume in force: named here, or left so by a section before; None if unknown."""
    named_pickup: str | None
    pickup: str | None
    """Pickup in force, likewise."""


def played(view: RigView, song: Song) -> tuple[PlayedSection, ...]:
    """Return the sections of a song as they are played, the song standing alone."""
    return remembered(view, song, _played)


def _played(view: RigView, song: Song) -> tuple[PlayedSection, ...]:
    parts: list[PlayedSection] = []
    sound: tuple[str, ...] = ()
    volume: float | None = None
    pickup: str | None = None
    for section in song.sections:
        preset = view.known.presets.get(section.preset) if section.preset is not None else None
        if preset is not None:
            sound = _sound(view, section)
        named = hands_in(section, preset)
        named_volume, named_pickup = named.guitar_volume, named.pickup or None
        volume = volume if named_volume is None else named_volume
        pickup = named_pickup or pickup
        parts.append(
            PlayedSection(section, preset, sound, named_volume, volume, named_pickup, pickup)
        )
    return tuple(parts)


def preset_sound(view: RigView, preset: Preset) -> tuple[str, ...]:
    """Return the pedals heard on with a preset alone, those left on outside included."""
    return _sound(view, alone(preset))


def _sound(view: RigView, section: Section) -> tuple[str, ...]:
    sounds = _memory(view).sounds
    key = (section.preset, section.plus, section.minus)
    known = sounds.get(key)
    if known is None:
        known = sounds[key] = view.known.sound(section)
    return known


def remembered(view: RigView, song: Song, make: Callable[[RigView, Song], T]) -> T:
    """Return make(view, song), cached as long as everything it is played on stays the same.

    Rules of several scopes look at the same songs; a rule that looks at all songs would else do
    all of them again after every edit of one.
    """
    made = _memory(view).made
    known = made.get((id(song), make))
    if known is None or known[0] is not song:
        known = made[id(song), make] = (song, make(view, song))
    result: T = known[1]
    return result


class _Memory(NamedTuple):
    view: RigView
    sounds: dict[tuple[Any, ...], tuple[str, ...]]
    made: dict[tuple[int, Any], tuple[Song, Any]]


_memories: Remembered[_Memory] = Remembered()


def _memory(view: RigView) -> _Memory:
    if not view.at_hand:  # asked for many thousand times in a check
        parts = (view.board, view.player, view.rig.midi, view.chain)
        view.at_hand.append(_memories.get(parts, lambda: _new_memory(view, parts)))
    memory: _Memory = view.at_hand[0]
    return memory


def _new_memory(view: RigView, parts: tuple[Any, ...]) -> _Memory:
    latest, made = _memories.latest(parts[:-1]), {}
    if latest is not None:
        stands = sounds_as_before(latest[1].view, view)
        songs = {id(song) for song in view.rig.songs if stands(song)}
        made = {key: known for key, known in latest[1].made.items() if key[0] in songs}
    return _Memory(view, {}, made)
