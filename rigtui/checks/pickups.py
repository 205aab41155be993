"""Pickups that are named twice, and not alike: by a preset or section, and by its note.

A section that names another pickup than its preset has its own way, and that is fine; a note that
names another pickup than the one in force leaves the player to guess.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial

from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.played import played
from rigtui.checks.words import named, quoted, section_of
from rigtui.model import Preset, Song
from rigtui.model.edits import set_preset, set_section
from rigtui.model.places import place_at, section_place
from rigtui.model.text import visible

_POSITIONS = ("neck", "middle", "bridge")
_POSITION = re.compile(rf"\b({'|'.join(_POSITIONS)})\b")
_NOTHING_ELSE = re.compile(rf"(?:\W|\b(?:{'|'.join(_POSITIONS)}|and|pickups?|the)\b)*")


def _positions(text: str) -> tuple[str, ...]:
    """The pickups that a text names, from the neck on."""
    there = set(_POSITION.findall(text.casefold()))
    return tuple(position for position in _POSITIONS if position in there)


def _noted(note: str) -> tuple[str, ...]:
    """The pickups that a note is about; "pick near the bridge" and "until the bridge" name none."""
    text = note.casefold()
    if "pickup" in text or _NOTHING_ELSE.fullmatch(text):
        return _positions(text)
    return ()


def _differ(pickup: str, note: str) -> tuple[str, ...]:
    """The pickups of a note that are not those in force; none where it names these too."""
    noted, in_force = _noted(note), _positions(pickup)
    return () if not in_force or set(in_force) <= set(noted) else noted


def _on_preset(view: RigView, preset: Preset) -> Iterator[Hit]:
    noted = _differ(preset.pickup or "", preset.hands)
    if noted:
        yield Hit(
            place_at("presets", preset.id),
            f"{named(preset)} is on the {visible(preset.pickup or '')} pickup, and its note says "
            f"{quoted(preset.hands)}",
            Fix(
                f"set its pickup to {' and '.join(noted)}",
                partial(set_preset, preset_id=preset.id, pickup=" and ".join(noted)),
            ),
        )


def _on_song(view: RigView, song: Song) -> Iterator[Hit]:
    for at, part in enumerate(played(view, song)):
        section, pickup = part.section, part.named_pickup or ""
        noted = _differ(pickup, section.hands) if pickup and section.hands else ()
        if not noted:
            continue
        own = f" by its preset {named(part.preset)}" if part.preset and not section.pickup else ""
        yield Hit(
            section_place(song.id, at),
            f"{section_of(song, at)} is on the {visible(pickup)} pickup{own}, and its note "
            f"says {quoted(section.hands)}",
            Fix(
                f"set its pickup to {' and '.join(noted)}",
                partial(set_section, song_id=song.id, at=at, pickup=" and ".join(noted)),
            ),
        )


_SUMMARY = "A note to the hands names another pickup than the preset or section does."
_WHY = "You have two orders and can follow only one. At home you know which; on stage you guess."

RULES = (
    Rule("pickup-clash", "warning", "preset", _SUMMARY, _WHY, "common practice", _on_preset),
    Rule("pickup-clash", "warning", "song", _SUMMARY, _WHY, "common practice", _on_song),
)
