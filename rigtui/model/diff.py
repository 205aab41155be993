"""What differs between two rigs, in the player's words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from difflib import SequenceMatcher
from typing import Any

from rigtui.model.base import RigTable
from rigtui.model.midi import MidiSend
from rigtui.model.rig import Loop, Preset, Rig, Section, Set, Setlist, Song, Wanted
from rigtui.model.text import count, first_few, number_text, visible

_NOUNS = {
    "pedals": "pedal",
    "loops": "loop",
    "presets": "preset",
    "songs": "song",
    "setlists": "setlist",
    "midi": "MIDI device",
}
_AT_THE_BENCH = {
    "bench": "the figures of the bench",
    "places": "the layout of the board",
    "holes": "the holes in the board",
    "plugs": "the plugs",
    "reels": "the cable you have",
    "patch_leads": "the record of patch leads",
}
_SPELLED = {
    "guitar_volume": "guitar volume",
    "preset_hands": "the preset's hands",
    "gap_seconds": "gap",
    "rest_beats": "rest",
    "delay_ms": "delay time",
}


_NAMED_IN = {
    "preset": "presets",
    "plus": "pedals",
    "minus": "pedals",
    "may": "pedals",
    "early": "pedals",
    "wanted": "pedals",
    "pedals": "pedals",
    "front": "pedals",
    "fx": "pedals",
}
"""The table whose rows a key names by their ids."""

Names = Mapping[str, Mapping[Any, str]]
"""Names of rows by table and id: what a player knows them by."""


def _names_of(*rigs: Rig) -> Names:
    return {
        table: {row.id: row.label for rig in rigs for row in getattr(rig, table)}
        for table in ("pedals", "presets", "songs")
    }


def differences(old: Rig, new: Rig) -> list[str]:
    """Say what changed from one rig to another, one line for each thing, in the file's order."""
    if old is new or old == new:
        return []
    names = _names_of(old, new)
    lines = list(_fields("the rig", old, new, ("name", "note", "format"), names))
    for key, what in (("amp", "the amp"), ("switcher", "the switcher"), ("chain", "the chain")):
        lines += _tables(what, getattr(old, key), getattr(new, key), names)
    for key in _NOUNS:
        lines += _rows(key, getattr(old, key), getattr(new, key), names)
    lines += _tables("the player's figures", old.player, new.player, names)
    gone = len(set(_waivers(old)) - set(_waivers(new)))
    more = len(set(_waivers(new)) - set(_waivers(old)))
    lines += [f"{count(more, 'waiver')} added"] * bool(more)
    lines += [f"{count(gone, 'waiver')} deleted"] * bool(gone)
    if old.printed != new.printed:
        lines.append("the record of printed sheets changed")
    lines += [f"{words} changed" for key, words in _AT_THE_BENCH.items()
              if getattr(old, key) != getattr(new, key)]  # fmt: skip
    return lines or ["spelling only"]


def summary(old: Rig, new: Rig, most: int = 3) -> str:
    """Say what changed in one line."""
    lines = differences(old, new)
    more = f" and {len(lines) - most} more" if len(lines) > most else ""
    return ("; ".join(lines[:most]) + more) if lines else "nothing changed"


def _waivers(rig: Rig) -> list[tuple[str, str, str]]:
    return [(waiver.rule, waiver.where, waiver.reason) for waiver in rig.waivers]


def _tables(what: str, old: RigTable | None, new: RigTable | None, names: Names) -> Iterator[str]:
    if old == new:
        return
    if old is None or new is None:
        yield f"{what} {'added' if old is None else 'deleted'}"
        return
    yield from _fields(what, old, new, type(new).model_fields, names)


def _shown(value: Any, names: Mapping[Any, str]) -> str:
    if value is None or value == "" or value == ():
        return "none"
    if isinstance(value, Wanted):
        channel = f" on channel {visible(value.channel)}" if value.channel else ""
        return (_shown(value.pedals, names) if value.pedals else "no pedal") + channel
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int):
        return number_text(value)
    if isinstance(value, tuple):
        return ", ".join(visible(str(names.get(item, item))) for item in value)
    text = visible(names.get(value, value) if isinstance(value, str) else str(value))
    return text if len(text) <= 40 else text[:39] + "…"


def _fields(what: str, old: RigTable, new: RigTable, keys: Any, names: Names) -> Iterator[str]:
    for key in keys:
        before, after = getattr(old, key), getattr(new, key)
        if before != after:
            name = _SPELLED.get(key, key.replace("_", " "))
            known = names.get(_NAMED_IN.get(key, ""), {})
            yield f"{what}: {name} {_shown(before, known)} -> {_shown(after, known)}"


def _label(row: Any) -> str:
    return str(row.number) if isinstance(row, Loop) else visible(row.label)


def _key(row: Any) -> Any:
    return row.number if isinstance(row, Loop) else row.id


def _rows(table: str, old: Sequence[Any], new: Sequence[Any], names: Names) -> Iterator[str]:
    if old is new:
        return
    noun = _NOUNS[table]
    before, after = {_key(row): row for row in old}, {_key(row): row for row in new}
    for key, row in after.items():
        if key not in before:
            yield f"{noun} {_label(row)} added"
        elif row is not before[key] and row != before[key]:
            yield from _row(f"{noun} {_label(row)}", before[key], row, names)
    for key, row in before.items():
        if key not in after:
            yield f"{noun} {_label(row)} deleted"
    kept = [key for key in after if key in before]
    if kept != [key for key in before if key in after]:
        yield f"{table} in another order"


def _row(what: str, old: Any, new: Any, names: Names) -> Iterator[str]:
    special: dict[str, Callable[[str, Any, Any, Names], Iterator[str]]] = {}
    if isinstance(new, Preset):
        special = {"loops": _loops, "midi": _midi}
    elif isinstance(new, Song):
        special = {"sections": _sections}
    elif isinstance(new, Setlist):
        special = {"sets": _sets}
    keys = [key for key in type(new).model_fields if key not in special]
    yield from _fields(what, old, new, keys, names)
    for key, tell in special.items():
        if getattr(old, key) != getattr(new, key):
            yield from tell(what, getattr(old, key), getattr(new, key), names)


def _loops(what: str, old: tuple[int, ...], new: tuple[int, ...], names: Names) -> Iterator[str]:
    on = [str(number) for number in new if number not in old]
    off = [str(number) for number in old if number not in new]
    parts = [f"{'loops' if len(some) > 1 else 'loop'} {', '.join(some)} {word}"
             for some, word in ((on, "in"), (off, "out")) if some]  # fmt: skip
    yield f"{what}: {', '.join(parts) if parts else 'loops in another order'}"


def _midi(
    what: str, old: tuple[MidiSend, ...], new: tuple[MidiSend, ...], names: Names
) -> Iterator[str]:
    touched = {send.device: None for send in (*new, *old) if send not in old or send not in new}
    for device in touched:
        yield f"{what}: what it sends to {visible(device)} changed"
    if not touched:
        yield f"{what}: MIDI in another order"


def _sections(
    what: str, old: tuple[Section, ...], new: tuple[Section, ...], names: Names
) -> Iterator[str]:
    matcher = SequenceMatcher(
        None, [hash(section) for section in old], [hash(section) for section in new], False
    )
    for tag, a, b, c, d in matcher.get_opcodes():
        if tag == "replace" and b - a == d - c:
            for was, now, at in zip(old[a:b], new[c:d], range(c, d)):
                place = f"{what}, section {at + 1} {visible(now.name)}"
                yield from _fields(place, was, now, Section.model_fields, names)
        elif tag != "equal":
            if b > a:
                yield f"{what}: {_named(old[a:b], a)} deleted"
            if d > c:
                yield f"{what}: {_named(new[c:d], c)} added"


def _named(sections: Sequence[Section], first: int) -> str:
    names = [f"{at} {visible(section.name)}" for at, section in enumerate(sections, first + 1)]
    return f"{'sections' if len(names) > 1 else 'section'} {first_few(names, 3)}"


def _sets(what: str, old: tuple[Set, ...], new: tuple[Set, ...], names: Names) -> Iterator[str]:
    titles = names["songs"]
    before = [song for part in old for song in part.songs]
    after = [song for part in new for song in part.songs]
    for song in dict.fromkeys(after):
        if after.count(song) > before.count(song):
            yield f"{what}: {visible(titles.get(song, song))} added"
    for song in dict.fromkeys(before):
        if before.count(song) > after.count(song):
            yield f"{what}: {visible(titles.get(song, song))} removed"
    if sorted(before) == sorted(after) and before != after:
        yield f"{what}: songs in another order"
    if len(old) != len(new):
        yield f"{what}: {count(len(old), 'set')} -> {count(len(new), 'set')}"
    elif [part.songs for part in old] != [part.songs for part in new] and before == after:
        yield f"{what}: songs moved between sets"
    for at, (was, now) in enumerate(zip(old, new), 1):
        yield from _fields(f"{what}, set {at}", was, now, ("name", "slot_minutes"), names)
