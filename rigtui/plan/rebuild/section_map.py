"""How each section of each song is played with a design: its preset, and pedals on top."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from rigtui.model.lookup import lookup
from rigtui.model.rig import Preset, Rig
from rigtui.plan.ask.channels import KEPT
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.needs import Needs, SongNeeds
from rigtui.plan.loops.costs import cube_of
from rigtui.plan.loops.designs import Design
from rigtui.plan.presets.cubes import Cube
from rigtui.plan.presets.packing import Packing
from rigtui.plan.rebuild.board import RebuiltBoard


@dataclass(frozen=True, slots=True)
class Use:
    """How one section is played: its preset's index, and pedals switched on or out on top."""

    preset: int
    on: int
    """Outside pedals on."""
    plus: int
    """Loops toggled in."""
    minus: int


class SectionMap:
    """How each section of each song is played, and the presets that takes."""

    def __init__(
        self, rig: Rig, needs: Needs, design: Design, board: RebuiltBoard, control: Control
    ) -> None:
        self.needs, self.design = needs, design
        self.groups, self.numbers = design.groups, board.numbers
        self.outside = needs.ever_on & needs.ever_off & ~design.inside & ~needs.left_alone
        self._sections = {song.id: song.sections for song in rig.songs}
        self.now: dict[str | None, int | None] = {
            preset.id: self._now(rig, preset) for preset in rig.presets
        }
        """Loops that make each preset of now; None where no loops do."""
        self.presets: list[Cube] = self._points()
        self.stored = len(self.presets)
        self.uses: dict[str, list[Use]] = {}
        played = 0
        self._fitting: dict[tuple[Cube, Cube], list[int]] = {}
        for song in needs.songs:
            control.stop_if_cancelled()
            if song.times:
                self.uses[song.song] = self._played(song, played)
                played += 1
        for song in needs.songs:
            control.stop_if_cancelled()
            if not song.times:
                self.uses[song.song] = self._unplayed(song)

    def _points(self) -> list[Cube]:
        """The presets of the design: where one is free, it is as its sections have it now.

        Loops toggled on top are written for presets whose free loops are off.
        """
        packing, needs = self.design.packing, self.needs
        cubes = packing.presets
        if not isinstance(packing, Packing):
            return [_point(cube) for cube in cubes]
        users = [Counter[str | None]() for _ in cubes]
        for song, row in zip(needs.played, packing.used):
            for sound, at in zip(song.sounds, row):
                users[at][self._sections[song.song][sound.section].preset] += song.times
        points: list[Cube] = []
        for at, cube in enumerate(cubes):
            others = (*points, *cubes[at + 1 :])
            fits = (self._as_now(cube, old_preset) for old_preset, _ in users[at].most_common())
            free = (
                point for point in fits if point and not any(point.meets(other) for other in others)
            )
            points.append(next(free, _point(cube)))
        return points

    def _now(self, rig: Rig, preset: Preset) -> int | None:
        """Loops that make a preset of now; None where no loops do."""
        mask = sum(self.needs.bit(pedal) for pedal in lookup(rig).preset_pedals(preset))
        mask &= self.design.inside
        on = sum(1 << at for at, group in enumerate(self.groups) if group & mask)
        whole = sum(group for at, group in enumerate(self.groups) if on >> at & 1)
        return on if whole == mask else None

    def _played(self, song: SongNeeds, at: int) -> list[Use]:
        packing = self.design.packing
        row = packing.used[at]
        plus = [0] * len(row)
        minus = [0] * len(row)
        if not isinstance(packing, Packing):
            for nth, mask in enumerate(packing.masks[at]):
                base = self.presets[row[nth]].on
                plus[nth], minus[nth] = mask & ~base, base & ~mask
        on = outside_on(song, self.outside)
        return [Use(*each) for each in zip(row, on, plus, minus)]

    def _unplayed(self, song: SongNeeds) -> list[Use]:
        """Songs that the evening does not play: as they are; else any preset that fits.

        A section on a kept preset stays on it, loops toggled on top where that is possible.
        """
        row: list[int] = []
        toggles: list[tuple[int, int]] = []
        sections = self._sections[song.song]
        for sound in song.sounds:
            cube = cube_of(sound, self.groups)
            if cube.channel >= KEPT:
                at, kept = next(
                    (nth, preset)
                    for nth, preset in enumerate(self.presets)
                    if preset.channel == cube.channel
                )
                row.append(at)
                toggles.append((cube.on & ~kept.on, cube.off & kept.on))
                continue
            toggles.append((0, 0))
            own = self._as_now(cube, sections[sound.section].preset)
            point = own or _point(cube)
            fits = self._fitting.get((cube, point))
            if fits is None:
                fits = [at for at, preset in enumerate(self.presets) if preset.within(cube)]
                same = [at for at in fits if self.presets[at].on == point.on]
                if own is not None:
                    fits = same
                if not fits:
                    self.presets.append(point)
                    self._fitting.clear()
                    fits = [len(self.presets) - 1]
                self._fitting[cube, point] = fits
            row.append(row[-1] if row and row[-1] in fits else fits[0])
        return [
            Use(at, on, *tops) for at, on, tops in zip(row, outside_on(song, self.outside), toggles)
        ]

    def _as_now(self, cube: Cube, preset: str | None) -> Cube | None:
        """The preset that a section is on now, if that will do on the new board."""
        on = self.now.get(preset)
        if on is None or cube.on & ~on or cube.off & on:
            return None
        return Cube(on, ~on, cube.channel)

    def pedal_in(self, group: int) -> str:
        """A pedal that stands for its loop in plus and minus."""
        return self.needs.names(self.groups[group])[0]

    def loops_of(self, cube: Cube) -> tuple[int, ...]:
        """Loop numbers of a preset, in order."""
        return tuple(sorted(number for at, number in enumerate(self.numbers) if cube.on >> at & 1))


def _point(cube: Cube) -> Cube:
    """A cube as a preset: what is free is off."""
    return Cube(cube.on, ~cube.on, cube.channel)


def outside_on(song: SongNeeds, outside: int) -> list[int]:
    """Outside pedals on in each section, of those of a mask: each waits until it is needed.

    It does not where that would be on the beat, as after a section that has no preset: then it is
    switched in the section before that leaves it free.
    """
    masks: list[int] = []
    state = 0
    if not song.cold:  # each as the first section that asks for anything of it asks
        for sound in reversed(song.sounds):
            state = (state & ~sound.off) | sound.on
    for sound in song.sounds:
        state = (state & ~sound.off) | sound.on
        masks.append(state & outside)
    for at in reversed(range(len(masks) - 1)):
        sound = song.sounds[at]
        sooner = ~(sound.on | sound.off | song.sounds[at + 1].soft)
        masks[at] = (masks[at] & ~sooner) | (masks[at + 1] & sooner)
    return masks
