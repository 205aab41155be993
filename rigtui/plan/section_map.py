"""How each section of each song is played with a design: its preset, and pedals on top."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.plan.control import Control
from rigtui.plan.cubes import Cube
from rigtui.plan.designs import Design
from rigtui.plan.loop_costs import cube_of
from rigtui.plan.needs import Needs, SongNeeds
from rigtui.plan.packing import Packing
from rigtui.plan.rebuild_board import Board


@dataclass(frozen=True, slots=True)
class Use:
    """How one section is played: the preset's place, and pedals on top of it or out of it."""

    preset: int
    on: int
    """Outside pedals on."""
    plus: int
    """Loops toggled in."""
    minus: int


class SectionMap:
    """How each section of each song is played, and the presets that takes."""

    def __init__(self, needs: Needs, design: Design, board: Board, control: Control) -> None:
        self.needs, self.design = needs, design
        self.groups, self.numbers = design.groups, board.numbers
        self.outside = needs.ever_on & needs.ever_off & ~design.inside & ~needs.between
        self.presets: list[Cube] = [_point(one) for one in design.packing.presets]
        self.stored = len(self.presets)
        self.uses: dict[str, list[Use]] = {}
        played = 0
        self._fitting: dict[Cube, list[int]] = {}
        for song in needs.songs:
            control.heed()
            if song.times:
                self.uses[song.song] = self._played(song, played)
                played += 1
        for song in needs.songs:
            control.heed()
            if not song.times:
                self.uses[song.song] = self._unplayed(song)

    def _played(self, song: SongNeeds, at: int) -> list[Use]:
        packing = self.design.packing
        row = packing.used[at]
        plus = [0] * len(row)
        minus = [0] * len(row)
        if not isinstance(packing, Packing):
            for nth, mask in enumerate(packing.masks[at]):
                base = self.presets[row[nth]].on
                plus[nth], minus[nth] = mask & ~base, base & ~mask
        on = self._outside(song)
        return [Use(*one) for one in zip(row, on, plus, minus)]

    def _unplayed(self, song: SongNeeds) -> list[Use]:
        """Songs that the evening does not play: any preset that fits, or a new one."""
        row: list[int] = []
        for sound in song.sounds:
            cube = cube_of(sound, self.groups)
            fits = self._fitting.get(cube)
            if fits is None:
                fits = [at for at, one in enumerate(self.presets) if one.within(cube)]
                self._fitting[cube] = fits
            if not fits:
                self.presets.append(_point(cube))
                self._fitting = {cube: [len(self.presets) - 1]}
                fits = self._fitting[cube]
            row.append(row[-1] if row and row[-1] in fits else fits[0])
        return [Use(at, on, 0, 0) for at, on in zip(row, self._outside(song))]

    def _outside(self, song: SongNeeds) -> list[int]:
        """Outside pedals on in each section: each waits until it is needed."""
        masks: list[int] = []
        state = 0
        if not song.cold:  # each as the first section that asks for anything of it asks
            for sound in reversed(song.sounds):
                state = (state & ~sound.off) | sound.on
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
