"""Where a finding points, in the player's words: titles and names, sections counted from 1."""

from __future__ import annotations

from collections.abc import Callable

from rigtui.model.lookup import Lookup, lookup
from rigtui.model.rig import Rig, Set
from rigtui.model.text import visible

_SINGLE = {
    "": "the rig",
    "rig": "the rig",
    "amp": "the amp",
    "switcher": "the switcher",
    "player": "the player's figures",
    "chain": "the chain",
    "chain.front": "the chain in front of the amp",
    "chain.fx": "the chain in the amp's effects loop",
}


def place_in_words(rig: Rig, where: str) -> str:
    """Say a dotted path of table and ids as a player would; as it stands if it leads nowhere."""
    if where in _SINGLE:
        return _SINGLE[where]
    table, *steps = where.split(".")
    words = _ROWS[table](rig, lookup(rig), steps) if table in _ROWS and steps else None
    return visible(words or where)


def set_title(one: Set, at: int) -> str:
    """A set's name, or its number in its setlist, counted from 1, where it has none."""
    return one.name or f"Set {at + 1}"


def _song(rig: Rig, found: Lookup, steps: list[str]) -> str | None:
    song = found.songs.get(steps[0])
    if song is None:
        return None
    if len(steps) < 3 or steps[1] != "sections":
        return _with_key(song.label, steps[1:])
    at = _number(steps[2], len(song.sections))
    if at is None:
        return None
    return _with_key(f"{song.label}, section {at + 1} ({song.sections[at].name})", steps[3:])


def _setlist(rig: Rig, found: Lookup, steps: list[str]) -> str | None:
    setlist = found.setlists.get(steps[0])
    if setlist is None:
        return None
    if len(steps) < 3 or steps[1] != "sets":
        return _with_key(f"setlist {setlist.label}", steps[1:])
    at = _number(steps[2], len(setlist.sets))
    if at is None:
        return None
    one = setlist.sets[at]
    words = f"setlist {setlist.label}, {one.name or f'set {at + 1}'}"
    if len(steps) < 5 or steps[3] != "songs":
        return _with_key(words, steps[3:])
    place = _number(steps[4], len(one.songs))
    if place is None:
        return None
    song = found.songs.get(one.songs[place])
    return f"{words}, song {place + 1}" + (f" ({song.label})" if song else "")


def _preset(rig: Rig, found: Lookup, steps: list[str]) -> str | None:
    preset = found.presets.get(steps[0])
    return _with_key(f"preset {preset.label}", steps[1:]) if preset else None


def _pedal(rig: Rig, found: Lookup, steps: list[str]) -> str | None:
    pedal = found.pedals.get(steps[0])
    return _with_key(f"pedal {pedal.label}", steps[1:]) if pedal else None


def _loop(rig: Rig, found: Lookup, steps: list[str]) -> str | None:
    loop = found.loops.get(int(steps[0])) if steps[0].isdecimal() else None
    if loop is None:
        return None
    inside = " and ".join(found.label(pedal) for pedal in loop.pedals)
    return _with_key(f"loop {loop.number}" + (f" ({inside})" if inside else ""), steps[1:])


def _waiver(rig: Rig, found: Lookup, steps: list[str]) -> str | None:
    at = _number(steps[0], len(rig.waivers))
    return None if at is None else f"waiver {at + 1} (of {rig.waivers[at].rule})"


def _midi(rig: Rig, found: Lookup, steps: list[str]) -> str | None:
    device = next((device for device in rig.midi if device.id == steps[0]), None)
    return _with_key(f"MIDI device {device.label}", steps[1:]) if device else None


def _printed(rig: Rig, found: Lookup, steps: list[str]) -> str | None:
    at = _number(steps[0], len(rig.printed))
    if at is None:
        return None
    row = rig.printed[at]
    setlist = found.setlists.get(row.setlist or "")
    return f"printed sheet {at + 1} ({row.sheet}{f', {setlist.label}' if setlist else ''})"


_ROWS: dict[str, Callable[[Rig, Lookup, list[str]], str | None]] = {
    "songs": _song,
    "setlists": _setlist,
    "presets": _preset,
    "pedals": _pedal,
    "loops": _loop,
    "waivers": _waiver,
    "midi": _midi,
    "printed": _printed,
}


def _number(step: str, size: int) -> int | None:
    return int(step) if step.isdecimal() and int(step) < size else None


def _with_key(words: str, rest: list[str]) -> str:
    return f"{words}, {'.'.join(rest)}" if rest else words
