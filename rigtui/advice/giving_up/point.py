"""A step of the frontier as a rig: sections on other sounds, and the memories that follow."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations

from rigtui.advice.counted import Counted, counted
from rigtui.advice.giving_up.frontier import FrontierStep, Search
from rigtui.advice.giving_up.prices import Heard
from rigtui.advice.giving_up.ways import SongWays
from rigtui.model.edits.presets import stored_in
from rigtui.model.edits.tables import changed
from rigtui.model.edits.wanted import played_instead
from rigtui.model.lookup import lookup
from rigtui.model.places import section_place
from rigtui.model.playable import in_range
from rigtui.model.rig import Preset, Rig, Section, Song

_MOST_ORDERS = 24


@dataclass(frozen=True)
class Compromise:
    """A section that is played with another sound than it wants."""

    place: str
    """Its path, sections counted from 0."""
    song: str
    """The song's id."""
    at: int
    """Its place in the song, from 0."""
    left_off: tuple[str, ...]
    """Ids of pedals that it wants and does not get, in signal order."""
    put_on: tuple[str, ...]
    """Ids of pedals that are on though it does not want them."""
    other_channel: bool


@dataclass(frozen=True)
class FrontierPoint:
    """What giving up some sounds comes to, applied and counted."""

    rig: Rig
    price: float
    """Price x bars of all that sounds otherwise, each time that it is played."""
    counted: Counted
    compromises: tuple[Compromise, ...]
    not_stored: tuple[str, ...]
    """Ids of presets that the songs used and that lose their memory."""
    stored: tuple[str, ...]
    """Ids of presets that get a memory."""

    @property
    def sections(self) -> int:
        """Sections that sound otherwise than they want to."""
        return len(self.compromises)

    @property
    def pedals(self) -> int:
        """Pedals that are otherwise than wanted, and channels, added up over those sections."""
        return sum(len(c.left_off) + len(c.put_on) + c.other_channel for c in self.compromises)


def point_of(search: Search, step: FrontierStep) -> FrontierPoint:
    """Make the rig of a step and count it."""
    now = search.rig
    songs = {
        ways.song.id: _song(ways, chosen)
        for ways, chosen in zip(search.songs, search.ways_of(step))
    }
    mapped = now
    if any(songs[song.id] is not song for song in now.songs if song.id in songs):
        mapped = changed(now, songs=tuple(songs.get(song.id, song) for song in now.songs))
    rig, stored, gone = _stored(search, mapped, step)
    figures = counted(rig, search.evening)
    given_up = tuple(compromises(rig, search.evening.times))
    return FrontierPoint(rig, step.price, figures, given_up, gone, stored)


def compromises(rig: Rig, songs: Collection[str]) -> Iterator[Compromise]:
    """Find the sections of some songs that are played with another sound than they want."""
    known = lookup(rig)
    for song in rig.songs:
        if song.id not in songs:
            continue
        for at, section in enumerate(song.sections):
            preset = known.presets.get(section.preset or "")
            if section.wanted is None or preset is None:
                continue
            heard, on = Heard(known, section), known.sound(section)
            differ = heard.differing(on)
            other_channel = heard.other_channel(preset)
            if differ or other_channel:
                yield Compromise(
                    section_place(song.id, at), song.id, at,
                    tuple(p for p in known.order if p in differ and p not in on),
                    tuple(p for p in known.order if p in differ and p in on),
                    other_channel,
                )  # fmt: skip


def _song(ways: SongWays, chosen: Sequence[int]) -> Song:
    sections = list(ways.song.sections)
    for row, way in zip(ways.sections, chosen):
        if way not in row.own:
            sections[row.at] = _section(ways, sections[row.at], way)
    if all(new is old for new, old in zip(sections, ways.song.sections)):
        return ways.song
    return changed(ways.song, sections=tuple(sections))


def _section(ways: SongWays, section: Section, way: int) -> Section:
    target = ways.ways[way].target
    known, board = ways.sounds.known, ways.sounds.board
    preset = known.presets[board.preset_ids[target.preset.place]]
    on = ways.outside_names(target.outside)
    toggled = preset.id == section.preset and target.mask != target.preset.mask
    kept = [
        pedal
        for pedal in section.plus
        if (toggled if pedal in known.loop_of else pedal in on or pedal not in board.outside_bit)
    ]
    plus = (*kept, *(pedal for pedal in on if pedal not in kept))
    return played_instead(known, section, preset, plus, section.minus if toggled else ())


def _stored(
    search: Search, rig: Rig, step: FrontierStep
) -> tuple[Rig, tuple[str, ...], tuple[str, ...]]:
    """Give the sounds kept a memory each, those that have one staying where they are.

    Returns:
        The rig, and the ids of presets that get a memory and of those that lose theirs.
    """
    if rig.switcher is None:
        return rig, (), ()
    most = rig.switcher.memories
    sounds = {preset.id: search.sounds.of(preset.id) for preset in rig.presets}
    homes = {sounds[preset.id] for preset in rig.presets if in_range(preset, most)}
    new = [
        next(preset for preset in rig.presets if sounds[preset.id] == sound)
        for sound in step.kept
        if sound not in homes
    ]
    if not new:
        return rig, (), ()
    taken = {memory for preset in rig.presets for memory in preset.memories}
    free = [memory for memory in range(1, most + 1) if memory not in taken]
    for memory in _giving_way(search, rig, step, sounds):
        if len(free) >= len(new):
            break
        free.append(memory)
    trials = [
        changed(rig, presets=_moved_in(rig, dict(zip((preset.id for preset in new), order))))
        for order in list(permutations(free, len(new)))[:_MOST_ORDERS]
    ]
    best = min(trials, key=lambda trial: counted(trial, search.evening).order)
    after = {preset.id: preset for preset in best.presets}
    lost = (
        preset.id
        for preset in rig.presets
        if sounds[preset.id] not in (None, *step.kept)
        and in_range(preset, most)
        and not in_range(after[preset.id], most)
    )
    return best, tuple(preset.id for preset in new), tuple(lost)


def _giving_way(
    search: Search, rig: Rig, step: FrontierStep, sounds: Mapping[str, int | None]
) -> Iterator[int]:
    """Memories that may be given to others: of sounds that go, then what stores a sound again."""
    assert rig.switcher is not None
    protected: set[int] = set()
    held: dict[int, list[int | None]] = {}
    stored: set[int | None] = set()
    for preset in sorted(rig.presets, key=lambda preset: preset.id not in search.keep):
        memories, sound = in_range(preset, rig.switcher.memories), sounds[preset.id]
        for memory in memories:
            held.setdefault(memory, []).append(sound)
        if preset.id in search.keep:
            protected.update(memories)
        elif memories and sound in step.kept and sound not in stored:
            protected.add(memories[0])
        stored.update([sound] if memories else [])
    may_go = [memory for memory in sorted(held) if memory not in protected]
    gone = [memory for memory in may_go if not set(held[memory]) & set(step.kept)]
    yield from gone
    yield from (memory for memory in may_go if memory not in gone)


def _moved_in(rig: Rig, homes: Mapping[str, int]) -> tuple[Preset, ...]:
    """The presets, some of them each in a new memory and nothing else in it."""
    taken = set(homes.values())
    presets = []
    for preset in rig.presets:
        if preset.id in homes:
            preset = stored_in(preset, (homes[preset.id],))
        elif taken.intersection(preset.memories):
            preset = stored_in(preset, (m for m in preset.memories if m not in taken))
        presets.append(preset)
    return tuple(presets)
