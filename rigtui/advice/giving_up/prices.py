"""The price of playing a section with another sound."""

from __future__ import annotations

from collections.abc import Iterable

from rigtui.model.base import BY_FOOT
from rigtui.model.lookup import Lookup
from rigtui.model.rig import Pedal, Preset, Section

CHANNEL_PRICE = 3
"""Another amp channel for a bar, beside pedals: it changes all of the sound."""
SOFTER = ("modulation", "tremolo", "delay", "reverb")
"""Kinds that colour a sound and do not make it: half price where the player names none.

Common practice: nobody in the room misses the chorus as they would miss the drive.
"""
SOFTER_PRICE = 0.5
LEAD_FACTOR = 2
"""Times the price on a lead sound: everybody listens to it (common practice)."""


def price_of(pedal: Pedal) -> float:
    """Return the price of one bar with a pedal off that should be on, or on that should be off."""
    if pedal.kind in SOFTER and "price" not in pedal.model_fields_set:
        return SOFTER_PRICE
    return pedal.price


class Heard:
    """What a section wants to sound like, priced against what it might be played with."""

    def __init__(self, known: Lookup, section: Section) -> None:
        own = known.presets.get(section.preset or "")
        self._known = known
        if section.wanted is not None:
            self.pedals, self.channel = frozenset(section.wanted.pedals), section.wanted.channel
            self._midi = None
        else:
            self.pedals = frozenset(known.sound(section))
            self.channel = (own and own.channel) or None
            self._midi = own.midi if own is not None else None
        self._bars = section.bars * (LEAD_FACTOR if own is not None and own.role == "lead" else 1)
        self._free = frozenset(section.may)

    def differing(self, on: Iterable[str]) -> frozenset[str]:
        """Return the pedals that are not as wanted where these are on, of those a foot switches."""
        return frozenset(
            pedal
            for pedal in (self.pedals ^ frozenset(on)) - self._free
            if pedal in self._known.loop_of
            or (pedal in self._known.pedals and self._known.pedals[pedal].used in BY_FOOT)
        )

    def other_channel(self, preset: Preset) -> bool:
        """Whether a preset puts the amp, or a device on the MIDI wire, elsewhere than wanted."""
        if self.channel is not None and preset.channel != self.channel:
            return True
        return self._midi is not None and preset.midi != self._midi

    def price(self, on: Iterable[str], preset: Preset) -> float:
        """Return what it costs to play the section with these pedals on, on a preset."""
        pedals = self._known.pedals
        each = sum(price_of(pedals[pedal]) for pedal in self.differing(on) if pedal in pedals)
        return round((each + CHANNEL_PRICE * self.other_channel(preset)) * self._bars, 6)
