"""The board as the counting sees it: presets as bit masks of loops, banks from 0, switches from 1.

A `Board` is made once for each state of the tables that it reads and remembered, so that after
an edit of one song every other song's count still stands.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from rigtui.model.banks import Ring
from rigtui.model.remembered import Remembered
from rigtui.model.rig import Preset, Rig, Section
from rigtui.moves.carried import carry_over
from rigtui.moves.press import Press, Presses

if TYPE_CHECKING:
    from rigtui.model.rig import Song
    from rigtui.moves.carried import Needs
    from rigtui.moves.count import SongCount
    from rigtui.moves.machine import State


class Stored(NamedTuple):
    """A preset as the switcher would recall it."""

    place: int
    bank: int | None
    """Bank from 0; None while no memory holds it."""
    switch: int
    """Footswitch from 1; 0 while no memory holds it."""
    mask: int
    channel: str | None


class Target(NamedTuple):
    """What a section asks of the feet."""

    preset: Stored
    mask: int
    """Loops on: the preset's, with plus and minus."""
    fixed: int
    """Loops that may not differ from `mask` (those with a pedal outside `may`)."""
    outside: int
    """Outside pedals on."""
    outside_fixed: int
    """Outside pedals that may not differ from `outside`."""


class Board:
    """Masks and look-ups of one rig's switcher, loops, pedals and presets."""

    def __init__(self, rig: Rig) -> None:
        switcher = rig.switcher
        self.switcher = switcher
        self.ring = switcher.ring if switcher else Ring(1)
        self.toggling = bool(switcher and switcher.loop_switches)
        self.foot_channel = rig.amp.channel_switch == "foot"
        self.first_channel = (rig.amp.channels[0] or None) if rig.amp.channels else None
        self.memories = switcher.memories if switcher else 128
        self.loop_numbers = tuple(loop.number for loop in rig.loops)
        bit = {number: 1 << at for at, number in enumerate(self.loop_numbers)}
        self.loop_bit = bit
        self.loop_of: dict[str, int] = {}
        for loop in reversed(rig.loops):
            self.loop_of.update(dict.fromkeys(loop.pedals, loop.number))
        self.outside = tuple(
            pedal.id
            for pedal in rig.pedals
            if pedal.id not in self.loop_of and pedal.used == "foot"
        )
        self.outside_bit = {pedal: 1 << at for at, pedal in enumerate(self.outside)}
        self._all_loops = sum(bit[loop.number] for loop in rig.loops if loop.pedals)
        pedals = ((bit[loop.number], frozenset(loop.pedals)) for loop in rig.loops)
        self._loop_pedals = [(mask, inside) for mask, inside in pedals if inside]
        self._all_outside = (1 << len(self.outside)) - 1
        self.stored = tuple(self._store(at, preset) for at, preset in enumerate(rig.presets))
        self.by_id = {preset.id: stored for preset, stored in zip(rig.presets, self.stored)}
        self.preset_ids = tuple(preset.id for preset in rig.presets)
        different = {(one.bank, one.mask, one.channel): one for one in reversed(self.stored)}
        self.choices = tuple(different.values())
        """Presets that differ in what a recall does."""
        self.steps = self.ring.table
        """Bank steps from each bank to each."""
        self.crowded = False
        """Whether least moves are better counted by stretches: too many ways lie open."""
        # What the counting has worked out on this board, by the song's identity.
        self.counts: dict[int, tuple[Song, SongCount]] = {}
        self.written: dict[int, tuple[Song, int, State]] = {}
        self.walks: dict[tuple[int, State], tuple[Song, State, Presses]] = {}
        self.needs: dict[int, tuple[Song, Needs]] = {}

    def _store(self, index: int, preset: Preset) -> Stored:
        mask = 0
        for number in preset.loops:
            mask |= self.loop_bit.get(number, 0)
        channel = preset.channel or None  # an empty name names no channel
        if preset.memory is None or preset.memory > self.memories:
            return Stored(index, None, 0, mask, channel)
        switcher = self.switcher
        bank, switch = switcher.spot(preset.memory) if switcher else (0, preset.memory - 1)
        return Stored(index, bank, switch + 1, mask, channel)

    def target(self, section: Section) -> Target | None:
        """Return what a section asks for, or None where it names no preset that exists."""
        stored = self.by_id.get(section.preset) if section.preset is not None else None
        if stored is None:
            return None
        if not (section.plus or section.minus or section.may):
            return Target(stored, stored.mask, self._all_loops, 0, self._all_outside)
        mask, outside = stored.mask, 0
        for pedal in section.plus:
            outside |= self.outside_bit.get(pedal, 0)
            if self.toggling and pedal in self.loop_of:
                mask |= self.loop_bit[self.loop_of[pedal]]
        if self.toggling:
            for pedal in section.minus:
                if pedal in self.loop_of:
                    mask &= ~self.loop_bit[self.loop_of[pedal]]
        fixed, outside_fixed = self._all_loops, self._all_outside
        if section.may:
            may = frozenset(section.may)
            for pedal in may:
                outside_fixed &= ~self.outside_bit.get(pedal, 0)
            for bit, pedals in self._loop_pedals:
                if pedals <= may:
                    fixed &= ~bit
        return Target(stored, mask, fixed, outside, outside_fixed)

    def pedal_presses(self, flips: int) -> list[Press]:
        """Return the presses that switch the outside pedals of a mask, in the file's order."""
        return [Press("pedal", name) for name in self.outside if flips & self.outside_bit[name]]

    def names(self, mask: int) -> list[int]:
        """Return the numbers of the loops in a mask, in the file's order."""
        return [number for number in self.loop_numbers if mask & self.loop_bit[number]]


# A check tries each pedal outside: rigs on trial must not push out the rig itself.
_boards: Remembered[Board] = Remembered(24)


def board_of(rig: Rig) -> Board:
    """Return the rig's board, the very same one as long as nothing that it reads has changed."""
    parts = (rig.amp, rig.switcher, rig.pedals, rig.loops, rig.presets)
    return _boards.get(parts, lambda: _new_board(rig, parts))


def _new_board(rig: Rig, parts: tuple[Any, ...]) -> Board:
    board = Board(rig)
    latest = _boards.latest(parts[:-1])
    if latest is not None:
        (*_, presets), old = latest
        carry_over(rig.songs, board, rig.presets, old, presets)
    return board
