"""Find the songs that sound as before after the chain was reordered: they keep their findings."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rigtui.checks.finding import RigView
from rigtui.model import Section, Song
from rigtui.model.base import SIDES
from rigtui.model.lookup import alone


def sounds_as_before(old: RigView, new: RigView) -> Callable[[Song], bool]:
    """Return what tells whether all that rules say of a song alone is as it was.

    A rule of songs reads the chain only for the order of what it hears, and of what buffers the
    signal even when off.

    Args:
        old: A rig.
        new: One whose chain differs, and of what songs are played on nothing else.
    """
    if not _only_reordered(old, new):
        return lambda _: False
    buffers = frozenset(
        pedal.id for pedal in new.known.outside() if pedal.buffered or pedal.kind == "buffer"
    )
    known: dict[tuple[Any, ...], bool] = {}

    def as_before(section: Section) -> bool:
        key = (section.preset, section.plus, section.minus)
        if key not in known:
            known[key] = _in_line(old, section, buffers) == _in_line(new, section, buffers)
        return known[key]

    def stands(song: Song) -> bool:
        for section in song.sections:
            if not as_before(section):
                return False
            preset = new.known.presets.get(section.preset or "")
            if preset is not None and section.minus and not as_before(alone(preset)):
                return False
        return True

    return stands


def _only_reordered(old: RigView, new: RigView) -> bool:
    return all(
        sorted(map(str, getattr(old.rig.chain, side)))
        == sorted(map(str, getattr(new.rig.chain, side)))
        for side in SIDES
    )


def _in_line(view: RigView, section: Section, buffers: frozenset[str]) -> list[tuple[str, bool]]:
    """What is heard in a section, and the buffers, in signal order; and what feeds the amp."""
    heard = buffers.union(view.known.sound(section))
    return [(pedal, view.chain.before_amp(pedal)) for pedal in view.known.order if pedal in heard]
