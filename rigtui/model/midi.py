"""MIDI in the rig file: the devices on the wire, and what a preset sends them.

People write the number that the device's display shows; the wire counts programs from 0, and
`rigtui.model.wire` is where the one becomes the other.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rigtui.model.base import Flag, Id, Many, Note, Number, RigTable, Text, Whole

Data = Annotated[Whole, Field(ge=0, le=127)]
"""A data byte of a MIDI message: 7 bits."""


class MidiDevice(RigTable):
    """Something that listens on the MIDI wire."""

    id: Id = Field(description="The name presets use for it.", examples=["echo"])
    name: Text = Field("", description="What you call it; its id if left out.")
    channel: Annotated[Whole, Field(ge=1, le=16)] = Field(
        description="MIDI channel, 1 to 16 as displays show it.", examples=[1]
    )
    counts_from: Annotated[Whole, Field(ge=0, le=1)] = Field(
        1,
        description="What its display shows for the first program: 0, or 1 (then program 1 is 0 "
        "on the wire).",
    )
    shared: Flag = Field(
        False, description="Whether it shares its channel with another device on purpose."
    )
    load_ms: Annotated[Number, Field(ge=0, le=60_000)] | None = Field(
        None, description="Milliseconds from a program change until you hear it."
    )
    note: Note = Field("", description="Free text.")

    @property
    def label(self) -> str:
        """Its name, or its id where it has none."""
        return self.name or self.id


class MidiControl(RigTable):
    """One control change."""

    number: Data = Field(description="Controller number, 0 to 127.", examples=[80])
    value: Data = Field(description="Value to send, 0 to 127.", examples=[127])


class MidiSend(RigTable):
    """What a preset sends to one device, in the order of these keys."""

    device: Text = Field(description="Id of the device.", examples=["echo"])
    bank_msb: Data | None = Field(
        None, description="Bank select, coarse (controller 0), sent before the program change."
    )
    bank_lsb: Data | None = Field(
        None, description="Bank select, fine (controller 32), sent before the program change."
    )
    program: Annotated[Whole, Field(ge=0, le=128)] | None = Field(
        None, description="Program, as the device's own display shows it."
    )
    sends: Data | None = Field(
        None,
        description="The number you key into your switcher for it, 0 to 127 as on the wire; it is "
        "checked against program.",
    )
    controls: Many[MidiControl] = Field((), description="Control changes, in order, sent last.")
