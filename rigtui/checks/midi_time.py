"""MIDI that comes late: bursts that take long on the wire, devices that take long to load."""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.checks.demand import say_seconds, window_seconds
from rigtui.checks.evening import stops
from rigtui.checks.finding import Hit, RigView, Rule
from rigtui.checks.played import remembered
from rigtui.checks.words import named, section_of
from rigtui.model import Preset, Setlist, Song
from rigtui.model.places import place_at, section_place
from rigtui.model.text import listed, number_text, visible
from rigtui.model.wire import BANK_LSB, BANK_MSB, preset_messages, wire_ms
from rigtui.moves.clock import beat_seconds

SLOW_MS = 10
"""Wire time that is heard as late, or makes one device later than another. A default."""


def _slow_burst(view: RigView, preset: Preset) -> Iterator[Hit]:
    messages = preset_messages(view.rig, preset)
    milliseconds = wire_ms(messages)
    if milliseconds > SLOW_MS:
        octets = sum(len(message.octets) for message in messages)
        yield Hit(
            place_at("presets", preset.id),
            f"{named(preset)} sends {octets} bytes, which take {milliseconds:.1f} ms on the wire, "
            f"more than {SLOW_MS} ms",
        )


Programs = dict[str, tuple[tuple[int, ...], ...]]
"""By device: the bank and program that it was last told."""


def _told(view: RigView, preset: Preset) -> Programs:
    """What a preset tells the devices that take time to load."""
    told: Programs = {}
    for message in preset_messages(view.rig, preset):
        if message.is_program or message.data[0] in (BANK_MSB, BANK_LSB):
            told[message.device] = (*told.get(message.device, ()), message.data)
    return told


def _loads(view: RigView, before: Programs, told: Programs) -> tuple[float, list[str]]:
    """The longest loading time of the devices that are told another program, and their names."""
    slow = [
        (device.load_ms, named(device))
        for device in view.rig.midi
        if device.load_ms and device.id in told and before.get(device.id) != told[device.id]
    ]
    return max((ms for ms, _ in slow), default=0) / 1000, [name for _, name in slow]


def _walk(view: RigView, song: Song) -> tuple[Programs, ...]:
    """What the devices have been told by each section, the song standing alone."""
    states: list[Programs] = []
    for section in song.sections:
        preset = view.known.presets.get(section.preset or "")
        states.append({**(states[-1] if states else {}), **(_told(view, preset) if preset else {})})
    return tuple(states)


def _slow_change(view: RigView, song: Song) -> Iterator[Hit]:
    if not any(device.load_ms for device in view.rig.midi):
        return
    states = remembered(view, song, _walk)
    for at in range(1, len(states)):
        seconds, devices = _loads(view, states[at - 1], states[at])
        if not devices:
            continue
        before, section = song.sections[at - 1], song.sections[at]
        window = window_seconds(view.player, section.rest_beats, beat_seconds(song, before))
        if seconds > window:
            yield Hit(
                section_place(song.id, at),
                f"{visible(before.name)} → {section_of(song, at)} makes "
                f"{listed(devices)} load for {say_seconds(seconds)}, but rest and "
                f"lead-in before it are only {say_seconds(window)}",
                severity="warning",
            )


def _slow_set_up(view: RigView, setlist: Setlist) -> Iterator[Hit]:
    if not any(device.load_ms for device in view.rig.midi):
        return
    state: Programs = {}
    for stop in stops(view, setlist):
        walk = remembered(view, stop.song, _walk)
        if not walk:
            continue
        seconds, devices = _loads(view, state, walk[0])
        gap = stop.gap_seconds
        if stop.before is not None and gap is not None and seconds > gap:
            yield Hit(
                stop.where,
                f"{named(stop.before)} → {named(stop.song)} makes {listed(devices)} "
                f"load for {say_seconds(seconds)}, but the gap is only "
                f"{number_text(gap)} s",
                severity="warning",
            )
        state = {**state, **walk[-1]}


_SLOW_WHY = (
    "Messages go down the wire one after another, and many devices take a while "
    "before they sound. The last message to arrive misses the beat."
)
_SLOW_SOURCE = (
    f"MIDI 1.0: 0.32 ms a byte; {SLOW_MS} ms are a default; loading times are the device's own"
)

RULES = (
    Rule(
        "midi-slow", "advice", "preset", f"A preset's MIDI takes more than {SLOW_MS} ms.",
        _SLOW_WHY, _SLOW_SOURCE, _slow_burst,
    ),
    Rule(
        "midi-slow", "advice", "song",
        "A warning if a change leaves a device less time than it needs to load.",
        _SLOW_WHY, _SLOW_SOURCE, _slow_change,
    ),
    Rule(
        "midi-slow", "advice", "setlist", "A warning if the gap before a song does.",
        _SLOW_WHY, _SLOW_SOURCE, _slow_set_up,
    ),
)  # fmt: skip
