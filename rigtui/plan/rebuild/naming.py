"""The new presets under the old ones' names, and the sections written for them."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Sequence

from rigtui.model.edits.tables import changed
from rigtui.model.rig import Preset, Rig, Section, Song
from rigtui.model.text import slug
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.needs import Needs, SongNeeds
from rigtui.plan.loops.costs import cube_of
from rigtui.plan.rebuild.hands import defaults_of, differ_in_use, hands_for, same_hands
from rigtui.plan.rebuild.section_map import SectionMap, Use

_SHOWN = 12
"""Characters of a name that tell presets apart where no display is described; a default."""


class Namer:
    """Gives the new presets the old ones' names and notes, and writes the sections."""

    def __init__(self, rig: Rig, needs: Needs, mapping: SectionMap) -> None:
        self.rig, self.needs, self.mapping = rig, needs, mapping
        self.old = {preset.id: preset for preset in rig.presets}
        self.songs = {song.id: song for song in rig.songs}
        self.users = [Counter[str]() for _ in mapping.presets]
        """How often sections of each old preset use each new one."""
        self.served: list[list[tuple[Section, Preset]]] = [[] for _ in mapping.presets]
        """The sections of each new preset, with the presets that they are on now."""
        for song in needs.songs:
            sections = self.songs[song.song].sections
            for sound, use in zip(song.sounds, mapping.uses[song.song]):
                section = sections[sound.section]
                assert section.preset is not None
                self.users[use.preset][section.preset] += 1 + song.times
                self.served[use.preset].append((section, self.old[section.preset]))
        self.heir = self._heirs()
        """The old preset that each new one goes on as, where there is one."""
        self.rows = self._rows()
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
                for nth, its in enumerate(presets)
                if nth not in heir and its.on == cube.on and its.channel == cube.channel
            )
            heir[at] = preset
        pairs = sorted(
            ((-times, at, preset) for at, users in enumerate(self.users)
             for preset, times in users.items()),
        )  # fmt: skip
        for _, at, preset in pairs:
            if at in heir or preset in heir.values():
                continue
            most = self.users[at].most_common(1)[0][0]
            if preset == most or not differ_in_use(self.old[preset], self.old[most]):
                heir[at] = preset  # no name of another sound for the sections of most
        return heir

    def _rows(self) -> list[Preset]:
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
            else:
                rows += self._unused(old)
            for at in fresh.get(old.id, ()):
                name = self._fresh_name(old)
                row = self._made(
                    at, changed(old, id=slug(name, taken), name=name, memory=None, copies=())
                )
                taken.add(row.id)
                self._row_of[at] = row
                rows.append(row)
        return rows

    def _fresh_name(self, old: Preset) -> str:
        """A name of its own, on the switcher's display too."""
        switcher = self.rig.switcher
        shown = (switcher.display_chars if switcher is not None else None) or _SHOWN
        presets = (*self.old.values(), *self._row_of.values())
        names = {preset.label[:shown] for preset in presets}
        for number in itertools.count(2):
            end = f" {number}"
            start = old.label[: max(1, shown - len(end))].rstrip()
            name = f"{start}{end}"
            if name[:shown] not in names:
                return name
            if number > 99:  # a display of a character or two
                return f"{old.label} {number}"
        raise AssertionError

    def _made(self, at: int, like: Preset) -> Preset:
        """A new preset on the lines of an old one; one to keep stays as it is for the hands."""
        preset = self.mapping.presets[at]
        channel, midi = self.needs.recalled(preset.channel, like)
        fields: dict[str, object] = {
            "loops": self.mapping.loops_of(preset),
            "channel": channel,
            "midi": midi,
        }
        if like.id not in self.needs.kept:
            own = self.old.get(like.id)
            fields |= hands_for(own, defaults_of(self.served[at]))
        return changed(like, **fields)

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
            return []
        numbers = [
            number for group, number in zip(self.mapping.groups, self.mapping.numbers) if group & on
        ]
        return [changed(old, loops=tuple(sorted(numbers)))]

    def songs_mapped(self, control: Control) -> list[Song]:
        """All songs, their sections mapped anew."""
        songs = []
        for song, needs in zip(self.rig.songs, self.needs.songs):
            control.stop_if_cancelled()
            songs.append(self._song(song, needs))
        return songs

    def _song(self, song: Song, needs: SongNeeds) -> Song:
        uses = {sound.section: use for sound, use in zip(needs.sounds, self.mapping.uses[song.id])}
        sections = tuple(
            self._section(section, uses[at]) if at in uses else section
            for at, section in enumerate(song.sections)
        )
        return song if sections == song.sections else changed(song, sections=sections)

    def _section(self, section: Section, use: Use) -> Section:
        assert section.preset is not None
        needs = self.needs
        on = [*needs.names(use.on), *self._loops_named(use.plus)]
        unknown = [
            pedal
            for pedal in section.plus
            if pedal not in needs.pedals or needs.bit(pedal) & needs.left_alone
        ]
        out = self._loops_named(use.minus)
        fields: dict[str, object] = {
            "preset": self.ids[use.preset],
            "plus": _in_order(section.plus, [*on, *unknown]),
            "minus": _in_order(
                section.minus,
                [*out, *(pedal for pedal in section.minus if pedal not in needs.pedals)],
            ),
        }
        differ = {key: value for key, value in fields.items() if value != getattr(section, key)}
        old, new = self.old[section.preset], self._row_of[use.preset]
        moved = changed(section, **differ) if differ else section
        return same_hands(moved, section, old, new)

    def _loops_named(self, mask: int) -> list[str]:
        return [self.mapping.pedal_in(at) for at in range(len(self.mapping.groups))
                if mask >> at & 1]  # fmt: skip


def _in_order(old: Sequence[str], new: Sequence[str]) -> tuple[str, ...]:
    """The new names, those that stood there already in their old order."""
    return tuple(dict.fromkeys([pedal for pedal in old if pedal in new] + list(new)))
