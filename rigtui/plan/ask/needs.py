"""What the songs want: for each section the pedals on, the pedals off, and those left free.

The planner of loops starts from this alone; which preset or footswitch made the sound so far is
forgotten. Pedals are bits of a mask, in signal order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from rigtui.model.edits.folding import Recalled, recalled_by
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.midi import MidiSend
from rigtui.model.rig import Preset, Rig, Section, Song
from rigtui.model.text import visible
from rigtui.plan.ask.channels import ANY_CHANNEL, KEPT, named
from rigtui.plan.ask.checked import STAYS_OUT
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.result import PlanError

MOST_PEDALS = 60


@dataclass(frozen=True, slots=True)
class Sound:
    """What one section wants of pedals and amp."""

    on: int
    off: int
    channel: int
    """Which channel, or `ANY_CHANNEL`; from `KEPT` on, which kept preset."""
    section: int
    """The section's place in its song, from 0."""
    foot: int = 0
    """Presses of the channel's own footswitch on the way to it."""
    soft: int = 0
    """Pedals that need not be switched on the beat of the change to it, where they are outside."""
    kept: tuple[int, int] | None = None
    """Pedals on and off of the kept preset on which it stays, loops not being toggled."""

    @property
    def loops_on(self) -> int:
        """Pedals that are on, those that are in loops."""
        return self.on if self.kept is None else self.kept[0]

    @property
    def loops_off(self) -> int:
        """Pedals that are off, those that are in loops."""
        return self.off if self.kept is None else self.kept[1]


@dataclass(frozen=True, slots=True)
class SongNeeds:
    """The sounds of one song, in order."""

    song: str
    times: int
    """How often the evening plays it; 0 for songs that only must not be broken."""
    cold: bool
    """Whether it starts from power-on: its first section names no preset."""
    sounds: tuple[Sound, ...]


@dataclass(frozen=True)
class Needs:
    """All that the songs of a rig want, and where its pedals stand."""

    pedals: tuple[str, ...]
    """Ids in signal order, front before fx."""
    sides: tuple[str, ...]
    songs: tuple[SongNeeds, ...]
    channels: tuple[Recalled, ...]
    """The channels that `Sound.channel` counts; where presets differ in what they send over MIDI,
    a channel with other messages is another one, and none will do for any."""
    left_alone: int
    """Pedals that stay outside whatever the plan: see `STAYS_OUT`."""
    kept: dict[str, Sound] = field(default_factory=dict)
    """Presets that must stay as they are."""
    on_top: int = 0
    """Pedals that sections on those want otherwise than the preset: always outside."""

    @property
    def played(self) -> list[SongNeeds]:
        """Songs of the evening."""
        return [song for song in self.songs if song.times]

    def bit(self, pedal: str) -> int:
        """A pedal as a mask."""
        return 1 << self.pedals.index(pedal)

    def names(self, mask: int) -> list[str]:
        """Pedals of a mask, in signal order."""
        return [pedal for at, pedal in enumerate(self.pedals) if mask >> at & 1]

    def side_mask(self, side: str) -> int:
        """All pedals of a side."""
        return sum(1 << at for at, own_side in enumerate(self.sides) if own_side == side)

    def channel_name(self, channel: int) -> str | None:
        """The name of a channel of a sound; None where any will do, or none is named."""
        return None if channel == ANY_CHANNEL else self.channels[named(channel)][0]

    def messages(self, channel: int) -> tuple[MidiSend, ...]:
        """What is sent over MIDI with a channel of a sound; nothing where any channel will do."""
        return () if channel == ANY_CHANNEL else self.channels[named(channel)][1]

    def recalled(self, channel: int, like: Preset) -> Recalled:
        """What a preset on a channel sets besides the loops; its messages may be another's."""
        return (None, like.midi) if channel == ANY_CHANNEL else self.channels[named(channel)]

    def number_of(self, preset: Preset) -> int:
        """The channel of a preset; `ANY_CHANNEL` where no sound asks for it."""
        own = recalled_by(preset)
        return self.channels.index(own) if own in self.channels else ANY_CHANNEL

    def every_sound(self) -> list[Sound]:
        """All sounds, of songs that the evening does not play too."""
        return [*(sound for song in self.songs for sound in song.sounds), *self.kept.values()]

    @property
    def foot_moves(self) -> int:
        """Presses of the channel's own footswitch over the evening, whatever the loops."""
        return sum(song.times * sum(sound.foot for sound in song.sounds) for song in self.songs)

    @property
    def ever_on(self) -> int:
        """Pedals that some section wants on."""
        mask = 0
        for sound in self.every_sound():
            mask |= sound.on
        return mask

    @property
    def ever_off(self) -> int:
        """Pedals that some section wants off."""
        mask = 0
        for sound in self.every_sound():
            mask |= sound.off
        return mask


def needs_of(rig: Rig, evening: Evening, keep: Sequence[str] = ()) -> Needs:
    """Work out what the songs want.

    Args:
        rig: The rig.
        evening: The songs that count; all other songs of the rig must still sound right.
        keep: Presets that must stay as they are; their sections stay on them.

    Raises:
        PlanError: more pedals than can be planned, or there is no such preset to keep.
    """
    known = lookup(rig)
    if len(known.order) > MOST_PEDALS:
        raise PlanError(f"{len(known.order)} pedals are too many to plan: at most {MOST_PEDALS}")
    off_chain = {pedal.id for pedal in known.outside() if known.needs_no_chain(pedal)}
    pedals = tuple(
        pedal
        for side in ("front", "fx")
        for pedal in known.order
        if known.pedals[pedal].side == side and pedal not in off_chain
    )
    left_alone = {p.id for p in known.outside() if p.used in STAYS_OUT}
    reader = _NeedsReader(rig, known, pedals, left_alone, keep)
    songs = tuple(reader.song(song, evening.times.get(song.id, 0)) for song in rig.songs)
    return Needs(
        pedals=pedals,
        sides=tuple(known.pedals[pedal].side for pedal in pedals),
        songs=songs,
        channels=tuple(reader.channels),
        left_alone=reader.mask(left_alone),
        kept=reader.kept,
        on_top=reader.on_top,
    )


class _NeedsReader:
    def __init__(
        self,
        rig: Rig,
        known: Lookup,
        pedals: Sequence[str],
        left_alone: set[str],
        keep: Sequence[str],
    ) -> None:
        self.rig, self.known = rig, known
        self.bits = {pedal: 1 << at for at, pedal in enumerate(pedals)}
        self.all = self.mask(pedal for pedal in pedals if pedal not in left_alone)
        channels = rig.amp.channels
        self.first_channel = (channels[0] or None) if channels else None
        differ = len({preset.midi for preset in rig.presets}) > 1
        named = dict.fromkeys(recalled_by(preset) for preset in rig.presets)
        self.by_foot = rig.amp.channel_switch == "foot"
        # A channel that is switched by foot is left alone where a preset names none; one that is
        # stored with the preset may then be any, unless what is sent over MIDI tells presets apart.
        self.exact = self.by_foot or differ
        self.channels: list[Recalled] = [own for own in named if self.exact or own[0] is not None]
        if keep and not self.exact:  # a preset that is kept goes on naming no channel
            self.channels += [own for own in named if own[0] is None]
        self.toggling = rig.switcher is not None and rig.switcher.loop_switches
        self.kept = {
            preset_id: self._preset(preset_id, nth)
            for nth, preset_id in enumerate(dict.fromkeys(keep))
        }
        self.on_top = 0

    def mask(self, pedals: object) -> int:
        """Pedals as a mask."""
        mask = 0
        for pedal in pedals:  # type: ignore[attr-defined]
            mask |= self.bits.get(pedal, 0)
        return mask

    def _channel(self, preset: str) -> int:
        if preset in self.kept:
            return self.kept[preset].channel
        own = recalled_by(self.known.presets[preset])
        if own[0] is None and not self.exact:
            return ANY_CHANNEL
        return self.channels.index(own)

    def song(self, song: Song, times: int) -> SongNeeds:
        """The sounds of a song's mapped sections."""
        sounds: list[Sound] = []
        channel = self.first_channel
        for at, section in enumerate(song.sections):
            if section.preset not in self.known.presets:
                continue
            wanted = self.known.presets[section.preset].channel or None
            foot = 0
            if self.by_foot and wanted is not None:
                foot = int(at > 0 and wanted != channel)
                channel = wanted
            before = song.sections[at - 1] if at else None
            sounds.append(self._sound(section, before, at, foot))
        cold = bool(sounds) and sounds[0].section > 0
        return SongNeeds(song.id, times, cold, tuple(sounds))

    def _sound(self, section: Section, before: Section | None, at: int, foot: int) -> Sound:
        assert section.preset is not None
        on = self.mask(self.known.sound(section)) & self.all
        free = self.mask(section.may)
        on, off = on & ~free, self.all & ~on & ~free
        kept = None if self.toggling else self.kept.get(section.preset)
        loops = None
        if kept is not None:
            loops = kept.on, kept.off
            self.on_top |= on & kept.off | off & kept.on
        waits = (*section.may, *section.early, *(before.may if before is not None else ()))
        soft = self.mask(waits)
        return Sound(on, off, self._channel(section.preset), at, foot, soft, loops)

    def _preset(self, preset: str, nth: int) -> Sound:
        """A preset as a sound, nothing left free."""
        if preset not in self.known.presets:
            raise PlanError(f'there is no preset "{visible(preset)}" to keep')
        left_on = (p.id for p in self.known.outside() if p.used == "always")
        on = self.mask((*self.known.preset_pedals(self.known.presets[preset]), *left_on))
        channel = self.channels.index(recalled_by(self.known.presets[preset]))
        return Sound(on, self.all & ~on, channel + KEPT * (nth + 1), -1)
