"""Sections without a preset, or with a switch that the switcher can't make."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.checks.choices import which_preset
from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.words import named, pedals_named, section_of
from rigtui.model import Pedal, Preset, Rig, Section, Song
from rigtui.model.edits import map_section, set_section
from rigtui.model.edits.folding import switched
from rigtui.model.places import section_place
from rigtui.model.text import visible


def _unmapped(view: RigView, song: Song) -> Iterator[Hit]:
    for at, section in enumerate(song.sections):
        if section.preset is None:
            like = _its_like(view, song, at)
            yield Hit(
                section_place(song.id, at),
                f"{section_of(song, at)} has no preset",
                _mapped(song, at, like) if like is not None else None,
                choices=which_preset(song, at, like.id if like is not None else None)
                if view.rig.presets
                else None,
            )


def _its_like(view: RigView, song: Song, at: int) -> Preset | None:
    """The preset of the first mapped section of the same kind: Verse 1's for Verse 2."""
    kind = _kind_of(song.sections[at])
    for other in song.sections:
        preset = view.known.presets.get(other.preset or "")
        if preset is not None and kind and _kind_of(other) == kind:
            return preset
    return None


def _mapped(song: Song, at: int, preset: Preset) -> Fix:
    edit = partial(map_section, song_id=song.id, at=at, preset_id=preset.id)
    return Fix(f"map it to {named(preset)}", edit)


def _kind_of(section: Section) -> str:
    return section.name.casefold().rstrip("0123456789 ")


def _plus_not_switchable(view: RigView, song: Song) -> Iterator[Hit]:
    for at, section in enumerate(song.sections):
        for pedal_id in dict.fromkeys(section.plus):
            pedal = view.known.pedals.get(pedal_id)
            reason = _no_plus(view, pedal) if pedal else None
            if pedal is not None and reason is not None:
                yield _hit(view, song, at, pedal, "on", reason)


def _minus_not_switchable(view: RigView, song: Song) -> Iterator[Hit]:
    for at, section in enumerate(song.sections):
        for pedal_id in dict.fromkeys(section.minus):
            pedal = view.known.pedals.get(pedal_id)
            reason = _no_minus(view, pedal) if pedal else None
            if pedal is not None and reason is not None:
                yield _hit(view, song, at, pedal, "off", reason)


_NO_TOGGLES = "and the switcher has no switches for single loops"


def _no_plus(view: RigView, pedal: Pedal) -> str | None:
    """Why a pedal cannot be switched on, on top of a preset; None if it can."""
    number = view.known.loop_of.get(pedal.id)
    if number is not None:
        return None if view.known.toggling else f"it is in loop {number}, {_NO_TOGGLES}"
    reasons = {
        "always": "it is left on all night",
        "between": "it is only for between songs",
        "home": "it is not on the board tonight",
    }
    return reasons.get(pedal.used)


def _no_minus(view: RigView, pedal: Pedal) -> str | None:
    """Why a pedal cannot be switched out of a preset; None if it can."""
    number = view.known.loop_of.get(pedal.id)
    if number is None:
        return "it is in no loop, so no preset switches it"
    return None if view.known.toggling else f"it is in loop {number}, {_NO_TOGGLES}"


def _hit(view: RigView, song: Song, at: int, pedal: Pedal, way: str, reason: str) -> Hit:
    key = "plus" if way == "on" else "minus"
    asks = f"asks for {named(pedal)}" if way == "on" else f"switches {named(pedal)} off"
    return Hit(
        section_place(song.id, at),
        f"{section_of(song, at)} {asks} on top of its preset; {reason}",
        _fix(view, song, at, pedal, key),
    )


def _fix(view: RigView, song: Song, at: int, pedal: Pedal, key: str) -> Fix:
    """Go to the preset that differs in that pedal's loop alone, where there is one."""
    number = view.known.loop_of.get(pedal.id)
    preset = view.known.presets.get(song.sections[at].preset or "")
    other = _with_loop(view, preset, number, key == "plus") if preset and number else None
    label = f"use {named(other)} instead" if other else _as_heard(view, song.sections[at], pedal)
    other_id = other.id if other else None
    return Fix(label, partial(_without, song.id, at, pedal.id, key, other_id))


def _as_heard(view: RigView, section: Section, pedal: Pedal) -> str:
    """Say that a section stays as it is heard today: what it asks for can't be done anyway."""
    state = "on" if pedal.id in view.known.sound(section) else "off"
    return f"leave {named(pedal)} {state} in {visible(section.name)}; it sounds as it does today"


def _with_loop(view: RigView, preset: Preset, number: int, wanted: bool) -> Preset | None:
    """The first other preset of the channel that differs in one loop alone, and has it right."""
    loops, channel, midi = switched(preset)
    if (number in loops) == wanted:
        return None
    like = (loops ^ {number}, channel, midi)
    return next((other for other in view.rig.presets if switched(other) == like), None)


def _without(
    song_id: str, at: int, pedal_id: str, key: str, preset_id: str | None, rig: Rig
) -> Rig:
    section = next(song for song in rig.songs if song.id == song_id).sections[at]
    kept = tuple(other for other in getattr(section, key) if other != pedal_id)
    changes = {key: kept} if preset_id is None else {key: kept, "preset": preset_id}
    return set_section(rig, song_id, at, **changes)


def _plus_and_minus(view: RigView, song: Song) -> Iterator[Hit]:
    if not view.known.toggling:  # without toggles both are findings already
        return
    loop_of = view.known.loop_of
    for at, section in enumerate(song.sections):
        off = {loop_of.get(pedal_id): pedal_id for pedal_id in reversed(section.minus)}
        for pedal_id in dict.fromkeys(section.plus) if off else ():
            number = loop_of.get(pedal_id)
            if number is not None and number in off and pedal_id in view.known.pedals:
                both = [pedal_id] if off[number] == pedal_id else [pedal_id, off[number]]
                yield Hit(
                    section_place(song.id, at),
                    f"{section_of(song, at)} switches loop {number} "
                    f"({pedals_named(view.known, both)}) both in and out; it is counted as out",
                    Fix(
                        _as_heard(view, section, view.known.pedals[pedal_id]),
                        partial(_without, song.id, at, pedal_id, "plus", None),
                    ),
                )


_FORMAT = "Rig file format: plus and minus."

RULES = (
    Rule(
        id="unmapped",
        severity="error",
        scope="song",
        summary="A section has no preset.",
        why="You have no switch to press for it, and its change is missing from every count.",
        source="common practice",
        check=_unmapped,
    ),
    Rule(
        id="plus-not-switchable",
        severity="error",
        scope="song",
        summary="A section switches a pedal on that no footswitch can switch there.",
        why="The pedal can't be switched alone, so it stays off, and its moves are not counted.",
        source=_FORMAT,
        check=_plus_not_switchable,
    ),
    Rule(
        id="minus-not-switchable",
        severity="error",
        scope="song",
        summary="A section switches a pedal out of its preset that no footswitch can switch there.",
        why="The pedal can't be switched alone, so it stays as the preset has it, and its "
        "moves are not counted.",
        source=_FORMAT,
        check=_minus_not_switchable,
    ),
    Rule(
        id="plus-and-minus",
        severity="warning",
        scope="song",
        summary="A section switches the same loop in and out.",
        why="Only one of the two can be meant.",
        source=_FORMAT,
        check=_plus_and_minus,
    ),
)
