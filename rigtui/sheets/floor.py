"""The floor sheet: the setlist in big type, song by song, with what feet and hands do."""

from __future__ import annotations

from datetime import date

from rigtui.model import Rig, Setlist, Song
from rigtui.model.lookup import lookup
from rigtui.model.text import count
from rigtui.moves import SetUp, count_setlist, count_song
from rigtui.moves.words import presses_in_words
from rigtui.sheets.content import Block, Heading, Para, Part, Sheet, Table
from rigtui.sheets.words import feet, hands_of, place_of, song_facts, sound_of


def floor_sheet(rig: Rig, setlist: Setlist, day: date) -> Sheet:
    """Describe the floor sheet of a setlist: a page starts with each set."""
    found = lookup(rig)
    totals = count_setlist(rig, setlist)
    set_ups = iter(totals.set_ups)
    parts: list[Part] = []
    for at, part in enumerate(setlist.sets):
        songs = [found.songs[song] for song in part.songs if song in found.songs]
        title = part.name or f"Set {at + 1}"
        rows = tuple((str(n), song.label, song_facts(song)) for n, song in enumerate(songs, 1))
        order = Table(f"Songs of {title}", ("", "song", ""), rows, (0.08, 0.5, 0.42), big=True)
        parts.append(Part((order,), title, new_page=at > 0))
        for place, song in enumerate(songs, 1):
            parts.append(song_part(rig, song, place, next(set_ups)))
    when = f", {setlist.date:%d %B %Y}" if setlist.date else ""
    subtitle = (
        f"{rig.name}{when}: {count(totals.moves, 'move')} in the songs, "
        f"{totals.set_up_moves} between them"
    )
    return Sheet("floor", setlist.label, subtitle, tuple(parts), day)


def song_part(rig: Rig, song: Song, place: int, set_up: SetUp | None) -> Part:
    """Describe one song: how it starts, and a row for each section."""
    counted = count_song(rig, song)
    allowed = rig.player.moves_allowed
    blocks: list[Block] = [Heading(f"{place}  {song.label}"), Para(song_facts(song), "strong")]
    if set_up is not None and set_up.presses and song.sections:
        words = presses_in_words(rig, song.sections[0], set_up.presses)
        blocks.append(Para("Before it: " + ", ".join(words)))
    rows, strong = [], set()
    for at, section in enumerate(song.sections):
        change = counted.changes[at - 1] if at else None
        before = song.sections[at - 1] if at else None
        crowded = change is not None and change.on_the_beat > allowed
        if crowded:
            strong.add(at)
        name = ("! " if crowded else "") + section.name
        press = feet(rig, section, change) or ("start" if at == 0 else "-")
        rows.append(
            (
                name,
                _switch(rig, section.preset),
                sound_of(rig, section),
                press,
                "; ".join(filter(None, (section.cue, hands_of(rig, section, before)))),
            )
        )
    if rows:
        head = ("section", "bank/switch", "sound", "feet", "hands, cue")
        table = Table(
            f"Sections of {song.label}",
            head,
            tuple(rows),
            (0.18, 0.1, 0.24, 0.26, 0.22),
            frozenset(strong),
            big=True,
        )
        blocks.append(table)
    else:
        blocks.append(Para("No sections yet."))
    if song.note:
        blocks.append(Para(song.note))
    return Part(tuple(blocks))


def _switch(rig: Rig, preset_id: str | None) -> str:
    preset = lookup(rig).presets.get(preset_id or "")
    return place_of(rig, preset) if preset else "?"
