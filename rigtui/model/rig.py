"""The rig as a value: every table of a rig file, frozen, with each key documented.

Nothing here knows of files or screens. A field's description is what the JSON Schema and the
rig file reference say of it.
"""

from __future__ import annotations

from datetime import date as Date
from typing import Annotated, Any

from pydantic import Field, Strict

from rigtui.model.banks import Ring, Spot, spot_of
from rigtui.model.base import (
    FAR,
    BankButtons,
    ChainItem,
    ChannelSwitch,
    Flag,
    HandKey,
    Id,
    Kind,
    LoopNumber,
    Many,
    Meter,
    Note,
    Number,
    RigTable,
    Role,
    SendLevel,
    SheetKind,
    Side,
    Tempo,
    Text,
    Use,
    Whole,
)
from rigtui.model.layout import Bench, Hole, PatchLead, Place, PlugKind, Reel
from rigtui.model.midi import MidiDevice, MidiSend

FORMAT = 1


class Amp(RigTable):
    """The amplifier."""

    name: Text = Field("", description="What you call the amp.")
    fx_loop: Flag = Field(True, description="Whether it has an effects loop.")
    send_level: SendLevel | None = Field(
        None, description="What level its effects loop sends: instrument or line."
    )
    channels: Many[Text] = Field(
        (), description="Its channels by name; the first is on at power-on."
    )
    channel_switch: ChannelSwitch = Field(
        "preset",
        description="How its channel changes: stored with the preset, or with a footswitch of its "
        "own.",
    )
    drive_channels: Many[Text] = Field((), description="Which of its channels distort.")


class Switcher(RigTable):
    """The programmable loop switcher."""

    name: Text = Field("", description="What you call it.")
    memories: Annotated[Whole, Field(ge=1, le=128)] = Field(
        description="How many presets it stores.", examples=[8]
    )
    bank_size: Annotated[Whole, Field(ge=1, le=128)] = Field(
        description="How many footswitches recall presets.", examples=[4]
    )
    bank_buttons: BankButtons = Field("up-down", description="Which bank buttons it has.")
    bank_wrap: Flag = Field(
        True,
        description="Whether the buttons go on from the last bank to the first; false: they stop "
        'at both ends (not with "up").',
    )
    loop_switches: Flag = Field(
        False, description="Whether one press can toggle one loop on top of the recalled preset."
    )
    switch_spacing_mm: Annotated[Number, Field(gt=0, le=1000)] | None = Field(
        None, description="Millimetres from the centre of one footswitch to the next."
    )
    between_loops: Flag = Field(
        False, description="Whether it has jacks between its loops for an outside pedal."
    )
    tuner_out: Flag = Field(
        False,
        description="Whether the tuner has its own jack, so that it need not stand in the chain.",
    )
    display_chars: Annotated[Whole, Field(ge=1, le=100)] | None = Field(
        None, description="How many characters of a preset's name its display shows."
    )

    @property
    def banks(self) -> int:
        """Banks there are, a part-filled one included."""
        return -(-self.memories // self.bank_size)

    @property
    def ring(self) -> Ring:
        """Its banks as its bank buttons step through them."""
        return Ring(self.banks, self.bank_buttons == "up", self.bank_wrap)

    @property
    def rooms(self) -> tuple[int, ...]:
        """How many memories each bank has."""
        size = self.bank_size
        return tuple(min(size, self.memories - bank * size) for bank in range(self.banks))

    def spot(self, memory: int) -> Spot:
        """Return the bank and footswitch of a memory, which is counted from 1."""
        return spot_of(memory, self.bank_size)

    def memory_at(self, spot: Spot) -> int:
        """Return the memory, from 1, of a bank and footswitch."""
        return spot.bank * self.bank_size + spot.switch + 1


class Pedal(RigTable):
    """One pedal, in a loop or outside."""

    id: Id = Field(description="The name that the rest of the file uses for it.", examples=["wah"])
    name: Text = Field("", description="What you call it; its id if left out.")
    kind: Kind = Field(description="What sort of pedal it is.", examples=["overdrive"])
    side: Side = Field(
        description="Before the amp's input (front) or in the amp's effects loop (fx).",
        examples=["front"],
    )
    use: Use | None = Field(
        None,
        description="Outside the loops only: foot (its own footswitch), treadle (on when you rock "
        "it: no press), always (left on), between (only between songs), home (not on "
        "the board tonight).",
    )
    delay_ms: Annotated[Number, Field(gt=0, le=60_000)] | None = Field(
        None, description="Its delay time, in milliseconds."
    )
    feedback: Annotated[Number, Field(ge=0, lt=1)] | None = Field(
        None,
        description="Share of each echo that is fed back, 0 to under 1. Count the repeats that "
        "you hear: 3 are about 0.2, 5 about 0.4, 7 about 0.5, 9 about 0.6.",
    )
    max_delay_ms: Annotated[Number, Field(gt=0, le=600_000)] | None = Field(
        None, description="Its longest delay time, in milliseconds."
    )
    tap: Flag = Field(False, description="Whether its time follows a tapped or clocked tempo.")
    subdivision: Meter | None = Field(
        None,
        description="The note it repeats when you tap it, as a fraction of a whole note.",
        examples=["3/16"],
    )
    decay_seconds: Annotated[Number, Field(gt=0, le=600)] | None = Field(
        None, description="Seconds until its reverb has faded by 60 dB (RT60)."
    )
    trails: Flag = Field(False, description="Whether its echoes ring on when you switch it out.")
    low_impedance: Flag = Field(False, description="Whether it wants the guitar straight (fuzz).")
    buffered: Flag = Field(False, description="Whether it buffers the signal while bypassed.")
    line_level: Flag = Field(False, description="Whether its input takes line level.")
    price: Annotated[Number, Field(ge=0, le=1000)] = Field(
        1, description="What it costs to leave it out of a bar, compared with other pedals."
    )
    note: Note = Field("", description="Free text.")

    @property
    def label(self) -> str:
        """Its name, or its id where it has none."""
        return self.name or self.id

    @property
    def used(self) -> Use:
        """How it is used where it is in no loop."""
        return self.use or ("between" if self.kind == "tuner" else "foot")


class Loop(RigTable):
    """One send and return pair of the switcher."""

    number: Annotated[Whole, Field(ge=1, le=99)] = Field(
        description="Its number on the switcher.", examples=[1]
    )
    side: Side = Field(
        description="Before the amp's input (front) or in the amp's effects loop (fx).",
        examples=["front"],
    )
    pedals: Many[Text] = Field((), description="Pedals in it, in signal order.")


class Chain(RigTable):
    """Signal order from the guitar: pedal ids outside the loops, and loop numbers."""

    front: Many[ChainItem] = Field((), description="From the guitar to the amp's input.")
    fx: Many[ChainItem] = Field((), description="From the amp's send to its return.")


class Preset(RigTable):
    """Which loops are on, and what belongs to the sound besides."""

    id: Id = Field(description="The name that songs use for it.", examples=["verse-clean"])
    name: Text = Field("", description="What you call it; its id if left out.")
    role: Role = Field("other", description="What the sound is for.")
    loops: Many[LoopNumber] = Field((), description="Numbers of the loops switched in.")
    memory: Annotated[Whole, Field(ge=1, le=FAR)] | None = Field(
        None, description="The memory that stores it. Without one it is planned, not stored yet."
    )
    copies: Many[Annotated[Whole, Field(ge=1, le=FAR)]] = Field(
        (), description="Further memories that store the same preset."
    )
    channel: Text | None = Field(None, description="The amp channel for this sound.")
    guitar_volume: Annotated[Number, Field(ge=0, le=10)] | None = Field(
        None, description="Where you set the guitar's volume, 0 to 10."
    )
    pickup: Text | None = Field(None, description="The pickup for this sound.")
    hands: Note = Field("", description="What your hands do.")
    midi: Many[MidiSend] = Field((), description="What it sends over MIDI, device by device.")
    note: Note = Field("", description="Free text.")

    @property
    def label(self) -> str:
        """Its name, or its id where it has none."""
        return self.name or self.id

    @property
    def memories(self) -> tuple[int, ...]:
        """All memories that store it, its own first, each once."""
        own = () if self.memory is None else (self.memory,)
        return tuple(dict.fromkeys((*own, *self.copies)))


class Wanted(RigTable):
    """What a section should sound like, if you play it with another sound."""

    pedals: Many[Text] = Field((), description="Ids of the pedals that should be on.")
    channel: Text | None = Field(None, description="The amp channel that should be on.")


class Section(RigTable):
    """A part of a song that is played with one sound."""

    name: Text = Field(description="What the band calls it.", examples=["Verse"])
    bars: Annotated[Number, Field(gt=0, le=100_000)] = Field(
        description="How many bars it lasts.", examples=[8]
    )
    preset: Text | None = Field(
        None, description="The preset's id; leave it out until you have chosen one."
    )
    plus: Many[Text] = Field((), description="Pedals switched on, on top of the preset.")
    minus: Many[Text] = Field((), description="Pedals switched out of the preset, with their loop.")
    may: Many[Text] = Field((), description="Pedals that may be on or off here.")
    early: Many[Text] = Field(
        (),
        description="Outside pedals that you switch ahead of this section, while the one before "
        "still sounds.",
    )
    wanted: Wanted | None = Field(
        None, description="What it should sound like, if you play it with another sound."
    )
    hands: Note = Field("", description="What your hands do here.")
    hands_seconds: Annotated[Number, Field(ge=0, le=3600)] | None = Field(
        None, description="Seconds for its hands note, instead of the player's figure."
    )
    tempo: Tempo | None = Field(None, description="Beats per minute, if different from the song's.")
    meter: Meter | None = Field(None, description="Meter, if different from the song's.")
    beat: Meter | None = Field(
        None, description="The note that tempo counts, if different from the song's."
    )
    rest_beats: Annotated[Number, Field(ge=0, le=10_000)] = Field(
        0, description="Beats just before this section in which you don't play."
    )
    guitar_volume: Annotated[Number, Field(ge=0, le=10)] | None = Field(
        None, description="The guitar's volume here, instead of the preset's."
    )
    pickup: Text | None = Field(None, description="The pickup here, instead of the preset's.")
    preset_hands: Note = Field(
        "", description="What the preset's hands note becomes here; it counts as no hand move."
    )
    ignores: Many[HandKey] = Field(
        (), description="Which of the preset's guitar_volume, pickup and hands don't hold here."
    )
    cue: Text = Field("", description="What you hear just before it.")
    until: Text = Field(
        "", description="The section repeats until this cue; its bars are then a guess."
    )


class Song(RigTable):
    """A song: its sections in order."""

    id: Id = Field(description="The name that setlists use for it.", examples=["low-fen"])
    title: Text = Field("", description="Its title; its id if left out.")
    tempo: Tempo = Field(description="Beats per minute.", examples=[118])
    meter: Meter = Field("4/4", description="Its meter.")
    beat: Meter | None = Field(None, description='The note that tempo counts, e.g. "1/4".')
    guitar: Text | None = Field(None, description="The guitar you play it on.")
    tuning: Text | None = Field(None, description="Tuning.")
    capo: Annotated[Whole, Field(ge=0, le=24)] | None = Field(
        None, description="Fret of the capo; 0 is none."
    )
    gap_seconds: Annotated[Number, Field(ge=0, le=7200)] | None = Field(
        None, description="Seconds from its end to the start of the next song."
    )
    click: Flag | None = Field(
        None, description="Whether you play it to a click; as in player if left out."
    )
    sections: Many[Section] = Field((), description="Its sections in order.")
    note: Note = Field("", description="Free text.")

    @property
    def label(self) -> str:
        """Its title, or its id where it has none."""
        return self.title or self.id


class Set(RigTable):
    """Songs played without a break."""

    name: Text = Field("", description="What you call it.")
    songs: Many[Text] = Field(description="Ids of its songs, in order.", examples=[["low-fen"]])
    slot_minutes: Annotated[Number, Field(gt=0, le=1440)] | None = Field(
        None, description="Minutes that the venue gives you."
    )


class Setlist(RigTable):
    """An evening: one or more sets."""

    id: Id = Field(description="The name that commands use for it.", examples=["friday"])
    name: Text = Field("", description="What you call it; its id if left out.")
    date: Annotated[Date, Strict()] | None = Field(None, description="The day of the gig.")
    sets: Many[Set] = Field((), description="Its sets in order.")
    note: Note = Field("", description="Free text.")

    @property
    def label(self) -> str:
        """Its name, or its id where it has none."""
        return self.name or self.id

    @property
    def song_ids(self) -> tuple[str, ...]:
        """Ids of all its songs in order, repeats included."""
        return tuple(song for part in self.sets for song in part.songs)


class Waiver(RigTable):
    """A finding that the player accepts."""

    rule: Text = Field(description="Id of the rule.", examples=["gate-on-clean"])
    where: Text = Field(description="Where the finding is.", examples=["presets.verse-clean"])
    reason: Note = Field("", description="Why you accept it.")


class Printed(RigTable):
    """A sheet that is on paper: what it says may be older than the plan."""

    sheet: SheetKind = Field(description="Which sheet it is.", examples=["floor"])
    setlist: Text | None = Field(None, description="Id of the setlist it is for.")
    revision: Text = Field(description="The revision printed on it.", examples=["3f09c2a"])
    date: Annotated[Date, Strict()] | None = Field(None, description="The day printed on it.")


def _seconds(default: float, description: str) -> Any:
    return Field(default, ge=0, le=3600, description=description)


class Player(RigTable):
    """How long your own actions take, and how much you allow. All of it is yours to measure."""

    press_seconds: Number = _seconds(0.5, "Seconds for each press that you make ahead of a change.")
    extra_press_seconds: Number = _seconds(
        0.5, "Seconds for each press of a change after its first."
    )
    far_press_seconds: Number = _seconds(
        1.0, "Seconds for such a press when your foot leaves the switcher or comes back to it."
    )
    pickup_seconds: Number = _seconds(0.3, "Seconds to change the pickup.")
    volume_seconds: Number = _seconds(0.5, "Seconds to set the guitar's volume.")
    hands_seconds: Number = _seconds(0, "Seconds for a hands note, if the section gives none.")
    capo_seconds: Number = _seconds(8, "Seconds to put a capo on or off.")
    retune_seconds: Number = _seconds(10, "Seconds to retune one string.")
    guitar_seconds: Number = _seconds(30, "Seconds to change guitars.")
    gap_seconds: Number = _seconds(15, "Seconds between two songs, if the first gives no gap.")
    lead_in_beats: Annotated[Number, Field(ge=0, le=64)] = Field(
        1, description="Beats before a change in which you can already move."
    )
    moves_allowed: Annotated[Whole, Field(ge=0, le=20)] = Field(
        1, description="Moves on the beat that you allow in one change."
    )
    tail_floor_db: Annotated[Number, Field(gt=0, le=120)] = Field(
        40, description="How many dB an echo must have faded before nobody misses it."
    )
    extra_press_weight: Annotated[Number, Field(ge=0, le=1000)] = Field(
        3, description="How many moves one more press on a beat is worth when plans are compared."
    )
    click: Flag = Field(False, description="Whether you play to a click.")
    shoe_mm: Annotated[Number, Field(gt=0, le=300)] | None = Field(
        None, description="Millimetres across the front of your shoe."
    )


class Rig(RigTable):
    """One rig file: board, presets, songs, setlists."""

    format: Annotated[Whole, Field(ge=1, le=FORMAT)] = Field(
        description="Version of the file format.", examples=[FORMAT]
    )
    name: Text = Field(description="What you call the rig.", examples=["My rig"])
    note: Note = Field("", description="Free text.")
    deputy_note: Note = Field("", description="What somebody who stands in for you should know.")
    amp: Amp = Field(Amp(), description="The amplifier.")
    switcher: Switcher | None = Field(None, description="The loop switcher.")
    pedals: Many[Pedal] = Field((), description="All pedals, in loops and outside.")
    loops: Many[Loop] = Field((), description="The switcher's loops.")
    chain: Chain = Field(Chain(), description="Signal order.")
    presets: Many[Preset] = Field((), description="The presets.")
    songs: Many[Song] = Field((), description="The songs.")
    setlists: Many[Setlist] = Field((), description="The setlists.")
    player: Player = Field(Player(), description="The player's own figures.")
    waivers: Many[Waiver] = Field((), description="Findings that you accept.")
    midi: Many[MidiDevice] = Field((), description="MIDI devices.")
    printed: Many[Printed] = Field((), description="Sheets you have printed.")
    bench: Bench = Field(Bench(), description="The board you build on, and its cable.")
    places: Many[Place] = Field((), description="Where each device stands on the board.")
    holes: Many[Hole] = Field((), description="Holes in the board for leads.")
    plugs: Many[PlugKind] = Field((), description="Plugs as you measured them.")
    reels: Many[Reel] = Field((), description="Cable you have.")
    patch_leads: Many[PatchLead] = Field(
        (), description="Patch leads you measured, made or tested."
    )
