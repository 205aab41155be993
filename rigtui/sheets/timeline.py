"""A song or an evening on a time line of ticks: tempi, meters, sections, and when presets come in.

Every section is a whole number of ticks; where its bars are no such number, its tempo makes up for
that. A Standard MIDI File says tempo in whole microseconds per quarter note, which is a little off;
the error is carried along, and the neighbouring whole number is used for a while whenever it would
come to a quarter of a tick, so that an evening ends when it should.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import NamedTuple

from rigtui.model.errors import RigError
from rigtui.model.lookup import lookup
from rigtui.model.rig import Preset, Rig, Section, Setlist, Song
from rigtui.model.text import visible
from rigtui.model.wire import Message, preset_messages
from rigtui.moves.clock import beat_of, meter_of, tempo_of

TICKS = 480
"""Ticks per quarter note; every note down to a 64th is a whole number of them."""
LONGEST = 0x0FFFFFFF
"""Most ticks between two events. Source: SMF 1.1, the largest variable-length quantity."""
SLOWEST = 0xFFFFFF
"""Most microseconds per quarter note. Source: SMF 1.1, set tempo has three bytes."""
CLOCKS = 24
"""MIDI clocks in a quarter note. Source: SMF 1.1, time signature."""
_MINUTE = 60_000_000
_MOST_EVENTS = 200_000


class MidiError(RigError, ValueError):
    """Something that no MIDI file can hold, with the reason in the player's words."""


class Tempo(NamedTuple):
    """From a tick on, a quarter note lasts so long."""

    tick: int
    microseconds: int


class Meter(NamedTuple):
    """From a tick on, bars are like this; a bar line stands at the tick."""

    tick: int
    upper: int
    lower: int
    clocks: int
    """MIDI clocks in one click of the metronome, which is the beat that the tempo counts."""


class Mark(NamedTuple):
    """A section begins."""

    tick: int
    text: str


class Cue(NamedTuple):
    """A preset comes in, and its messages go out."""

    tick: int
    """When the messages go out: ahead of the section by the lead, where there is room for it."""
    song: Song
    at: int
    """The section, from 0."""
    preset: Preset
    messages: tuple[Message, ...]


@dataclass
class Timeline:
    """Everything that a MIDI file of a song or an evening says, in ticks."""

    name: str
    tempi: list[Tempo] = field(default_factory=list)
    meters: list[Meter] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    starts: list[Mark] = field(default_factory=list)
    """Where the songs of an evening begin; none for a single song."""
    cues: list[Cue] = field(default_factory=list)
    end: int = 0


def song_timeline(rig: Rig, song: Song, lead_ms: float = 0) -> Timeline:
    """Lay one song out.

    Args:
        rig: The rig, for its presets and MIDI devices.
        song: The song.
        lead_ms: How long before its section a preset's messages go out.

    Raises:
        MidiError: a tempo or a length that a MIDI file cannot say.
    """
    writer = _Writer(rig, song.label, lead_ms)
    writer.song(song)
    return writer.done()


def setlist_timeline(rig: Rig, setlist: Setlist, lead_ms: float = 0) -> Timeline:
    """Lay an evening out, songs one after another with their gaps; so does a break between sets.

    Raises:
        MidiError: a tempo or a length that a MIDI file cannot say.
    """
    writer = _Writer(rig, setlist.label, lead_ms)
    songs = lookup(rig).songs
    played = [songs[song_id] for song_id in setlist.song_ids if song_id in songs]
    for at, song in enumerate(played):
        writer.start(song)
        writer.song(song)
        if at + 1 < len(played):
            own = song.gap_seconds
            writer.gap(rig.player.gap_seconds if own is None else own)
    return writer.done()


def without_device(rig: Rig) -> str:
    """What to know of a file that sends no preset, as the rig describes no MIDI device; or ""."""
    if rig.midi:
        return ""
    return (
        "The rig has no MIDI device ([[midi]] in its file), so the file has only "
        "tempo, meter and section names"
    )


class _Writer:
    """Walks along the songs and writes down what happens."""

    def __init__(self, rig: Rig, name: str, lead_ms: float) -> None:
        self._line = Timeline(name)
        self._rig = rig
        self._presets = lookup(rig).presets
        self._lead = Fraction(lead_ms) * 1000
        self._tick = 0
        self._off = Fraction(0)
        """Microseconds by which the written tempi are behind the true time."""
        self._whole = True
        """Whether a bar line stands here."""
        self._recalled: Preset | None = None
        self._earliest = 0
        """Tick before which the next cue may not go out."""

    def done(self) -> Timeline:
        """Return the finished line."""
        line = self._line
        line.end = self._tick
        return line

    def start(self, song: Song) -> None:
        """A song of an evening begins: it is set up afresh, whatever came before."""
        self._line.starts.append(Mark(self._tick, song.label))
        self._recalled = None
        self._whole = False

    def song(self, song: Song) -> None:
        """Write a song down."""
        for at, section in enumerate(song.sections):
            self._meter(song, section)
            self._cue(song, at, section)
            self._line.marks.append(Mark(self._tick, section.name))
            bars = Fraction(section.bars)
            quarter = Fraction(_MINUTE) / Fraction(tempo_of(song, section))
            quarter /= beat_of(song, section) * 4
            length = bars * Fraction(meter_of(song, section)) * 4
            self._time(length, quarter, f"{visible(section.name)} of {visible(song.label)}")
            self._whole = bars.denominator == 1

    def gap(self, seconds: float) -> None:
        """Write a pause down: bars of one beat each, as many as it has seconds, rounded up."""
        if not seconds:
            return
        beats = -(-Fraction(seconds) // 1)
        self._put_meter(1, 4, CLOCKS)
        self._time(Fraction(beats), Fraction(seconds) * 1_000_000 / beats, "a gap")

    def _meter(self, song: Song, section: Section) -> None:
        upper, lower = (int(part) for part in meter_of(song, section).split("/"))
        clocks = round(beat_of(song, section) * 4 * CLOCKS)
        self._put_meter(upper, lower, max(1, min(255, clocks)))

    def _put_meter(self, upper: int, lower: int, clocks: int) -> None:
        meters, meter = self._line.meters, Meter(self._tick, upper, lower, clocks)
        if not self._whole or not meters or meters[-1][1:] != meter[1:]:
            meters.append(meter)
        self._whole = True

    def _cue(self, song: Song, at: int, section: Section) -> None:
        preset = self._presets.get(section.preset or "")
        if preset is None or preset is self._recalled:
            return
        self._recalled = preset
        messages = preset_messages(self._rig, preset)
        if messages:
            tick = max(self._earliest, self._ahead())
            self._line.cues.append(Cue(tick, song, at, preset, messages))
            self._earliest = self._tick

    def _ahead(self) -> int:
        """The tick that is the lead before here, by the tempi that lead up to here."""
        tick, left = Fraction(self._tick), self._lead
        for tempo in reversed(self._line.tempi):
            per_tick = Fraction(tempo.microseconds, TICKS)
            if left <= (tick - tempo.tick) * per_tick:
                return round(tick - left / per_tick)
            left -= (tick - tempo.tick) * per_tick
            tick = Fraction(tempo.tick)
        return 0

    def _time(self, length: Fraction, quarter: Fraction, what: str) -> None:
        """Let time pass: some quarter notes of some microseconds each."""
        if quarter > SLOWEST:
            slowest = float(Fraction(_MINUTE, SLOWEST))
            raise MidiError(
                f"{what} is too slow for a MIDI file, which begins at {slowest:.2f} quarter notes "
                "per minute"
            )
        if self._tick + length * TICKS > LONGEST:
            raise MidiError(f"{what} makes the file too long for MIDI")
        ticks = max(1, round(length * TICKS))
        quarter *= length * TICKS / ticks
        for quarters, microseconds in _rounded(Fraction(ticks, TICKS), quarter, self._off):
            tempi, tempo = self._line.tempi, Tempo(self._tick, microseconds)
            if tempi and tempi[-1].tick == tempo.tick:
                tempi.pop()
            if not tempi or tempi[-1].microseconds != microseconds:
                tempi.append(tempo)
                if len(tempi) > _MOST_EVENTS:
                    raise MidiError(f"{what} is too fast for a MIDI file to keep time")
            self._tick += int(quarters * TICKS)
            self._off += quarters * (microseconds - quarter)


def _rounded(length: Fraction, quarter: Fraction, off: Fraction) -> Iterator[tuple[Fraction, int]]:
    """Give stretches of quarter notes with a whole number of microseconds each.

    The nearest whole number holds for as long as the error stays within a quarter of a tick, then
    its neighbour on the other side for as long as that takes to bring it back.
    """
    near = max(1, round(quarter))
    other = max(1, near + (1 if near < quarter else -1))
    limit = quarter / TICKS / 4
    left = length
    use = near if off * (near - quarter) <= 0 or abs(off) < limit else other
    while left > 0:
        error = use - quarter
        if not error or near == other:
            stretch = left
        else:
            goal = limit if error > 0 else -limit
            # Whole quarter notes, so that a tempo never changes inside one of them.
            stretch = min(left, Fraction(max(1, int((goal - off) / error))))
        yield stretch, use
        off += stretch * error
        left -= stretch
        use = other if use == near else near
