"""The set sheet: a set on one page, a song in a few lines, and of each song only the changes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from rigtui.model import Rig, Section, Set, Setlist, Song
from rigtui.model.lookup import lookup
from rigtui.model.place_words import set_title
from rigtui.model.playable import is_unplayable, nearest_stored
from rigtui.model.text import listed
from rigtui.moves import Change, Presses, SetUp, count_kind, count_setlist, count_song
from rigtui.moves.guitars import Guitars
from rigtui.moves.taps import Taps
from rigtui.moves.words import presses_in_words
from rigtui.paper.banks_picture import banks_picture
from rigtui.paper.content import (
    APART,
    CROWDED,
    TIED,
    Block,
    Column,
    Para,
    Part,
    Sheet,
    Table,
    day_in_words,
    trimmed,
)
from rigtui.paper.words import UNSTORED, banks_shown, hands_of, place_of, song_tempo, tap_words

ORDER = (
    Column("no."),
    Column("song, tempo", "lead"),
    Column("feet", "pieces"),
    Column("get ready", "under"),
    Column("hands", "under"),
)  # fmt: skip
START, ARROW, EACH = f"start{TIED}", "→", f"each{TIED}"
_NUMBER = re.compile(r"\s*\d+$")
_TIED_UP_TO = 20
"""Characters of a section's name that is never broken over lines."""
_TIMES = {1: "1st", 2: "2nd", 3: "3rd"}


class SetLine(NamedTuple):
    """What a player does on entering one section."""

    name: str
    """The section's, with its turn where the song has several of that name."""
    base: str
    """The same without the number at its end: "Chorus 2" is a Chorus."""
    feet: str
    """Empty where nothing is pressed."""
    hands: str
    """Empty where they stay as they are."""


def set_sheet(rig: Rig, setlist: Setlist, day: date) -> Sheet:
    """Describe the set sheet of a setlist: a page for each set."""
    when = f", {day_in_words(setlist.date)}" if setlist.date else ""
    parts = tuple(_sets(rig, setlist)) or (Part((Para("No songs yet."),)),)
    return Sheet("set", setlist.label, f"{rig.name}{when}", parts, day)


def _sets(rig: Rig, setlist: Setlist) -> Iterator[Part]:
    songs = lookup(rig).songs
    set_ups = iter(count_setlist(rig, setlist).set_ups)
    guitars, taps, at_start, bank = Guitars(), Taps(rig), True, 0
    for at, set_row in enumerate(setlist.sets):
        rows = []
        for place, song_id in enumerate(set_row.songs, 1):
            song = songs.get(song_id)
            if song is None:
                rows.append((str(place), f"{song_id}?", "no such song in the file", "", ""))
                continue
            before = [*guitars.swap_to(song, rig.player, at_start)[0].said]
            at_start, due = False, taps.due(song)
            before += [tap_words(song, 0)] if 0 in due else []
            feet, hands, bank = _song(rig, song, next(set_ups), bank, due)
            lead = f"{song.label}, {song_tempo(song)}"
            rows.append((str(place), lead, feet, ", ".join(before), hands))
        yield _set(rig, set_row, at, tuple(rows))


def _set(rig: Rig, set_row: Set, at: int, rows: tuple[tuple[str, ...], ...]) -> Part:
    title = set_title(set_row, at)
    blocks: list[Block] = [*banks_picture(rig), Para(_legend(rig), "small")]
    if rows:
        blocks.append(trimmed(Table(f"Songs of {title}", ORDER, rows)))
    else:
        blocks.append(Para("No songs yet."))
    return Part(tuple(blocks), title, new_page=at > 0, dense=True)


def _legend(rig: Rig) -> str:
    switcher = rig.switcher
    many = switcher is not None and switcher.banks > 1
    press = "2/3: bank 2, switch 3" if many else "3: switch 3"
    return (
        f"{press}. Each: all of that name. Not listed: no press. Boxed,{TIED}!: more on one beat "
        "than you allow."
    )


def _song(rig: Rig, song: Song, set_up: SetUp, bank: int, taps: list[int]) -> tuple[str, str, int]:
    """What feet and hands do in a song, and the bank shown at its end, from 0.

    `taps` are the sections whose tempo is tapped in.
    """
    if not song.sections:
        return "no sections yet", "", bank
    changes = count_song(rig, song).changes
    banks = banks_shown(rig, song, bank)
    first, names = song.sections[0], _names(song)
    start = _joined(_where(rig, first, banks[0]), _besides(rig, first, set_up.presses))
    opening = SetLine(*names[0], "", hands_of(rig, first, None))
    lines = [opening]
    for at, change in enumerate(changes, 1):
        section, before = song.sections[at], song.sections[at - 1]
        hands = [hands_of(rig, section, before), tap_words(song, at) if at in taps else ""]
        feet = _feet(rig, section, change, banks[at])
        lines.append(SetLine(*names[at], feet, ", ".join(filter(None, hands))))
    told = folded([(line.name, line.base, line.feet) for line in lines], skip_first=True)
    return APART.join((f"{START}{start}", *told)), _hands(lines), banks[-1]


def _hands(lines: list[SetLine]) -> str:
    """What the hands do, each thing once, after the sections that it is for."""
    told = folded([(line.name, line.base, line.hands) for line in lines])
    places: dict[str, list[str]] = {}
    for where, what in (said.split(ARROW, 1) for said in told):
        places.setdefault(what, []).append(where)
    return APART.join(f"{', '.join(where)}: {what}" for what, where in places.items())


def _names(song: Song) -> list[tuple[str, str]]:
    """The name of each section, told apart where two have the same, and its base."""
    often = Counter(section.name for section in song.sections)
    turn: Counter[str] = Counter()
    names = []
    for section in song.sections:
        turn[section.name] += 1
        nth = turn[section.name]
        told = f" ({_TIMES.get(nth, f'{nth}th')})" if often[section.name] > 1 else ""
        base = _NUMBER.sub("", section.name) or section.name
        names.append((_tied(section.name + told), base))
    return names


def _tied(name: str) -> str:
    """A section's name in one piece: a line that begins with "1→1/3" of "Hook 1" misleads."""
    return name.replace(" ", TIED) if len(name) <= _TIED_UP_TO else name


def folded(lines: list[tuple[str, str, str]], skip_first: bool = False) -> Iterator[str]:
    """Say what is done on entering sections, once for all of a base that are entered alike.

    Args:
        lines: Name, base and what is done (empty for nothing) of each section.
        skip_first: Whether the first is where the song starts, and says nothing of its like.
    """
    told = lines[1:] if skip_first else lines
    often = Counter(base for _, base, _ in lines)
    does: dict[str, set[str]] = {}
    for _, base, what in told:
        does.setdefault(base, set()).add(what)
    said: set[str] = set()
    for name, base, what in told:
        if not what:
            continue
        if len(does[base]) > 1 or often[base] == 1:
            yield f"{name}{ARROW}{what}"
        elif base not in said:
            said.add(base)
            yield f"{EACH}{_tied(base)}{ARROW}{what}"


def _feet(rig: Rig, section: Section, change: Change, bank: int) -> str:
    recalls = count_kind(change.presses, "switch") > 0 or section.preset not in lookup(rig).presets
    where = _where(rig, section, bank) if recalls else ""
    mark = CROWDED if change.on_the_beat > rig.player.moves_allowed else ""
    return _joined(where, _besides(rig, section, change.presses)) + mark


def _joined(*words: str) -> str:
    return " ".join(filter(None, words))


def _where(rig: Rig, section: Section, bank: int) -> str:
    """Where the section's sound is recalled, or what is stored nearest to it."""
    preset = lookup(rig).presets.get(section.preset or "")
    if preset is None:
        return "no sound chosen"
    place = place_of(rig, preset, bank)
    near = nearest_stored(rig, section) if place == UNSTORED else None
    if place != UNSTORED or (near is not None and not is_unplayable(rig, section)):
        return place if near is None else place_of(rig, near.preset, bank)
    if near is None:
        return "no memory"
    label = lookup(rig).label
    differs = [f"without {listed(map(label, near.missing))}"] if near.missing else []
    differs += [f"with {listed(map(label, near.too_many))}"] if near.too_many else []
    place = f"{place_of(rig, near.preset, bank)} {near.preset.label}"
    return " ".join([f"no memory: nearest {place}", *differs])


def _besides(rig: Rig, section: Section, presses: Presses) -> str:
    """What is pressed besides the switch; bank steps go without saying where a switch follows."""
    recalled = count_kind(presses, "switch") > 0
    rest = [
        press
        for press in presses
        if press.kind != "switch" and not (recalled and press.kind == "bank")
    ]
    words = presses_in_words(rig, section, rest, "short")
    return " ".join(f"+ {word}" if recalled else word for word in words)
