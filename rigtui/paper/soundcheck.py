"""The soundcheck card: what to check in which order, sound by sound, and solo against rhythm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from typing import NamedTuple

from rigtui.model import Preset, Rig, Setlist
from rigtui.model.lookup import alone, lookup
from rigtui.model.playable import is_unplayable, nearest_stored
from rigtui.model.text import count, first_few, listed
from rigtui.paper.cautions import HEARING, HEARING_SOURCE, VALVES
from rigtui.paper.content import BOX, Column, Para, Part, Sheet, Table, trimmed
from rigtui.paper.words import UNSTORED, place_of, preset_hands, song_tempo

STEPS = (Column("no."), Column("what"), Column("listen for"), Column("done", "boxes"))
SOUNDS = (
    Column("press"), Column("sound"), Column("hands"), Column("listen for"),
    Column("done", "boxes"),
)  # fmt: skip
SOLOS = (
    Column("solo"), Column("after"), Column("songs"), Column("listen for"), Column("done", "boxes"),
)  # fmt: skip
LIFT = "3 to 6 dB"
"""How much louder a solo is than what it comes out of. Source: common practice."""
_WAYS, _SONGS = 2, 3
"""Sounds that a solo comes out of, and songs, which are named of it."""
_ORDER = ("rhythm", "clean", "high-gain", "other", "ambient", "lead")
"""Roles in the order to check them: the band's level first, solos against it last. Source: common
practice."""
_LISTEN = {
    "clean": "as loud as {first}, clear when you dig in",
    "rhythm": "as loud as {first}; the voice has its room",
    "high-gain": "as loud as {first}: alone it seems louder",
    "other": "as loud as {first}",
    "ambient": "under the voice, gone before the next change",
    "lead": LIFT + " over what it comes out of",
}
"""Source: common practice."""


class _Heard(NamedTuple):
    """What of an evening the card needs."""

    sections: Counter[str]
    """Sections on each preset."""
    solos: dict[tuple[str, str], dict[str, None]]
    """Songs by the preset of a solo and the one that it comes out of."""
    pedals: set[str]
    """Ids of the pedals that are heard."""


def soundcheck_card(rig: Rig, setlist: Setlist, day: date) -> Sheet:
    """Describe the soundcheck card of a setlist: the line, each sound, solos, the end."""
    heard = _heard(rig, setlist)
    sounds = _in_order(rig, heard)
    parts = [
        Part((_table("The line", _line(rig)),), "The line"),
        *_sounds(rig, sounds),
        *_solos(rig, heard),
        Part((_table("At the end", _end(rig, setlist, heard)),), "At the end"),
        Part(
            (
                Para(HEARING, "caution"), Para(VALVES, "caution"),
                Para(f"Sources: {HEARING_SOURCE}; else common practice.", "small"),
            ),
            "Before you turn up",
        ),
    ]  # fmt: skip
    subtitle = f"{rig.name}: {count(len(sounds), 'sound')} to check"
    return Sheet("soundcheck", f"Soundcheck: {setlist.label}", subtitle, tuple(parts), day)


def _heard(rig: Rig, setlist: Setlist) -> _Heard:
    known = lookup(rig)
    heard = _Heard(Counter(), {}, set())
    for song_id in setlist.song_ids:
        song = known.songs.get(song_id)
        sections = [row for row in song.sections if row.preset in known.presets] if song else []
        for section in sections:
            heard.sections[section.preset or ""] += 1
            heard.pedals.update(known.sound(section))
        for before, after in pairwise(row.preset or "" for row in sections):
            if _is_lead(known.presets[after]) and not _is_lead(known.presets[before]):
                songs = heard.solos.setdefault((after, before), {})
                songs.setdefault(song.label if song else "")
    return heard


def _is_lead(preset: Preset) -> bool:
    return preset.role == "lead"


def _in_order(rig: Rig, heard: _Heard) -> list[Preset]:
    """The sounds of an evening: what is played most sets the level and comes first."""
    used = [preset for preset in rig.presets if preset.id in heard.sections]

    def rank(preset: Preset) -> tuple[int, int]:
        return _ORDER.index(preset.role), -heard.sections[preset.id]

    def played(preset: Preset) -> tuple[bool, int]:
        return preset.role not in ("lead", "ambient"), heard.sections[preset.id]

    if not used:
        return []
    first = max(used, key=played)
    return [first, *sorted((preset for preset in used if preset is not first), key=rank)]


def _table(caption: str, rows: Iterator[tuple[str, str]]) -> Table:
    numbered = ((str(at), what, sign, BOX) for at, (what, sign) in enumerate(rows, 1))
    return Table(caption, STEPS, tuple(numbered))


def _line(rig: Rig) -> Iterator[tuple[str, str]]:
    """From the amp backwards: what is quiet alone is at fault with what was added last."""
    known = lookup(rig)
    amp = rig.amp.name or "Amp"
    yield f"{amp} alone, guitar straight in", "the level for this room, no hum"
    yield "The board between, all loops off", "not duller, quieter, noisier"
    inside = [
        f"{loop.number} {listed(map(known.label, loop.pedals))}"
        for loop in rig.loops
        if loop.pedals
    ]
    if inside:
        yield f"Each loop alone: {'; '.join(inside)}", "on and off, no crackle or jump"
    outside = [pedal for pedal in known.outside() if pedal.used not in ("home", "always")]
    if outside:
        mutes = ", the tuner mutes" if any(pedal.kind == "tuner" for pedal in outside) else ""
        yield f"Outside: {'; '.join(pedal.label for pedal in outside)}", f"each works{mutes}"


def _sounds(rig: Rig, sounds: list[Preset]) -> list[Part]:
    if not sounds:
        return [Part((Para("No song says which sounds it needs."),), "Each sound")]
    rows = []
    for at, preset in enumerate(sounds):
        listen = _LISTEN[preset.role].format(first=sounds[0].label)
        if not at:
            listen = "set all others against its level"
        place, listen = _place(rig, preset), _more(rig, preset, listen)
        if place == UNSTORED:
            listen = "in no memory: you can't recall it tonight"
        rows.append((place, preset.label, preset_hands(preset), listen, BOX))
    return [Part((trimmed(Table("Each sound", SOUNDS, tuple(rows))),), "Each sound, with the band")]


def _place(rig: Rig, preset: Preset) -> str:
    """Where a sound is recalled: its own memory, or one that switches the very same."""
    place = place_of(rig, preset)
    if place == UNSTORED and not is_unplayable(rig, alone(preset)):
        near = nearest_stored(rig, alone(preset))
        return place_of(rig, near.preset) if near is not None else UNSTORED
    return place


def _more(rig: Rig, preset: Preset, listen: str) -> str:
    """What its pedals want to be listened for as well. Source: common practice."""
    known = lookup(rig)
    said, pedals = [listen], [known.pedals[name] for name in known.preset_pedals(preset)]
    if any(pedal.kind == "gate" for pedal in pedals):
        said.append("stops silent, long notes whole")
    if any(pedal.kind == "delay" and pedal.tap for pedal in pedals):
        said.append("echoes in time once tapped")
    return "; ".join(said)


def _solos(rig: Rig, heard: _Heard) -> list[Part]:
    presets, often = lookup(rig).presets, sorted(heard.solos.items(), key=lambda row: -len(row[1]))
    rows: list[tuple[str, ...]] = []
    for lead in (preset for preset in rig.presets if _place(rig, preset) != UNSTORED):
        befores = [(presets[before], songs) for (solo, before), songs in often if solo == lead.id]
        rows += [
            (_named(rig, lead), _named(rig, before), first_few(list(songs), _SONGS), f"{LIFT} up",
             BOX)
            for before, songs in befores
            if _place(rig, before) != UNSTORED
        ][:_WAYS]  # fmt: skip
    if not rows:
        return []
    title = "Solo against rhythm"
    note = "Play the end of one and the start of the other, with the band."
    return [Part((Table(title, SOLOS, tuple(rows)), Para(note, "small")), title)]


def _named(rig: Rig, preset: Preset) -> str:
    return f"{_place(rig, preset)} {preset.label}"


def _end(rig: Rig, setlist: Setlist, heard: _Heard) -> Iterator[tuple[str, str]]:
    known = lookup(rig)
    used = [pedal for pedal in rig.pedals if pedal.id in heard.pedals]
    gates = [pedal.label for pedal in used if pedal.kind == "gate"]
    if gates:
        yield f"{listed(gates)}, with the lights of the room on", "shut when you stop playing"
    taps = [pedal.label for pedal in used if pedal.tap]
    songs = [known.songs[song_id] for song_id in setlist.song_ids if song_id in known.songs]
    if taps and songs:
        yield f"Tap {song_tempo(songs[0])} for {songs[0].label}: {listed(taps)}", "in time"
    if rig.switcher is not None and rig.switcher.banks > 1:
        yield f"Up to bank {rig.switcher.banks} and back", "banks come as shown"
    yield "Once without the board, guitar straight in", "your way if the board dies"
