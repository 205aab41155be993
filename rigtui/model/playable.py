"""What of a song can be recalled at all, and what is stored that comes nearest to the rest."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigtui.model.edits.folding import Switched, switched
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.remembered import Remembered
from rigtui.model.rig import Preset, Rig, Section


class Nearest(NamedTuple):
    """A stored preset in place of one that is not."""

    preset: Preset
    missing: tuple[str, ...]
    """Ids of the pedals that it leaves off, in signal order."""
    too_many: tuple[str, ...]
    """Ids of the pedals that it switches on besides."""
    other_channel: bool
    """Whether the amp is then on another channel than the section asks for."""


class _Playable:
    """The presets of one rig, by whether a switch recalls their sound."""

    def __init__(self, rig: Rig) -> None:
        most = rig.switcher.memories if rig.switcher is not None else 0
        held = [(min(here), p) for p in rig.presets if (here := in_range(p, most))]
        self.stored = tuple(preset for _, preset in sorted(held, key=lambda row: row[0]))
        """Presets in a memory that the switcher has, by their lowest memory."""
        known = lookup(rig)
        self.pedals = tuple(frozenset(known.preset_pedals(preset)) for preset in self.stored)
        """What each of them switches on."""
        self.unplayable: frozenset[str] = frozenset()
        if rig.switcher is not None:
            sounds = {_switched(known, preset) for preset in self.stored}
            self.unplayable = frozenset(
                preset.id for preset in rig.presets if _switched(known, preset) not in sounds
            )


def in_range(preset: Preset, memories: int) -> list[int]:
    """Return the memories of a preset that a switcher with so many has."""
    return [memory for memory in preset.memories if memory <= memories]


def _switched(known: Lookup, preset: Preset) -> Switched:
    """What a preset is to the switcher, without loops that there are not."""
    loops, channel, midi = switched(preset)
    return loops.intersection(known.loops), channel, midi


_playable: Remembered[_Playable] = Remembered(24)


def _of(rig: Rig) -> _Playable:
    parts = (rig.switcher, rig.pedals, rig.loops, rig.presets)
    return _playable.get(parts, lambda: _Playable(rig))


def unplayable_presets(rig: Rig) -> frozenset[str]:
    """Return the ids of the presets whose sound no memory of the switcher holds.

    None is unplayable without a switcher, or where another stored preset switches the same loops,
    channel and MIDI messages.
    """
    return _of(rig).unplayable


def is_unplayable(rig: Rig, section: Section) -> bool:
    """Whether no switch recalls a section's sound; an unmapped section is another matter."""
    return section.preset in _of(rig).unplayable


def lost_sections(rig: Rig) -> int:
    """Return how many sections of all songs can't be played, played in a setlist or not."""
    lost = unplayable_presets(rig)
    return sum(section.preset in lost for song in rig.songs for section in song.sections)


def nearest_stored(rig: Rig, section: Section) -> Nearest | None:
    """Return the stored preset with which a section sounds least wrong.

    It is the one with the fewest pedals that differ, those in `may` aside; among equals one on the
    section's channel, then the one in the lowest memory.

    Args:
        rig: The rig.
        section: A section that is mapped to a preset.

    Returns:
        The preset and what differs; None where nothing is stored, or the section is unmapped.
    """
    known = lookup(rig)
    own = known.presets.get(section.preset or "")
    if own is None:
        return None
    wanted, free = frozenset(known.sound(section)), frozenset(section.may)
    alone = section.model_copy(update={"preset": None, "minus": ()})
    added = frozenset(known.sound(alone))
    taken = frozenset(_switched_out(known, section))
    nearest: tuple[int, bool, Preset, frozenset[str]] | None = None
    for preset, pedals in zip(_of(rig).stored, _of(rig).pedals):
        heard = (pedals | added) - taken
        other_channel = bool(own.channel) and own.channel != preset.channel
        differ = len((wanted ^ heard) - free)
        if nearest is None or (differ, other_channel) < nearest[:2]:
            nearest = differ, other_channel, preset, heard
    if nearest is None:
        return None
    _, other_channel, preset, heard = nearest
    missing, too_many = wanted - heard - free, heard - wanted - free
    return Nearest(
        preset,
        tuple(pedal for pedal in known.order if pedal in missing),
        tuple(pedal for pedal in known.order if pedal in too_many),
        other_channel,
    )


def _switched_out(known: Lookup, section: Section) -> Iterator[str]:
    """Pedals whose loop a section switches out on top of its preset."""
    for pedal in section.minus if known.toggling else ():
        if pedal in known.loop_of:
            yield from known.loops[known.loop_of[pedal]].pedals
