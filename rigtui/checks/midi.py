"""MIDI: devices that get in each other's way, and numbers that no device shows."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.checks import names
from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.guess import Guesser
from rigtui.checks.words import named, quoted
from rigtui.model import Preset, Rig
from rigtui.model.edits import drop_midi_send, set_midi_device, set_midi_send
from rigtui.model.midi import MidiDevice, MidiSend
from rigtui.model.places import place_at
from rigtui.model.wire import BANK_LSB, BANK_MSB, wire_program

CHANNELS = 16


def _channels(view: RigView) -> Iterator[Hit]:
    """Devices on one channel, where neither is said to be there on purpose."""
    first: dict[int, MidiDevice] = {}
    used = {device.channel for device in view.rig.midi}
    free = next((n for n in range(1, CHANNELS + 1) if n not in used), None)
    for device in view.rig.midi:
        if device.shared:
            continue
        other = first.setdefault(device.channel, device)
        if other is not device:
            fix = None
            if free is not None:
                label = f"put {named(device)} on channel {free} (and set the device to it)"
                fix = Fix(label, partial(set_midi_device, device_id=device.id, channel=free))
            yield Hit(
                place_at("midi", device.id),
                f"{named(device)} and {named(other)} are both on channel "
                f"{device.channel}, so a message to one changes the other",
                fix,
            )


def _numbers(view: RigView, preset: Preset) -> Iterator[Hit]:
    where = place_at("presets", preset.id)
    devices = {device.id: device for device in view.rig.midi}
    programmed: set[str] = set()
    for at, send in enumerate(preset.midi):
        device = devices.get(send.device)
        if device is None:
            continue
        if send.program is not None:
            yield from _program(preset, at, device, send.program, send.sends)
            if device.id in programmed:
                yield Hit(
                    where,
                    f"{named(preset)} sends {named(device)} two programs: only the last counts",
                    Fix(f"delete program {send.program}", _without(preset, at)),
                )
            programmed.add(device.id)
            banks = [c.number for c in send.controls if c.number in (BANK_MSB, BANK_LSB)]
            if banks:
                yield Hit(
                    where,
                    f"{named(preset)} selects a bank of {named(device)} (controller "
                    f"{banks[0]}) after its program change, so the bank comes one "
                    "change late",
                    Fix("select the bank before the program", partial(_bank_first, preset.id, at)),
                )


def _without(preset: Preset, at: int) -> partial[Rig]:
    """An edit that takes the program out of an entry, and the entry with it if that was all."""
    rest = preset.midi[at].model_fields_set - {"device", "program", "sends"}
    if rest:
        return partial(set_midi_send, preset_id=preset.id, at=at, program=None, sends=None)
    return partial(drop_midi_send, preset_id=preset.id, at=at)


def _bank_first(preset_id: str, at: int, rig: Rig) -> Rig:
    """Move bank selects out of the controllers, to where they are sent before the program."""
    send: MidiSend = next(p for p in rig.presets if p.id == preset_id).midi[at]
    banks = {c.number: c.value for c in send.controls if c.number in (BANK_MSB, BANK_LSB)}
    return set_midi_send(
        rig,
        preset_id,
        at,
        bank_msb=banks.get(BANK_MSB, send.bank_msb),
        bank_lsb=banks.get(BANK_LSB, send.bank_lsb),
        controls=tuple(c for c in send.controls if c.number not in banks),
    )


def _program(
    preset: Preset, at: int, device: MidiDevice, shown: int, sends: int | None
) -> Iterator[Hit]:
    where, wire = place_at("presets", preset.id), wire_program(device, shown)
    if wire is None:
        low, high = device.counts_from, device.counts_from + 127
        yield Hit(
            where,
            f"{named(preset)} wants program {shown} of {named(device)}, whose display goes from "
            f"{low} to {high}",
        )
    elif sends is not None and sends != wire:
        yield Hit(
            where,
            f"{named(preset)} wants program {shown} of {named(device)}, which is "
            f"{wire} on the wire, but the switcher sends {sends}, which the device "
            f"shows as {sends + device.counts_from}",
            Fix(
                f"set it to send {wire} (and key that in on the switcher)",
                partial(set_midi_send, preset_id=preset.id, at=at, sends=wire),
            ),
        )


def _unknown_device(view: RigView, preset: Preset) -> Iterator[Hit]:
    known, guess = {device.id for device in view.rig.midi}, Guesser()
    for at, send in enumerate(preset.midi):
        if send.device in known:
            continue
        near = guess.row(send.device, view.rig.midi)
        if near is not None:
            says = f"the nearest is {quoted(near)}"
            edit = partial(set_midi_send, preset_id=preset.id, at=at, device=near)
            fix = Fix(f"write {quoted(near)} instead", edit)
        else:
            says = "no name in the file comes close"
            edit = partial(drop_midi_send, preset_id=preset.id, at=at)
            fix = Fix(f"delete {quoted(send.device)}", edit)
        yield Hit(
            place_at("presets", preset.id),
            f"{named(preset)} sends to MIDI device {quoted(send.device)}, but there is "
            f"no such device; {says}",
            fix,
        )


_CLASH_WHY = (
    "The wire has 16 channels and counts programs from 0; displays count from 0 or 1. "
    "One slip, and the wrong box goes to the wrong sound."
)
_CLASH_SOURCE = "MIDI 1.0 (IEC 63035): channels, data bytes, bank select; displays, common practice"

RULES = (
    Rule(
        "unknown-name", "error", "preset",
        "A preset sends MIDI to a device that is not in the file.",
        names.RULES[0].why, names.RULES[0].source, _unknown_device,
    ),
    Rule(
        "midi-clash", "error", "rig",
        "Two MIDI devices are on one channel, and neither is marked as shared.",
        _CLASH_WHY, _CLASH_SOURCE, _channels,
    ),
    Rule(
        "midi-clash", "error", "preset",
        "A preset wants a program that the device doesn't show, sends a different "
            "number, sends two programs, or selects the bank too late.",
        _CLASH_WHY, _CLASH_SOURCE, _numbers,
    ),
)  # fmt: skip
