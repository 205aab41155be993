"""Staging: a pedal that can be switched ahead of the change, where nobody hears it.

Source of what can be switched early: common practice. A delay or reverb goes on before its first
note, and anything while the player rests. A wah is heard wherever its treadle stands: it goes on
with the part that it is for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rigtui.checks.demand import say_seconds
from rigtui.model.edits import set_section
from rigtui.model.kind_words import TAIL_KINDS
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.places import section_place
from rigtui.model.rig import Pedal, Rig, Section, Song
from rigtui.model.text import visible
from rigtui.moves import Change, changes_as_written
from rigtui.moves.clock import section_seconds


@dataclass(frozen=True)
class Stage:
    """One pedal that could be switched ahead of one section."""

    song: str
    """The song's id."""
    at: int
    """The section entered, from 0."""
    pedal: str
    """The pedal's id."""
    why: str
    """Why nobody hears it, in a few words."""
    seconds: float
    """What is pressed ahead then takes so long, ..."""
    before_seconds: float
    """... and the section before lasts so long."""

    @property
    def fits(self) -> bool:
        """Whether the section before leaves the time."""
        return self.seconds <= self.before_seconds

    @property
    def place(self) -> str:
        """Path of the section entered."""
        return section_place(self.song, self.at)


def stages(rig: Rig, song: Song) -> Iterator[Stage]:
    """Find where a pedal could be switched early in a song, and what that saves."""
    known = lookup(rig)
    for change in changes_as_written(rig, song):
        if change.extra_presses:
            yield from _stages_of(rig, known, song, change)


def could_be_early(rig: Rig, song: Song, at: int) -> list[Stage]:
    """Pedals that could be switched ahead of a section though somebody might hear it."""
    known = lookup(rig)
    return [
        stage
        for change in changes_as_written(rig, song)
        if change.to_section == at and change.extra_presses
        for stage in _stages_of(
            rig, known, song, change, heard="it would be heard ahead of the change"
        )
    ]


def _stages_of(
    rig: Rig, known: Lookup, song: Song, change: Change, heard: str | None = None
) -> Iterator[Stage]:
    before, after = song.sections[change.from_section], song.sections[change.to_section]
    ahead = sum(press.can_wait for press in change.presses)
    saved = 0
    for press in change.presses:
        if press.kind != "pedal" or press.can_wait:
            continue
        if saved >= change.extra_presses and heard is None:
            continue
        pedal = known.pedals[str(press.what)]
        why = _unheard(known, before, after, pedal) or heard
        if why is None:
            continue
        saved += heard is None
        seconds = rig.player.press_seconds * (ahead + max(1, saved))
        yield Stage(
            song.id, change.to_section, pedal.id, why, seconds, section_seconds(song, before)
        )


def _unheard(known: Lookup, before: Section, after: Section, pedal: Pedal) -> str | None:
    """Why nobody hears a pedal that is switched while the section before still sounds."""
    if after.rest_beats >= 1:
        return "you rest just before"
    on = pedal.id in known.sound(after)
    if pedal.kind in TAIL_KINDS and on and _role(known, before) == _role(known, after) == "clean":
        return "both sections are clean, and it only adds a tail"
    return None


def _role(known: Lookup, section: Section) -> str | None:
    preset = known.presets.get(section.preset or "")
    return None if preset is None else preset.role


def staged(rig: Rig, chosen: Sequence[Stage]) -> Rig:
    """Return the rig with pedals switched ahead of the sections that they were found for."""
    for stage in chosen:
        section = lookup(rig).songs[stage.song].sections[stage.at]
        if stage.pedal not in section.early:
            early = (*section.early, stage.pedal)
            rig = set_section(rig, stage.song, stage.at, early=early)
    return rig


def stages_into(rig: Rig, song: Song, at: int) -> list[Stage]:
    """Those of one section, from 0."""
    return [stage for stage in stages(rig, song) if stage.at == at]


def taken_back(rig: Rig, song_id: str, at: int) -> Rig:
    """Return the rig with a section's pedals switched at the change again."""
    return set_section(rig, song_id, at, early=())


def time_in_words(rig: Rig, stage: Stage) -> str:
    """Say what time the section before leaves: "Verse 1 lasts 32 s, the press takes 0.5 s"."""
    before = lookup(rig).songs[stage.song].sections[stage.at - 1]
    lasts = say_seconds(round(stage.before_seconds, 1))
    presses = "the press takes" if stage.seconds <= rig.player.press_seconds else "presses take"
    return f"{visible(before.name)} lasts {lasts}, {presses} {say_seconds(stage.seconds)}"


def stage_in_words(rig: Rig, stage: Stage) -> str:
    """Say what switching early saves, why nobody hears it, and whether there is time."""
    late = "" if stage.fits else ": too short"
    return (
        f"Switching {visible(lookup(rig).label(stage.pedal))} early takes 1 press off "
        f"the beat: {stage.why}; {time_in_words(rig, stage)}{late}"
    )
