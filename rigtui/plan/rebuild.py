"""From a design to a rig: loops plugged, presets programmed, every section mapped anew."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from rigtui.model.edits import set_preset
from rigtui.model.edits.tables import changed, with_table
from rigtui.model.rig import Preset, Rig, Section, Song
from rigtui.model.text import count, slug, visible
from rigtui.plan.control import Control
from rigtui.plan.evening import Evening
from rigtui.plan.loop_costs import cube_of
from rigtui.plan.loop_search import Design
from rigtui.plan.needs import ANY_CHANNEL, Needs, SongNeeds
from rigtui.plan.packing import Cube, Packing
from rigtui.plan.placing import Placement, place
from rigtui.plan.rebuild_board import Board, rebuild_board
from rigtui.plan.switches import (
    changes_between,
    checked_pins,
    first_recalls,
    needed_switcher,
    presets_of,
    stored,
)
from rigtui.plan.wishes import LoopWishes


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """A design as a rig."""

    rig: Rig
    placement: Placement
    steps: list[str]
    notes: list[str]
    outside: list[str]
    always_on: list[str]


@dataclass(frozen=True, slots=True)
class _Use:
    """How one section is played: the preset's place, and pedals on top of it or out of it."""

    preset: int
    on: int
    """Outside pedals on."""
    plus: int
    """Loops toggled in."""
    minus: int


def rebuild(
    rig: Rig,
    evening: Evening,
    needs: Needs,
    design: Design,
    wishes: LoopWishes,
    control: Control,
    *,
    exact: bool = True,
) -> Rebuilt:
    """Make the rig of a design; memories are chosen for the fewest bank steps.

    Args:
        rig: The rig as it stands.
        evening: The songs that count.
        needs: What all songs want.
        design: The loops and presets chosen.
        wishes: The player's constraints.
        control: Progress and cancel.
        exact: Whether to prove the placement.
    """
    board = rebuild_board(rig, needs, design.groups, wishes)
    mapping = _Mapping(needs, design, board)
    namer = _Namer(rig, needs, mapping, board)
    new = with_table(board.rig, "presets", namer.rows)
    new = with_table(new, "songs", [namer.song(song) for song in rig.songs])
    ids = presets_of(new, evening)
    ids += [one for one in wishes.keep_presets if one not in ids]
    switcher = needed_switcher(rig)
    pins, void = _pins(rig, new, wishes, ids)
    ids += [one for one in pins if one not in ids]
    old = {preset.id: preset.memory for preset in new.presets}
    placement = place(
        switcher,
        changes_between(new, evening, ids),
        {ids.index(one): memory for one, memory in pins.items()},
        [old[one] for one in ids],
        control,
        starts=first_recalls(new, evening, ids),
        exact=exact,
    )
    new, steps = stored(new, switcher, dict(zip(ids, placement.memories)))
    new, more = _spare_memories(new, switcher.memories)
    steps += more
    return Rebuilt(
        new,
        placement,
        [*board.steps, *namer.steps, *steps, *_remapped(rig, new)],
        [*namer.notes, *void],
        list(board.outside),
        list(board.always_on),
    )


def _spare_memories(rig: Rig, memories: int) -> tuple[Rig, list[str]]:
    """Store presets that only other songs use, as long as there are memories to spare."""
    used = {section.preset for song in rig.songs for section in song.sections}
    taken = {preset.memory for preset in rig.presets}
    spare = [one for one in range(1, memories + 1) if one not in taken]
    steps = []
    for preset in rig.presets:
        if preset.memory is None and preset.id in used and spare:
            memory = spare.pop(0)
            rig = set_preset(rig, preset.id, memory=memory)
            steps.append(f"store {visible(preset.label)} in memory {memory}, for other songs")
    return rig, steps


def _pins(
    rig: Rig, new: Rig, wishes: LoopWishes, ids: Sequence[str]
) -> tuple[dict[str, int], list[str]]:
    """The pins that still mean something, and what became of the others, in words."""
    switcher = needed_switcher(rig)
    known = {preset.id: preset for preset in new.presets}
    pins: dict[str, int] = {}
    void = []
    room = switcher.memories - len(ids)
    for one, memory in checked_pins(rig, switcher, wishes.pins).items():
        if one not in known:
            void.append(f"{visible(one)} no longer exists, so its pin to a memory is void")
        elif memory in pins.values():
            void.append(f"{visible(known[one].label)} is not in memory {memory}: another is")
        elif one not in ids and room <= 0:
            void.append(
                f"{visible(known[one].label)} is not in memory {memory}: the evening does not "
                f"use it and needs all memories"
            )
        else:
            room -= one not in ids
            pins[one] = memory
    return pins, void


def _remapped(before: Rig, after: Rig) -> list[str]:
    keys = ("preset", "plus", "minus")
    said = []
    for old, new in zip(before.songs, after.songs):
        differ = sum(
            any(getattr(a, key) != getattr(b, key) for key in keys)
            for a, b in zip(old.sections, new.sections)
        )
        if differ:
            said.append(f"{visible(old.label)}: {count(differ, 'section')} mapped anew")
    return said


class _Mapping:
    """How each section of each song is played, and the presets that takes."""

    def __init__(self, needs: Needs, design: Design, board: Board) -> None:
        self.needs, self.design = needs, design
        self.groups, self.numbers = design.groups, board.numbers
        self.outside = needs.ever_on & needs.ever_off & ~design.inside & ~needs.between
        self.presets: list[Cube] = [_point(one) for one in design.packing.presets]
        self.stored = len(self.presets)
        self.uses: dict[str, list[_Use]] = {}
        played = 0
        for song in needs.songs:
            if song.times:
                self.uses[song.song] = self._played(song, played)
                played += 1
        for song in needs.songs:
            if not song.times:
                self.uses[song.song] = self._unplayed(song)

    def _played(self, song: SongNeeds, at: int) -> list[_Use]:
        packing = self.design.packing
        row = packing.used[at]
        plus = [0] * len(row)
        minus = [0] * len(row)
        if not isinstance(packing, Packing):
            for nth, mask in enumerate(packing.masks[at]):
                base = self.presets[row[nth]].on
                plus[nth], minus[nth] = mask & ~base, base & ~mask
        on = self._outside(song)
        return [_Use(*one) for one in zip(row, on, plus, minus)]

    def _unplayed(self, song: SongNeeds) -> list[_Use]:
        """Songs that the evening does not play: any preset that fits, or a new one."""
        row: list[int] = []
        for sound in song.sounds:
            cube = cube_of(sound, self.groups)
            fits = [at for at, one in enumerate(self.presets) if one.within(cube)]
            if not fits:
                self.presets.append(_point(cube))
                fits = [len(self.presets) - 1]
            row.append(row[-1] if row and row[-1] in fits else fits[0])
        return [_Use(at, on, 0, 0) for at, on in zip(row, self._outside(song))]

    def _outside(self, song: SongNeeds) -> list[int]:
        """Outside pedals on in each section: each waits until it is needed."""
        masks: list[int] = []
        state = 0
        first: dict[int, bool] = {}
        if not song.cold:
            for sound in reversed(song.sounds):
                for at in range(len(self.needs.pedals)):
                    if (sound.on | sound.off) >> at & 1:
                        first[at] = bool(sound.on >> at & 1)
            state = sum(1 << at for at, on in first.items() if on)
        for sound in song.sounds:
            state = (state & ~sound.off) | sound.on
            masks.append(state & self.outside)
        return masks

    def pedal_in(self, group: int) -> str:
        """A pedal that stands for its loop in plus and minus."""
        return self.needs.names(self.groups[group])[0]

    def loops_of(self, cube: Cube) -> tuple[int, ...]:
        """Loop numbers of a preset, in order."""
        return tuple(sorted(number for at, number in enumerate(self.numbers) if cube.on >> at & 1))


def _point(cube: Cube) -> Cube:
    """A cube as a preset: what is free is off."""
    return Cube(cube.on, ~cube.on, cube.channel)


class _Namer:
    """Gives the new presets the old ones' names and notes, and writes the sections."""

    def __init__(self, rig: Rig, needs: Needs, mapping: _Mapping, board: Board) -> None:
        self.rig, self.needs, self.mapping = rig, needs, mapping
        self.old = {preset.id: preset for preset in rig.presets}
        self.steps: list[str] = []
        self.notes: list[str] = []
        self.songs = {song.id: song for song in rig.songs}
        self.users = [Counter[str]() for _ in mapping.presets]
        """How often sections of each old preset use each new one."""
        for song in needs.songs:
            sections = self.songs[song.song].sections
            for sound, use in zip(song.sounds, mapping.uses[song.song]):
                preset = sections[sound.section].preset
                assert preset is not None
                self.users[use.preset][preset] += 1 + song.times
        self.heir = self._heirs()
        """The old preset that each new one goes on as, where there is one."""
        self.rows = self._rows(board)
        self.ids = [""] * len(mapping.presets)
        for at, row in self._row_of.items():
            self.ids[at] = row.id
        self.by_id = {row.id: row for row in self.rows}

    def _heirs(self) -> dict[int, str]:
        heir: dict[int, str] = {}
        presets = self.mapping.presets
        for preset, sound in self.needs.kept.items():
            cube = cube_of(sound, self.mapping.groups)
            at = next(
                nth
                for nth, one in enumerate(presets)
                if nth not in heir and one.on == cube.on and one.channel == cube.channel
            )
            heir[at] = preset
        pairs = sorted(
            ((-times, at, preset) for at, users in enumerate(self.users)
             for preset, times in users.items()),
        )  # fmt: skip
        for _, at, preset in pairs:
            if at not in heir and preset not in heir.values():
                heir[at] = preset
        return heir

    def _rows(self, board: Board) -> list[Preset]:
        """All presets: those that go on where they stood, new ones behind their namesakes."""
        at_home = {preset: at for at, preset in self.heir.items()}
        fresh: dict[str, list[int]] = {}
        for at, users in enumerate(self.users):
            if at not in self.heir and users:
                fresh.setdefault(users.most_common(1)[0][0], []).append(at)
        taken = set(self.old)
        self._row_of: dict[int, Preset] = {}
        rows: list[Preset] = []
        for old in self.rig.presets:
            if old.id in at_home:
                row = self._made(at_home[old.id], old)
                self._row_of[at_home[old.id]] = row
                rows.append(row)
                self._say_kept(old, row)
            else:
                rows += self._unused(old)
            for at in fresh.get(old.id, ()):
                name = self._fresh_name(old)
                row = self._made(at, changed(old, id=slug(name, taken), name=name, memory=None))
                taken.add(row.id)
                self._row_of[at] = row
                rows.append(row)
                self.steps.append(f"new preset {visible(name)}: {_loops(row)}")
        return rows

    def _fresh_name(self, old: Preset) -> str:
        names = {preset.label for preset in self.old.values()}
        names |= {row.label for row in self._row_of.values()}
        number = 2
        while f"{old.label} {number}" in names:
            number += 1
        return f"{old.label} {number}"

    def _made(self, at: int, like: Preset) -> Preset:
        """A new preset on the lines of an old one; what its users disagree on is left out."""
        users = [self.old[one] for one in self.users[at]] or [self.old.get(like.id, like)]
        channel = self.mapping.presets[at].channel
        name = None if channel == ANY_CHANNEL else self.needs.channels[channel]
        fields: dict[str, object] = {
            "loops": self.mapping.loops_of(self.mapping.presets[at]),
            "channel": name,
        }
        for key in ("guitar_volume", "pickup"):
            values = {getattr(one, key) for one in users}
            fields[key] = values.pop() if len(values) == 1 else None
        others = [one for one in users if one.id != like.id and one.hands not in ("", like.hands)]
        if others:
            lines = [f"{one.label}: {one.hands}" for one in others]
            fields["note"] = "\n".join([line for line in (like.note, *lines) if line])
        return changed(like, **fields)

    def _say_kept(self, old: Preset, row: Preset) -> None:
        if old.loops != row.loops or (old.channel or None) != (row.channel or None):
            channel = f", channel {visible(row.channel)}" if row.channel else ""
            self.steps.append(f"program {visible(row.label)}: {_loops(row)}{channel}")

    def _unused(self, old: Preset) -> list[Preset]:
        """A preset that no section uses any more goes; one that none used stays if it can."""
        wanted = any(old.id in users for users in self.users)
        on = 0
        for loop in self.rig.loops:
            if loop.number in old.loops:
                for pedal in loop.pedals:
                    if pedal in self.needs.pedals:
                        on |= self.needs.bit(pedal)
        held = [group for group in self.mapping.groups if group & on]
        if wanted or sum(held) != on:
            why = "its sections share other presets" if wanted else "no section uses it"
            self.steps.append(f"{visible(old.label)} is no longer needed: {why}")
            return []
        numbers = [
            number for group, number in zip(self.mapping.groups, self.mapping.numbers) if group & on
        ]
        return [changed(old, loops=tuple(sorted(numbers)))]

    def song(self, song: Song) -> Song:
        """A song with its sections mapped anew."""
        needs = next(one for one in self.needs.songs if one.song == song.id)
        uses = {sound.section: use for sound, use in zip(needs.sounds, self.mapping.uses[song.id])}
        sections = tuple(
            self._section(section, uses[at]) if at in uses else section
            for at, section in enumerate(song.sections)
        )
        return song if sections == song.sections else changed(song, sections=sections)

    def _section(self, section: Section, use: _Use) -> Section:
        assert section.preset is not None
        mapping, needs = self.mapping, self.needs
        on = [*needs.names(use.on), *self._loops_named(use.plus)]
        unknown = [one for one in section.plus if one not in needs.pedals]
        out = self._loops_named(use.minus)
        fields: dict[str, object] = {
            "preset": self.ids[use.preset],
            "plus": _in_order(section.plus, [*on, *unknown]),
            "minus": _in_order(
                section.minus, [*out, *(one for one in section.minus if one not in needs.pedals)]
            ),
        }
        old, new = self.old[section.preset], self._row_of[use.preset]
        for key in ("guitar_volume", "pickup"):
            was = getattr(old, key)
            if getattr(section, key) is None and was is not None and getattr(new, key) is None:
                fields[key] = was
        del mapping
        return changed(section, **fields)

    def _loops_named(self, mask: int) -> list[str]:
        return [self.mapping.pedal_in(at) for at in range(len(self.mapping.groups))
                if mask >> at & 1]  # fmt: skip


def _in_order(old: Sequence[str], new: Sequence[str]) -> tuple[str, ...]:
    """The new names, those that stood there already in their old order."""
    return tuple(dict.fromkeys([one for one in old if one in new] + list(new)))


def _loops(row: Preset) -> str:
    if not row.loops:
        return "no loop"
    word = "loop" if len(row.loops) == 1 else "loops"
    return f"{word} {', '.join(map(str, row.loops))}"
