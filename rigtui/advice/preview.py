"""A remedy section by section: how each is played now, and how it would be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rigtui.advice.giving_up.point import compromises
from rigtui.model.lookup import lookup
from rigtui.model.places import place_at, section_place
from rigtui.model.playable import is_unplayable
from rigtui.model.rig import Rig, Song
from rigtui.model.text import listed, visible
from rigtui.moves import Change, count_song
from rigtui.moves.words import presses_in_words


@dataclass(frozen=True, slots=True)
class SectionThen:
    """A section that would be played otherwise."""

    place: str
    song: str
    """The song's name."""
    title: str
    """The section's number and name; of the song itself, what of it is meant."""
    was: str
    will: str


def sections_then(now: Rig, then: Rig) -> Iterator[SectionThen]:
    """Give the sections that sound otherwise, or that other presses lead to, song by song.

    Args:
        now: The rig as it is.
        then: The rig as it would be, with the same songs.
    """
    after = {song.id: song for song in then.songs}
    lost = _without(then)
    for song in now.songs:
        other = after.get(song.id)
        if other is not None and len(other.sections) == len(song.sections):
            yield from _of_song(now, then, song, other, lost)
            yield from _gap(song, other)


def _of_song(
    now: Rig, then: Rig, song: Song, other: Song, lost: dict[str, str]
) -> Iterator[SectionThen]:
    changes, changes_then = count_song(now, song).changes, count_song(then, other).changes
    for at, section in enumerate(song.sections):
        where = section_place(song.id, at)
        was = _played(now, song, at, changes[at - 1] if at else None)
        will = _played(then, other, at, changes_then[at - 1] if at else None)
        if where in lost:
            will += f", without {lost[where]}"
        if was != will:
            title = visible(f"{at + 1} {section.name}")
            yield SectionThen(where, visible(song.label), title, was, will)


def _gap(song: Song, other: Song) -> Iterator[SectionThen]:
    if song.gap_seconds != other.gap_seconds:
        was, will = (
            "as usual" if row.gap_seconds is None else f"{row.gap_seconds:g} s"
            for row in (song, other)
        )
        yield SectionThen(place_at("songs", song.id), visible(song.label), "gap after", was, will)


def _played(rig: Rig, song: Song, at: int, change: Change | None) -> str:
    """What a section is played with, and what leads to it: "sw 3 Crunch, Rocker wah on"."""
    section, known = song.sections[at], lookup(rig)
    preset = known.presets.get(section.preset or "")
    label = visible(preset.label if preset is not None else section.preset or "no preset")
    if is_unplayable(rig, section):
        return f"{label}: can't be played"
    if change is None:
        return f"{label}: song starts on it"
    in_time = sorted(change.presses, key=lambda press: press.when != "ahead")
    words = ", ".join(presses_in_words(rig, section, in_time, "short"))
    if any(press.kind == "switch" for press in change.presses):
        return words  # which name the preset
    return f"{label}: {words or 'nothing to press'}"


def _without(rig: Rig) -> dict[str, str]:
    """What sections do without, by their places."""
    label = lookup(rig).label
    return {
        each.place: listed(
            [
                *(visible(label(pedal)) for pedal in each.left_off),
                *["its channel"] * each.other_channel,
            ]
        )
        for each in compromises(rig, [song.id for song in rig.songs])
        if each.left_off or each.other_channel
    }
