"""Questions whose answer mends a finding, with all their answers: only the player knows which."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from rigtui.checks.finding import Choices, Fix, FixChoice
from rigtui.checks.words import named, quoted
from rigtui.model import Rig, Song
from rigtui.model.banks import all_recalled_at
from rigtui.model.edits import map_section
from rigtui.model.text import visible

Swap = Callable[[str | None, Rig], Rig]
"""Writes another word in place of an unknown one, or takes it out."""


def which_preset(song: Song, at: int, likely: str | None) -> Choices:
    """Ask which preset a section has.

    Args:
        song: The song.
        at: The section, from 0.
        likely: Id of the preset that comes first; None where there is no guess.
    """
    section = visible(song.sections[at].name)
    return Choices(
        f"Preset for {section} (section {at + 1}) of {named(song)}",
        "the presets",
        partial(_presets, song_id=song.id, at=at, likely=likely),
    )


def _presets(rig: Rig, song_id: str, at: int, likely: str | None) -> tuple[FixChoice, ...]:
    size = rig.switcher.bank_size if rig.switcher else 0
    return tuple(
        FixChoice(
            f"{named(preset)}   "
            f"{all_recalled_at(preset.memories, size) if preset.memories else 'not stored'}  "
            f"{preset.role}",
            Fix(
                f"map it to {named(preset)}",
                partial(map_section, song_id=song_id, at=at, preset_id=preset.id),
            ),
        )
        for preset in sorted(rig.presets, key=lambda preset: preset.id != likely)
    )


def which_song(question: str, likely: str | None, swap: Swap) -> Choices:
    """Ask which song of the file an unknown word stands for.

    Args:
        question: What is asked.
        likely: Id of the song that comes first; None where there is no guess.
        swap: Writes a song's id in place of the word.
    """
    return Choices(question, "the songs", partial(_songs, likely=likely, swap=swap))


def _songs(rig: Rig, likely: str | None, swap: Swap) -> tuple[FixChoice, ...]:
    return tuple(
        FixChoice(named(song), Fix(f"write {quoted(song.id)} in its place", partial(swap, song.id)))
        for song in sorted(rig.songs, key=lambda song: song.id != likely)
    )
