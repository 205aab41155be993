"""Playing a section with another sound than it wants, and giving the sound back."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rigtui.model.base import BY_FOOT
from rigtui.model.edits.tables import changed, with_table
from rigtui.model.hands import hands_in, kept_hands
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.rig import Preset, Rig, Section, Song, Wanted


def played_instead(
    known: Lookup, section: Section, preset: Preset, plus: tuple[str, ...],
    minus: tuple[str, ...] = (),
) -> Section:  # fmt: skip
    """Return a section on another preset or with other pedals, which keeps its wanted sound and its
    hands.

    Args:
        known: The rig's look-up.
        section: A section that is mapped to a preset.
        preset: What it is to be played with.
        plus: Pedals to be stepped on, on top of it.
        minus: Pedals whose loop is to be switched out of it.
    """
    own = known.presets.get(section.preset or "")
    wanted = section.wanted
    if wanted is None:
        wanted = Wanted(pedals=known.sound(section), channel=(own and own.channel) or None)
    fields: dict[str, Any] = {"plus": plus, "minus": minus}
    if own is None or own.id != preset.id:
        fields |= {"preset": preset.id, **kept_hands(section, own, preset)}
    new = changed(section, **fields)
    same = frozenset(known.sound(new)) == frozenset(wanted.pedals)
    if same and (preset.channel or None) == wanted.channel:
        return changed(new, wanted=None)
    return changed(new, wanted=wanted)


def give_back(rig: Rig, song_ids: Iterable[str] | None = None) -> Rig:
    """Give sections the sound back that they wanted, where some preset still has it.

    Args:
        rig: The rig.
        song_ids: The songs that it is about; all where none are given.
    """
    known = lookup(rig)
    chosen = None if song_ids is None else frozenset(song_ids)
    songs = [
        song if chosen is not None and song.id not in chosen else _song_as_wanted(known, rig, song)
        for song in rig.songs
    ]
    if all(new is old for new, old in zip(songs, rig.songs)):
        return rig
    return with_table(rig, "songs", songs)


def _song_as_wanted(known: Lookup, rig: Rig, song: Song) -> Song:
    if all(section.wanted is None for section in song.sections):
        return song
    sections = tuple(_as_wanted(known, rig, section) for section in song.sections)
    return changed(song, sections=sections) if sections != song.sections else song


def _as_wanted(known: Lookup, rig: Rig, section: Section) -> Section:
    """The section with the sound that it wanted, the same section where no preset has it.

    Of several presets it is the one whose hands come nearest to what the section asks of them.
    """
    wanted, own = section.wanted, known.presets.get(section.preset or "")
    if wanted is None or own is None:
        return section
    sound = frozenset(wanted.pedals)
    asked = hands_in(section, own)
    best: tuple[int, Section] | None = None
    for preset in rig.presets:
        plus = _plus_for(known, section, preset, sound)
        if plus is None or (preset.channel or None) != wanted.channel:
            continue
        new = played_instead(known, section, preset, plus)
        if new.wanted is not None:
            continue
        new = _without_needless_hands(new, preset)
        differ = sum(a != b for a, b in zip(hands_in(new, preset), asked))
        if best is None or differ < best[0]:
            best = (differ, new)
    return section if best is None else best[1]


def _plus_for(
    known: Lookup, section: Section, preset: Preset, sound: frozenset[str]
) -> tuple[str, ...] | None:
    """What must be stepped on, on top of a preset, for a sound; None where that is not enough."""
    missing = sound - frozenset(known.preset_pedals(preset))
    foot = [p.id for p in known.outside() if p.id in missing and p.used in BY_FOOT]
    plus = [pedal for pedal in section.plus if pedal in foot]
    return (*plus, *(pedal for pedal in foot if pedal not in plus))


def _without_needless_hands(section: Section, preset: Preset) -> Section:
    """The section without what it says of its hands and its preset says as well."""
    for key, value in (("ignores", ()), ("preset_hands", ""), ("guitar_volume", None),
                       ("pickup", None)):  # fmt: skip
        bare = changed(section, **{key: value})
        if hands_in(bare, preset) == hands_in(section, preset):
            section = bare
    return section
