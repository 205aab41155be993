"""Where a finding points, in the player's words: titles and names, sections counted from 1."""

from __future__ import annotations

from collections.abc import Callable

from rigtui.model.lookup import Lookup, lookup
from rigtui.model.places import Where, place_at, taken_apart
from rigtui.model.rig import Rig, Set
from rigtui.model.text import visible

_SINGLE = {
    "": "the rig",
    "rig": "the rig",
    "amp": "the amp",
    "switcher": "the switcher",
    "player": "the player's figures",
    "bench": "the bench",
    "patch_leads": "the patch leads",
    "chain": "the chain",
    "chain.front": "the chain in front of the amp",
    "chain.fx": "the chain in the amp's effects loop",
}


def place_in_words(rig: Rig, where: str) -> str:
    """Say a dotted path of table and ids as a player would; as it stands if it leads nowhere."""
    if where in _SINGLE:
        return _SINGLE[where]
    place = taken_apart(where)
    words = _ROWS[place.table](rig, lookup(rig), place) if place.table in _ROWS else None
    return visible(words or where)


def set_title(part: Set, at: int) -> str:
    """A set's name, or its number in its setlist, counted from 1, where it has none."""
    return part.name or f"Set {at + 1}"


def _song(rig: Rig, known: Lookup, place: Where) -> str | None:
    song, at = known.songs.get(place.row), place.section
    if song is None:
        return None
    if at is None:
        return None if place.steps[1:] else _with_key(song.label, place.steps)
    if at >= len(song.sections):
        return None
    return _with_key(f"{song.label}, section {at + 1} ({song.sections[at].name})", place.steps[2:])


def _setlist(rig: Rig, known: Lookup, place: Where) -> str | None:
    setlist, at = known.setlists.get(place.row), place.set_at
    if setlist is None:
        return None
    if at is None:
        return None if place.steps[1:] else _with_key(f"setlist {setlist.label}", place.steps)
    if at >= len(setlist.sets):
        return None
    part = setlist.sets[at]
    words, song_at = f"setlist {setlist.label}, {part.name or f'set {at + 1}'}", place.song_at
    if song_at is None:
        return None if place.steps[3:] else _with_key(words, place.steps[2:])
    if song_at >= len(part.songs):
        return None
    song = known.songs.get(part.songs[song_at])
    return f"{words}, song {song_at + 1}" + (f" ({song.label})" if song else "")


def _preset(rig: Rig, known: Lookup, place: Where) -> str | None:
    preset = known.presets.get(place.row)
    return _with_key(f"preset {preset.label}", place.steps) if preset else None


def _pedal(rig: Rig, known: Lookup, place: Where) -> str | None:
    pedal = known.pedals.get(place.row)
    return _with_key(f"pedal {pedal.label}", place.steps) if pedal else None


def _loop(rig: Rig, known: Lookup, place: Where) -> str | None:
    loop = known.loops.get(int(place.row)) if place.row.isdecimal() else None
    if loop is None:
        return None
    inside = " and ".join(known.label(pedal) for pedal in loop.pedals)
    return _with_key(f"loop {loop.number}" + (f" ({inside})" if inside else ""), place.steps)


def _waiver(rig: Rig, known: Lookup, place: Where) -> str | None:
    at = _number(place.row, len(rig.waivers))
    return None if at is None else f"waiver {at + 1} (of {rig.waivers[at].rule})"


def _midi(rig: Rig, known: Lookup, place: Where) -> str | None:
    device = next((device for device in rig.midi if device.id == place.row), None)
    return _with_key(f"MIDI device {device.label}", place.steps) if device else None


def _printed(rig: Rig, known: Lookup, place: Where) -> str | None:
    at = _number(place.row, len(rig.printed))
    if at is None:
        return None
    row = rig.printed[at]
    setlist = known.setlists.get(row.setlist or "")
    return f"printed sheet {at + 1} ({row.sheet}{f', {setlist.label}' if setlist else ''})"


def _bench_place(rig: Rig, known: Lookup, place: Where) -> str | None:
    at = _number(place.row, len(rig.places))
    return None if at is None else f"place of {known.label(rig.places[at].device)}"


def _hole(rig: Rig, known: Lookup, place: Where) -> str | None:
    at = _number(place.row, len(rig.holes))
    return None if at is None else f"hole {at + 1}"


def _plug(rig: Rig, known: Lookup, place: Where) -> str | None:
    at = _number(place.row, len(rig.plugs))
    return None if at is None else f"{rig.plugs[at].shape} plugs"


def _patch_lead(rig: Rig, known: Lookup, place: Where) -> str | None:
    at = _number(place.row, len(rig.patch_leads))
    return None if at is None else f"patch lead {rig.patch_leads[at].out}"


_ROWS: dict[str, Callable[[Rig, Lookup, Where], str | None]] = {
    "songs": _song,
    "setlists": _setlist,
    "presets": _preset,
    "pedals": _pedal,
    "loops": _loop,
    "waivers": _waiver,
    "midi": _midi,
    "printed": _printed,
    "places": _bench_place,
    "holes": _hole,
    "plugs": _plug,
    "patch_leads": _patch_lead,
}


def _number(step: str, size: int) -> int | None:
    return int(step) if step.isdecimal() and int(step) < size else None


def _with_key(words: str, rest: tuple[str, ...]) -> str:
    return f"{words}, {place_at(*rest)}" if rest else words
