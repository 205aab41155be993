"""What a preset sends over MIDI, byte for byte."""

from __future__ import annotations

import pytest
from rigs_made import make_rig, preset

from rigtui.model import Rig
from rigtui.model.diff import differences
from rigtui.model.edits import drop_midi_send, set_midi_device, set_midi_send
from rigtui.model.errors import EditError
from rigtui.model.wire import preset_messages, wire_ms


def rig_sending(*sends: dict[str, object], **device: object) -> Rig:
    """A rig of one preset and one device on channel 1."""
    return make_rig(
        midi=[{"id": "echo", "channel": 1, **device}], presets=[preset("lead", midi=list(sends))]
    )


def octets(rig: Rig) -> str:
    """What the rig's preset sends, in hexadecimal."""
    messages = preset_messages(rig, rig.presets[0])
    return " ".join(bytes(message.octets).hex(" ") for message in messages).upper()


# Source: MIDI 1.0 message table; rows M3 to M8 of the reference values: a published
# implementation chart for numbering ("0-127 for Programs 1-128"), mido 1.3.3 for the bytes.
@pytest.mark.parametrize(
    ("device", "send", "wire"),
    [
        ({}, {"program": 1}, "C0 00"),
        ({"counts_from": 0}, {"program": 0}, "C0 00"),
        ({"channel": 16}, {"program": 128}, "CF 7F"),
        ({"channel": 16, "counts_from": 0}, {"program": 127}, "CF 7F"),
        ({}, {"program": 12}, "C0 0B"),
        ({"channel": 3}, {"controls": [{"number": 80, "value": 127}]}, "B2 50 7F"),
        ({}, {"bank_msb": 1, "bank_lsb": 2, "program": 6}, "B0 00 01 B0 20 02 C0 05"),
        (
            {},
            {"program": 6, "controls": [{"number": 7, "value": 1}], "bank_lsb": 2},
            "B0 20 02 C0 05 B0 07 01",
        ),
        ({}, {}, ""),
        ({}, {"program": 0}, ""),
        ({"counts_from": 0}, {"program": 128}, ""),
    ],
)
def test_bytes_on_the_wire(device: dict[str, object], send: dict[str, object], wire: str) -> None:
    """Channels count from 0 there, and so do programs, whatever the display shows."""
    assert octets(rig_sending({"device": "echo", **send}, **device)) == wire


def test_a_device_that_is_not_there_gets_nothing() -> None:
    """A preset that names an unknown device sends the rest."""
    rig = rig_sending({"device": "ehco", "program": 3}, {"device": "echo", "program": 4})
    assert octets(rig) == "C0 03"


def test_wire_time() -> None:
    """Two devices with banks, program and three controllers each: 34 bytes, 10.88 ms.

    Source: 31 250 bit/s, 10 bits a byte (MIDI 1.0): 0.32 ms.
    """
    controls = [{"number": number, "value": 0} for number in (1, 2, 3)]
    send = {"device": "echo", "bank_msb": 0, "bank_lsb": 0, "program": 1, "controls": controls}
    rig = rig_sending(send, send)
    messages = preset_messages(rig, rig.presets[0])
    assert sum(len(message.octets) for message in messages) == 34
    assert wire_ms(messages) == pytest.approx(10.88)


def test_messages_in_words_say_which_count_they_are_in() -> None:
    """Channels as displays show them, programs marked as the wire's."""
    rig = rig_sending({"device": "echo", "program": 12, "controls": [{"number": 80, "value": 5}]})
    assert [message.in_words() for message in preset_messages(rig, rig.presets[0])] == [
        "channel 1, program change 11 on the wire",
        "channel 1, controller 80 to 5",
    ]


def test_edits_of_midi() -> None:
    """Devices and what is sent to them can be changed, and the differences are told."""
    rig = rig_sending({"device": "echo", "program": 3})
    other = set_midi_device(rig, "echo", channel=4)
    assert octets(other) == "C3 02"
    sent = set_midi_send(other, "lead", 0, program=5)
    assert octets(sent) == "C3 04"
    assert differences(rig, sent) == [
        "preset lead: what it sends to echo changed",
        "MIDI device echo: channel 1 -> 4",
    ]
    assert octets(drop_midi_send(sent, "lead", 0)) == ""
    with pytest.raises(EditError, match="channel"):
        set_midi_device(rig, "echo", channel=17)
    with pytest.raises(EditError, match='no MIDI device "ehco"'):
        set_midi_device(rig, "ehco", channel=1)


def test_sends_in_another_order_are_a_difference() -> None:
    """Nothing is added or taken out, and still the wire has something else on it."""
    first, second = {"device": "echo", "program": 1}, {"device": "echo", "program": 2}
    before, after = rig_sending(first, second), rig_sending(second, first)
    assert differences(before, after) == ["preset lead: MIDI in another order"]
