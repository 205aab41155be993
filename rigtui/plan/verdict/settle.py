"""Undo remappings that save nothing: fewer to learn, fewer set-up moves.

Planners look at moves inside songs alone. Where several mappings need as few, the one at hand may
start a song far from where the song before ends, and change what the player knows for no gain.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, NamedTuple

from rigtui.model.edits.folding import recalled_by
from rigtui.model.edits.tables import changed
from rigtui.model.lookup import lookup
from rigtui.model.rig import Preset, Rig, Section, Song
from rigtui.moves import changes_as_written
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, figures
from rigtui.plan.ask.result import Plan
from rigtui.plan.rebuild.hands import same_hands
from rigtui.plan.verdict.mapping import mapped_otherwise

_MOST_SONGS = 200
"""Songs that are looked at one by one where they cannot all have their way."""


def settled(now: Rig, plan: Plan, evening: Evening, control: Control | None = None) -> Plan:
    """Take back what a plan maps anew and need not.

    A section goes back to its preset and pedals where it sounds the same with them on the rig as
    planned, its song then needs as many moves and extra presses with no worse change, and the
    evening no more set-up moves. All figures stay true, set-up moves are the same or fewer. Where
    the time is up, what was not tried yet stays as planned.
    """
    control = control or Control()
    then = plan.rig
    if then is None or plan.after is None:
        return plan
    songs = _Settler(now, then, control).songs()
    if not songs:
        return plan
    best = _with(then, songs)
    after = figures(best, evening)
    if after.set_up_moves > plan.after.set_up_moves:
        best, after = then, plan.after
        for song in list(songs.values())[:_MOST_SONGS]:
            if control.over:
                break
            trial = _with(best, {song.id: song})
            counted = figures(trial, evening)
            if counted.set_up_moves <= after.set_up_moves:
                best, after = trial, counted
    assert plan.goal.weighed(after) == plan.goal.weighed(plan.after)
    return replace(
        plan, rig=best, after=after, details={**plan.details, **_walks(plan, best, control)}
    )


def _walks(plan: Plan, rig: Rig, control: Control) -> dict[str, Any]:
    """The walks of the songs alone, walked anew where a song is another one now."""
    from rigtui.plan.route.planner import song_data

    if "songs" not in plan.details or plan.rig is None:
        return {}
    old = {song.id: song for song in plan.rig.songs}
    new = {song.id: song for song in rig.songs}
    return {
        "songs": [
            song
            if new[song["id"]] is old[song["id"]]
            else song_data(rig, rig, new[song["id"]], control)
            for song in plan.details["songs"]
        ]
    }


def _with(rig: Rig, songs: dict[str, Song]) -> Rig:
    return changed(rig, songs=tuple(songs.get(song.id, song) for song in rig.songs))


class _Counted(NamedTuple):
    moves: int
    extra_presses: int
    worst: int
    """Moves of the worst change."""
    beat: int
    """The most moves on one beat."""


@dataclass
class _Settler:
    now: Rig
    then: Rig
    control: Control

    @cached_property
    def _moved(self) -> set[str]:
        """Pedals that aren't switched as a section says now.

        They have come into a loop or out of one, or are left on from now on.
        """
        old, new = lookup(self.now), lookup(self.then)
        return (old.loop_of.keys() ^ new.loop_of.keys()) | {
            pedal.id
            for pedal in self.then.pedals
            if pedal.id in old.pedals and old.pedals[pedal.id].used != pedal.used
        }

    def songs(self) -> dict[str, Song]:
        """The songs that can go back, some sections or all, by their ids."""
        before = {song.id: song for song in self.now.songs}
        self.uses = Counter(section.preset for song in self.then.songs for section in song.sections)
        sizes = {}
        for song in self.then.songs:
            if self.control.over:
                break
            old = before.get(song.id)
            if old is None or old is song or len(old.sections) != len(song.sections):
                continue
            new = self._settled(old, song)
            if new is not song:
                sizes[song.id] = new
        return sizes

    def _settled(self, old: Song, song: Song) -> Song:
        ways = {
            at: back
            for at, (was, will) in enumerate(zip(old.sections, song.sections))
            if mapped_otherwise(was, will) and (back := self._back(was, will)) is not None
        }
        together = self._tried(song, ways)
        if together is not song or len(ways) < 2:
            return together
        for at, back in ways.items():
            if self.control.over:
                break
            song = self._tried(song, {at: back})
        return song

    def _tried(self, song: Song, ways: dict[int, Section]) -> Song:
        """The song with some sections as they were, if that costs nothing; else as it is."""
        if not ways:
            return song
        gone = Counter(song.sections[at].preset for at in ways)
        gone.subtract(Counter(back.preset for back in ways.values()))
        if any(self.uses[preset] <= times for preset, times in gone.items() if times > 0):
            return song  # the preset was made for these sections
        sections = tuple(ways.get(at, section) for at, section in enumerate(song.sections))
        new = changed(song, sections=sections)
        before, after = self._counted(song), self._counted(new)
        alike = (after.moves, after.extra_presses) == (before.moves, before.extra_presses)
        if not alike or after.worst > before.worst or after.beat > before.beat:
            return song
        self.uses.subtract(gone)
        return new

    def _counted(self, song: Song) -> _Counted:
        changes = changes_as_written(self.then, song)
        return _Counted(
            sum(change.moves for change in changes),
            sum(change.extra_presses for change in changes),
            max((change.moves for change in changes), default=0),
            max((change.on_the_beat for change in changes), default=0),
        )

    def _back(self, was: Section, will: Section) -> Section | None:
        """A section mapped as it was, if it sounds the same so on the rig as planned."""
        if was.preset is None:
            return None
        old, new = lookup(self.now), lookup(self.then)
        before, after = old.presets.get(was.preset), new.presets.get(was.preset)
        if before is None or after is None or not self._holds(after):
            return None
        if recalled_by(before) != recalled_by(after):
            return None
        fields: dict[str, Any] = {"preset": was.preset} | {
            key: tuple(pedal for pedal in getattr(was, key) if pedal not in self._moved)
            for key in ("plus", "minus")
        }
        back = same_hands(changed(will, **fields), was, before, after)
        heard_alike = old.sound(was) == new.sound(back)
        return back if heard_alike and mapped_otherwise(back, will) else None

    def _holds(self, preset: Preset) -> bool:
        """Whether a preset can be recalled on the rig as planned."""
        most = self.then.switcher.memories if self.then.switcher is not None else 0
        return any(memory <= most for memory in preset.memories)
