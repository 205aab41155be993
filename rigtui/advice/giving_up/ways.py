"""How each section of a song could be played, and how many presses that puts on one beat.

A way is a preset with outside pedals on. The presses come from the state machine that counts
everything else; they do not depend on the memories, as bank steps are made ahead.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from functools import cached_property

from rigtui.advice.giving_up.prices import Heard
from rigtui.model.base import BY_FOOT
from rigtui.model.edits.folding import Switched, switched
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig, Section, Song
from rigtui.moves import Target, board_of, on_the_beat
from rigtui.moves.board import Waiting
from rigtui.moves.figures import State
from rigtui.moves.machine import power_on, set_up_on, step
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.result import PlanError

MOST_OUTSIDE = 4
"""Outside pedals of one song that are tried in every combination; above, as its sections ask."""

MOST_PRICES = 3_000_000
"""Ways of a song times its sections; a song with more is too long."""

MOST_WAYS = 160
"""Presets times combinations of outside pedals; above, the pedals only as its sections ask."""

Cost = tuple[int, int]
"""Extra presses of a change, and all its presses but bank steps."""


@dataclass(frozen=True, slots=True)
class WayToPlay:
    """One way to play a section."""

    number: int = field(compare=False)
    """Its number among all ways of the rig."""
    target: Target
    sound: int
    """Which of the rig's sounds its preset is, from 0."""
    channel: str | None
    """The amp channel that the foot has left, where it has a footswitch of its own."""

    @property
    def state(self) -> State:
        """The state of the board when the section is reached."""
        target = self.target
        bank = target.preset.bank or 0
        return State(bank, target.preset.place, target.mask, target.outside, self.channel)


@dataclass(frozen=True, slots=True)
class SectionWays:
    """A mapped section."""

    at: int
    """Its place in the song, from 0."""
    price: tuple[float, ...]
    """What each of the song's ways costs here; infinite where it is not allowed."""
    own: frozenset[int]
    """The ways that are as it is written now."""
    waiting: Waiting

    def is_home(self, way: int) -> bool:
        """Whether the section sounds as it wants to: then it may be left without a memory too."""
        return self.price[way] == 0


class Sounds:
    """The distinct sounds that a rig's memories are needed for."""

    def __init__(self, rig: Rig, songs: Collection[Song], control: Control | None = None) -> None:
        """List them.

        Args:
            rig: The rig.
            songs: The songs that need them.
            control: Stops all that is worked out of them.
        """
        self.control = control or Control()
        self.rig, self.board, self.known = rig, board_of(rig), lookup(rig)
        used = {section.preset for song in songs for section in song.sections}
        presets = [preset for preset in rig.presets if preset.id in used]
        keys = dict.fromkeys(self._key(switched(preset)) for preset in presets)
        self._place = {key: at for at, key in enumerate(keys)}
        self.presets = tuple(preset for preset in rig.presets if self.of(preset.id) is not None)
        self.ways: dict[WayToPlay, int] = {}
        """All ways of all songs, numbered."""
        self._changes: dict[tuple[int, int, Waiting], Cost | None] = {}

    def _key(self, raw: Switched) -> Switched:
        return (raw[0].intersection(self.known.loops), raw[1], raw[2])

    def __len__(self) -> int:
        return len(self._place)

    def of(self, preset_id: str) -> int | None:
        """Return which sound a preset is; None for one that the songs do not need."""
        return self._place.get(self._key(switched(self.known.presets[preset_id])))

    def change(self, before: WayToPlay, after: WayToPlay, waiting: Waiting) -> Cost | None:
        """Return what a change costs; None where it would leave the amp on another channel."""
        key = before.number, after.number, waiting
        if key not in self._changes:
            self._changes[key] = self.entered(before.state, after, waiting)
        return self._changes[key]

    def entered(self, state: State, after: WayToPlay, waiting: Waiting) -> Cost | None:
        """Return what it costs to go into a way from any state."""
        there, presses = step(self.board, state, after.target, waiting)
        if self.board.foot_channel and there.channel != after.channel:
            return None
        extra = max(0, len(on_the_beat(presses)) - 1)
        return extra, sum(press.kind != "bank" for press in presses)


class SongWays:
    """All ways to play one song."""

    def __init__(self, sounds: Sounds, song: Song, kept: Collection[str]) -> None:
        """List them.

        Args:
            sounds: The rig's sounds.
            song: The song.
            kept: Ids of presets whose sections stay as they are.

        Raises:
            Stopped: the time is up.
            PlanError: the song is too long.
        """
        self.song, self.sounds, self._board = song, sounds, sounds.board
        self.ways: list[WayToPlay] = []
        self._known: dict[WayToPlay, int] = {}
        rows = [
            (at, section, self._board.target(section)) for at, section in enumerate(song.sections)
        ]
        masks = self._outside_masks([target for _, _, target in rows if target is not None])
        if len(rows) * len(masks) * len(sounds.presets) > MOST_PRICES:
            raise too_long(song)
        priced = [
            (at, self._own(section, target), self._priced(section, target, masks, kept))
            for at, section, target in rows
            if target is not None
        ]
        never = float("inf")
        self.sections = tuple(
            SectionWays(
                at,
                tuple(price.get(way, never) for way in range(len(self.ways))),
                own,
                self._board.waiting(
                    song.sections[at - 1] if at else song.sections[0], song.sections[at]
                ),
            )
            for at, own, price in priced
        )

    def _outside_masks(self, targets: list[Target]) -> tuple[int, ...]:
        asked = dict.fromkeys((0, *(target.outside for target in targets)))
        every = 0
        for mask in asked:
            every |= mask
        ways = len(self.sounds.presets) << every.bit_count()
        if every.bit_count() > MOST_OUTSIDE or ways > MOST_WAYS:
            return tuple(asked)
        return tuple(mask for mask in range(every + 1) if not mask & ~every)

    def _own(self, section: Section, target: Target) -> frozenset[int]:
        return frozenset(self._listed(target, section.preset or ""))

    def _priced(
        self, section: Section, target: Target, masks: tuple[int, ...], kept: Collection[str]
    ) -> dict[int, float]:
        """What each way to play a section costs."""
        known, heard = self.sounds.known, Heard(self.sounds.known, section)
        preset_id = section.preset or ""
        preset = known.presets[preset_id]
        own = self._listed(target, preset_id)
        price = dict.fromkeys(own, heard.price(known.sound(section), preset))
        if preset_id in kept:
            return price
        rocked = self._rocked(section)
        loops_now = [pedal for pedal in known.sound(section) if pedal in known.loop_of]
        ways = [(target, preset, loops_now)]
        for other in self.sounds.presets:
            stored = self._board.by_id[other.id]
            plain = Target(stored, stored.mask, 0, 0, 0)
            ways.append((plain, other, list(known.preset_pedals(other))))
        for there, other, loops in ways:
            self.sounds.control.stop_if_over()
            for mask in masks:
                cost = heard.price((*loops, *rocked, *self.outside_names(mask)), other)
                for way in self._listed(there._replace(outside=mask), other.id):
                    price.setdefault(way, cost)
        return price

    def _rocked(self, section: Section) -> list[str]:
        pedals, loop_of = self.sounds.known.pedals, self.sounds.known.loop_of
        return [
            pedal
            for pedal in section.plus
            if pedal in pedals and pedal not in loop_of and pedals[pedal].used == BY_FOOT[1]
        ]

    def outside_names(self, mask: int) -> list[str]:
        """Return the ids of the outside pedals of a mask."""
        return [pedal for pedal, bit in self._board.outside_bit.items() if mask & bit]

    def _listed(self, target: Target, preset_id: str) -> list[int]:
        """Return the places of a target's ways, one for each channel that it can be played on."""
        sound = self.sounds.of(preset_id)
        assert sound is not None
        plain = Target(target.preset, target.mask, 0, target.outside, 0)
        places = []
        for channel in self._channels(plain):
            way = WayToPlay(len(self.sounds.ways), plain, sound, channel)
            number = self.sounds.ways.setdefault(way, way.number)
            if way not in self._known:
                self._known[way] = len(self.ways)
                self.ways.append(WayToPlay(number, plain, sound, channel))
            places.append(self._known[way])
        return places

    def _channels(self, target: Target) -> tuple[str | None, ...]:
        if not self._board.foot_channel:
            return (None,)
        if target.preset.channel is not None:
            return (target.preset.channel,)
        return tuple(dict.fromkeys((self._board.first_channel, *self._named_channels)))

    @cached_property
    def _named_channels(self) -> tuple[str, ...]:
        stored = self._board.stored
        return tuple(dict.fromkeys(row.channel for row in stored if row.channel is not None))

    def start(self, way: int) -> Cost | None:
        """Return what it costs to begin the song in a way; None where that is not possible."""
        there = self.ways[way]
        if self.sections[0].at:  # a section without a preset comes first: nothing is set up
            return self.sounds.entered(power_on(self._board), there, self.sections[0].waiting)
        channel = set_up_on(self._board, there.target).channel
        return (0, 0) if not self._board.foot_channel or channel == there.channel else None

    def change(self, before: int, after: int, waiting: Waiting) -> Cost | None:
        """Return what a change costs; None where it would leave the amp on another channel."""
        return self.sounds.change(self.ways[before], self.ways[after], waiting)


def too_long(song: Song) -> PlanError:
    """Say that a song can be played in too many ways to look at."""
    return PlanError(
        f'"{song.label}" can be played in more ways than rigtui can check: name a '
        "setlist without it"
    )
