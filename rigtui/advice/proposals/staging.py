"""Staging: a pedal that can be switched ahead of the change, where nobody hears it.

Source of what can be switched early: common practice. A wah is stepped on a bar before with its
treadle up; a delay or reverb before its first note, and anything while the player rests.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from rigtui.advice.giving_up.words import places_in_words
from rigtui.advice.proposals.asked import Asked
from rigtui.advice.remedy import Proposal
from rigtui.checks.demand import say_seconds
from rigtui.model.edits import set_section
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.places import section_place
from rigtui.model.rig import Pedal, Rig, Section, Song
from rigtui.model.text import count, listed
from rigtui.moves import Change, changes_as_written
from rigtui.moves.clock import section_seconds

_TAILS = ("delay", "reverb")
FEW_SONGS = 2
"""So many songs are named in the sentence that says what to do."""


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
    saves: int
    """Extra presses that it saves, each time that the song is played."""
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


def _stages_of(rig: Rig, known: Lookup, song: Song, change: Change) -> Iterator[Stage]:
    before, after = song.sections[change.from_section], song.sections[change.to_section]
    ahead = sum(press.can_wait for press in change.presses)
    saved = 0
    for press in change.presses:
        if press.kind != "pedal" or press.can_wait or saved >= change.extra_presses:
            continue
        pedal = known.pedals[str(press.what)]
        why = _unheard(known, before, after, pedal)
        if why is None:
            continue
        saved += 1
        seconds = rig.player.press_seconds * (ahead + saved)
        yield Stage(
            song.id, change.to_section, pedal.id, why, 1, seconds, section_seconds(song, before)
        )


def _unheard(known: Lookup, before: Section, after: Section, pedal: Pedal) -> str | None:
    """Why nobody hears a pedal that is switched while the section before still sounds."""
    if after.rest_beats >= 1:
        return "you rest just before"
    on = pedal.id in known.sound(after)
    if pedal.kind == "wah" and on:
        return "with its treadle up nobody hears it"
    if pedal.kind in _TAILS and on and _role(known, before) == _role(known, after) == "clean":
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


def propose(asked: Asked) -> Iterator[Proposal | None]:
    """Propose to switch a pedal early, everywhere that it can be."""
    by_pedal: dict[str, list[Stage]] = {}
    for song in asked.evening.songs:
        yield None
        for stage in stages(asked.rig, song):
            if stage.fits:
                by_pedal.setdefault(stage.pedal, []).append(stage)
    known = lookup(asked.rig)
    for pedal, chosen in by_pedal.items():
        reasons = dict.fromkeys(stage.why for stage in chosen)
        tight = max(chosen, key=lambda stage: stage.seconds / stage.before_seconds)
        where = places_in_words(asked.rig, chosen)
        few = len({stage.song for stage in chosen}) <= FEW_SONGS
        yield Proposal(
            f"early {pedal}",
            f"Switch {known.label(pedal)} early, before {count(len(chosen), 'section')}"
            + (f": {where}" if few else ""),
            partial(staged, chosen=tuple(chosen)),
            tuple(stage.place for stage in chosen),
            {"sections": len(chosen)},
            detail=(
                *([] if few else [where]),
                f"{listed(reasons).capitalize()}; the section before lasts "
                f"{say_seconds(round(tight.before_seconds, 1))} or more, the presses take "
                f"{say_seconds(tight.seconds)}",
            ),
        )
