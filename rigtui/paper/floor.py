"""The floor sheet: the setlist in big type, song by song, with what feet and hands do.

What is read from standing height comes first and is big: the song, the section, the switch to
press, the sound. All else stands under it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from rigtui.model import Rig, Section, Set, Setlist, Song
from rigtui.model.lookup import lookup
from rigtui.model.place_words import set_title
from rigtui.model.text import count, number_text
from rigtui.moves import Presses, SetUp, count_kind, count_setlist, count_song
from rigtui.moves.guitars import Guitars
from rigtui.moves.taps import Taps
from rigtui.paper.content import (
    Block,
    Column,
    Heading,
    Para,
    Part,
    Sheet,
    Table,
    day_in_words,
    trimmed,
)
from rigtui.paper.words import (
    UNSTORED,
    banks_shown,
    count_of_beats,
    hands_of,
    lean_feet,
    place_of,
    song_facts,
    song_tempo,
    sound_of,
    tap_words,
    times_of,
)

ORDER = (Column("no.", "big"), Column("song", "big"), Column("tempo"), Column("get ready", "under"))
SECTIONS = (
    Column("section", "big"),
    Column("bars"),
    Column("press", "big"),
    Column("sound", "big"),
    Column("feet", "under"),
    Column("cue", "under"),
    Column("hands", "under"),
)
STAY = "in brackets: you are there already, leave that switch"
STEPS = {"up": "↑", "down": "↓"}


def floor_sheet(rig: Rig, setlist: Setlist, day: date) -> Sheet:
    """Describe the floor sheet of a setlist: a page starts with each set."""
    totals = count_setlist(rig, setlist)
    when = f", {day_in_words(setlist.date)}" if setlist.date else ""
    subtitle = (
        f"{rig.name}{when}: {count(totals.moves, 'move')} in the songs, "
        f"{totals.set_up_moves} between them"
    )
    first, *rest = floor_parts(rig, setlist) or [Part((Para("No songs yet."),), big=True)]
    first = replace(first, blocks=(Para(_legend(rig), "small"), *first.blocks))
    return Sheet("floor", setlist.label, subtitle, (first, *rest), day)


def floor_parts(rig: Rig, setlist: Setlist) -> list[Part]:
    """Describe the sets of a setlist: the order of songs, then a part for each song."""
    known = lookup(rig)
    set_ups = iter(count_setlist(rig, setlist).set_ups)
    guitars, taps, at_start, bank = Guitars(), Taps(rig), True, 0
    parts: list[Part] = []
    for at, set_row in enumerate(setlist.sets):
        swaps: list[str] = []
        due: list[list[int]] = []
        for song_id in set_row.songs:
            song = known.songs.get(song_id)
            words: list[str] = []
            due.append(taps.due(song) if song is not None else [])
            if song is not None:
                words += guitars.swap_to(song, rig.player, at_start)[0].said
                words += [tap_words(song, 0)] if 0 in due[-1] else []
                at_start = False
            swaps.append(", ".join(words))
        parts.append(_order(rig, set_row, at, swaps))
        for place, (song_id, swap, taps_here) in enumerate(zip(set_row.songs, swaps, due), 1):
            song = known.songs.get(song_id)
            if song is not None:
                parts.append(_song_part(rig, song, place, next(set_ups), swap, bank, taps_here))
                bank = banks_shown(rig, song, bank)[-1]
    return parts


def _order(rig: Rig, set_row: Set, at: int, swaps: list[str]) -> Part:
    songs = lookup(rig).songs
    title = set_title(set_row, at)
    rows = tuple(
        (str(place), songs[song_id].label, song_tempo(songs[song_id]), swap)
        if song_id in songs
        else (str(place), f"{song_id}?", "", "no such song in the file")
        for place, (song_id, swap) in enumerate(zip(set_row.songs, swaps), 1)
    )
    table = trimmed(Table(f"Songs of {title}", ORDER, rows))
    block = table if rows else Para("No songs yet.")
    return Part((block,), title, new_page=at > 0, big=True)


def _song_part(
    rig: Rig, song: Song, place: int, set_up: SetUp, swap: str, bank: int, taps: list[int]
) -> Part:
    """Describe one song: how it starts, and a row for each section.

    `bank`, from 0, is the one shown before it; `taps` are the sections whose tempo is tapped in.
    """
    blocks: list[Block] = [
        Heading(f"{place}  {song.label}"),
        Para(song_facts(song) + (f". Get ready: {swap}" if swap else ""), "strong"),
    ]
    if song.sections:
        blocks.append(_sections(rig, song, set_up, bank, taps))
    else:
        blocks.append(Para("No sections yet."))
    if song.note:
        blocks.append(Para(song.note))
    return Part(tuple(blocks), big=True)


def _sections(rig: Rig, song: Song, set_up: SetUp, bank: int, taps: list[int]) -> Table:
    changes, banks = count_song(rig, song).changes, banks_shown(rig, song, bank)
    rows, strong = [], []
    for at, section in enumerate(song.sections):
        before = song.sections[at - 1] if at else None
        crowded = at > 0 and changes[at - 1].on_the_beat > rig.player.moves_allowed
        if crowded:
            strong.append(at)
        presses = changes[at - 1].presses if at else set_up.presses
        pressed = _feet(rig, section, presses, timed=at > 0)
        tapped = tap_words(song, at) if at and at in taps else ""
        told = f"{pressed}, before the song" if pressed and not at else pressed
        rows.append(
            (
                ("! " if crowded else "") + section.name,
                ("about " if section.until else "") + number_text(section.bars),
                _switch(rig, section, presses, banks[at]),
                sound_of(rig, section),
                ", ".join(filter(None, (told, tapped))),
                _cue(song, section, before),
                hands_of(rig, section, before),
            )
        )
    return trimmed(Table(f"Sections of {song.label}", SECTIONS, tuple(rows), tuple(strong)))


def _feet(rig: Rig, section: Section, presses: Presses, timed: bool) -> str:
    """What is pressed besides bank steps and the switch, which are large beside it."""
    preset = lookup(rig).presets.get(section.preset or "")
    stored = preset is not None and place_of(rig, preset) != UNSTORED
    kinds = {press.kind for press in presses}
    if stored and kinds in (set(), {"switch"}, {"bank", "switch"}):
        return ""
    return lean_feet(rig, section, presses, timed=timed)


def _switch(rig: Rig, section: Section, presses: Presses, bank: int) -> str:
    """Where the section's preset is; in brackets where it is recalled already."""
    preset = lookup(rig).presets.get(section.preset or "")
    if preset is None:
        return "?"
    place = place_of(rig, preset, bank)
    steps = "".join(STEPS[str(press.what)] for press in presses if press.kind == "bank")
    return f"{steps}{place}" if count_kind(presses, "switch") else f"({place})"


def _cue(song: Song, section: Section, before: Section | None) -> str:
    said = [
        section.cue,
        section.rest_beats and f"rest {count_of_beats(section.rest_beats)} first",
        times_of(song, section, before),
        section.until and f"repeat until {section.until}",
    ]
    return "; ".join(str(words) for words in said if words)


def _legend(rig: Rig) -> str:
    switcher = rig.switcher
    many = switcher is not None and switcher.banks > 1
    press = "↑2/3: bank up, then switch 3 of bank 2" if many else "3: switch 3"
    allowed = count(rig.player.moves_allowed, "move")
    return f"{press}; {STAY}; !: more than {allowed} on the beat."
