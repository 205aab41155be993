"""The board as the counting sees it: presets as bit masks of loops, banks from 0, switches from 1.

A `Board` is made once for each state of the tables that it reads and remembered (`boards`), with
all that the counting has worked out on it: after an edit of one song every other song's count
still stands.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from rigtui.model.banks import Ring, spot_of
from rigtui.model.midi import MidiSend
from rigtui.model.playable import in_range, unplayable_presets
from rigtui.model.rig import Preset, Rig, Section, Song
from rigtui.moves.figures import DependsOn, SongCount, SongWritten, State
from rigtui.moves.press import Press, Presses, PressTime


class Stored(NamedTuple):
    """A preset as the switcher recalls it from one memory."""

    place: int
    bank: int | None
    """Bank from 0; None while no memory holds it."""
    switch: int
    """Footswitch from 1; 0 while no memory holds it."""
    mask: int
    channel: str | None
    messages: int = 0
    """Presets with the same number send the same over MIDI; 0 sends nothing."""


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


class Waiting(NamedTuple):
    """Outside pedals, as masks, that need not be switched at a change itself."""

    ahead: int = 0
    """Those that can be switched while the section before still sounds."""
    later: int = 0
    """Those that can be switched in the section entered only."""

    def when(self, bit: int) -> PressTime:
        """Return when one of the pedals is switched."""
        return "ahead" if self.ahead & bit else "later" if self.later & bit else "now"


NO_WAITING = Waiting()


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
        self._messages: dict[tuple[MidiSend, ...], int] = {(): 0}
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
        self.copies = tuple(self._copies(at, preset) for at, preset in enumerate(rig.presets))
        """Each preset from all of its memories, the lowest first."""
        self.stored = tuple(copies[0] for copies in self.copies)
        """Each preset from its lowest memory."""
        self.unplayable = unplayable_presets(rig)
        """Ids of the presets whose sound no memory holds."""
        self.by_id = {preset.id: stored for preset, stored in zip(rig.presets, self.stored)}
        self.preset_ids = tuple(preset.id for preset in rig.presets)
        recalls = (copy for copies in reversed(self.copies) for copy in reversed(copies))
        different = {(copy.bank, copy.mask, copy.channel): copy for copy in recalls}
        self.choices = tuple(different.values())
        """Presets, and copies of them, that differ in what a recall does."""
        self.steps = self.ring.table
        """Bank steps from each bank to each."""
        self.crowded = False
        """Whether least moves are better counted by stretches: too many ways lie open."""
        # What the counting has worked out on this board, by the song's identity.
        self.counts: dict[int, tuple[Song, SongCount]] = {}
        self.written: dict[int, SongWritten] = {}
        self.walks: dict[tuple[int, State], tuple[Song, State, Presses]] = {}
        self.needs: dict[int, tuple[Song, DependsOn]] = {}

    def _copies(self, index: int, preset: Preset) -> tuple[Stored, ...]:
        mask = 0
        for number in preset.loops:
            mask |= self.loop_bit.get(number, 0)
        channel = preset.channel or None  # an empty name names no channel
        size = self.switcher.bank_size if self.switcher else self.memories
        spots = [spot_of(memory, size) for memory in sorted(in_range(preset, self.memories))]
        messages = self._messages.setdefault(preset.midi, len(self._messages))
        return tuple(
            Stored(index, bank, switch + 1, mask, channel, messages) for bank, switch in spots
        ) or (Stored(index, None, 0, mask, channel, messages),)

    def nearest(self, place: int, bank: int) -> Stored:
        """Return a preset from its memory with the fewest bank steps, of equals the lowest."""
        copies, steps = self.copies[place], self.steps[bank]
        if len(copies) == 1:
            return copies[0]
        return min(copies, key=lambda copy: steps[copy.bank or 0])

    def waiting(self, before: Section, after: Section) -> Waiting:
        """Return the outside pedals that need not be switched at a change itself.

        They are those that the section entered lists in `early`, and those that either section
        lists in `may`.
        """
        if not (after.early or after.may or before.may):
            return NO_WAITING
        ahead = self._outside_mask(after.early) | self._outside_mask(before.may)
        return Waiting(ahead, self._outside_mask(after.may) & ~ahead)

    def _outside_mask(self, pedals: Iterable[str]) -> int:
        mask = 0
        for pedal in pedals:
            mask |= self.outside_bit.get(pedal, 0)
        return mask

    def target(self, section: Section) -> Target | None:
        """Return what a section asks for, or None where it names no preset that exists."""
        stored = self.by_id.get(section.preset) if section.preset is not None else None
        if stored is None:
            return None
        if not (section.plus or section.minus or section.may):
            return Target(stored, stored.mask, self._all_loops, 0, self._all_outside)
        mask, outside = stored.mask, self._outside_mask(section.plus)
        for pedal in section.plus:
            if self.toggling and pedal in self.loop_of:
                mask |= self.loop_bit[self.loop_of[pedal]]
        if self.toggling:
            for pedal in section.minus:
                if pedal in self.loop_of:
                    mask &= ~self.loop_bit[self.loop_of[pedal]]
        fixed, outside_fixed = self._all_loops, self._all_outside
        if section.may:
            may = frozenset(section.may)
            outside_fixed &= ~self._outside_mask(may)
            for bit, pedals in self._loop_pedals:
                if pedals <= may:
                    fixed &= ~bit
        return Target(stored, mask, fixed, outside, outside_fixed)

    def pedal_presses(self, flips: int, waiting: Waiting = NO_WAITING) -> list[Press]:
        """Return the presses that switch the outside pedals of a mask, in the file's order.

        Args:
            flips: The pedals.
            waiting: Pedals that need not be switched at the change itself.
        """
        return [
            Press("pedal", name, waiting.when(bit))
            for name, bit in self.outside_bit.items()
            if flips & bit
        ]

    def names(self, mask: int) -> list[int]:
        """Return the numbers of the loops in a mask, in the file's order."""
        return [number for number in self.loop_numbers if mask & self.loop_bit[number]]
