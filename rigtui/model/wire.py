"""What goes over the MIDI wire: messages as bytes, counted from 0.

People write channels 1 to 16 and the program that the device's display shows; here they become
what is sent.

Source: MIDI 1.0 message table. Program change is 1100nnnn 0ppppppp, control change
1011nnnn 0ccccccc 0vvvvvvv; bank select is controllers 0 (coarse) and 32 (fine).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigtui.model.midi import MidiDevice, MidiSend
from rigtui.model.rig import Preset, Rig

HIGHEST = 127
"""Largest value of a data byte."""
BANK_MSB, BANK_LSB = 0, 32
"""Controllers that select a bank."""
MS_PER_BYTE = 0.32
"""Milliseconds that one byte takes: a start bit, 8 data bits and a stop bit at 31 250 bit/s.

Source: MIDI 1.0 (IEC 63035).
"""


class Message(NamedTuple):
    """One message to one device."""

    device: str
    """Id of the device."""
    channel: int
    """0 to 15, as on the wire."""
    data: tuple[int, ...]
    """(program,) or (controller, value)."""

    @property
    def is_program(self) -> bool:
        """Whether it is a program change; else it is a control change."""
        return len(self.data) == 1

    @property
    def octets(self) -> tuple[int, ...]:
        """The bytes of the message."""
        return ((0xC0 if self.is_program else 0xB0) | self.channel, *self.data)

    def in_words(self) -> str:
        """The message as a person would say it, numbers as on the wire."""
        if self.is_program:
            return f"channel {self.channel + 1}, program change {self.data[0]} on the wire"
        return f"channel {self.channel + 1}, controller {self.data[0]} to {self.data[1]}"


def wire_program(device: MidiDevice, shown: int) -> int | None:
    """Return the program number on the wire for the one that a device shows; None if it has none.

    Source: MIDI 1.0 implementation chart, program change: 0 to 127 on the wire, on many devices
    shown as 1 to 128.
    """
    number = shown - device.counts_from
    return number if 0 <= number <= HIGHEST else None


def send_messages(device: MidiDevice, send: MidiSend) -> Iterator[Message]:
    """Give what one entry of a preset sends: bank select, program change, controllers.

    A program that the device cannot show is left out; the rule `midi-clash` says so.
    """
    channel = device.channel - 1
    for number, value in ((BANK_MSB, send.bank_msb), (BANK_LSB, send.bank_lsb)):
        if value is not None:
            yield Message(device.id, channel, (number, value))
    if send.program is not None:
        program = wire_program(device, send.program)
        if program is not None:
            yield Message(device.id, channel, (program,))
    for control in send.controls:
        yield Message(device.id, channel, (control.number, control.value))


def preset_messages(rig: Rig, preset: Preset) -> tuple[Message, ...]:
    """Return what a preset sends, in order; devices that the rig does not have get nothing."""
    devices = {device.id: device for device in rig.midi}
    return tuple(
        message
        for send in preset.midi
        if send.device in devices
        for message in send_messages(devices[send.device], send)
    )


def wire_ms(messages: tuple[Message, ...]) -> float:
    """Return how long messages take on the wire, every status byte sent (no running status)."""
    return sum(len(message.octets) for message in messages) * MS_PER_BYTE
