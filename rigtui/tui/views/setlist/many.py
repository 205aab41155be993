"""Keys that act on many sections or songs: ticks, copy and paste, all of a name, like a song."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.model.edits import add_songs_to_set
from rigtui.model.edits.mapping import (
    fill_down,
    map_all_of_name,
    map_like_song,
    others_of_name,
    put_sections,
    shared_names,
)
from rigtui.model.lookup import lookup
from rigtui.model.song_line import line_of, part_of
from rigtui.model.song_line.parts import base_and_number
from rigtui.model.text import count, visible
from rigtui.store.importing.title_list_text import list_text
from rigtui.tui.views.setlist.forms import slot_after
from rigtui.tui.views.setlist.panes import EveningPane, SectionsPane, Stand
from rigtui.tui.views.setlist.section_forms import several_form
from rigtui.tui.widgets.pick import Pick

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Song

THIS_SONG, THIS_SET, EVERYWHERE = "song", "set", "everywhere"


def map_all(pane: SectionsPane) -> None:
    """Ask where all sections of this one's name are to get its mapping, and give it to them."""
    rig, song, section, at = pane.rig, pane.song, pane.section, pane.section_at
    if rig is None or song is None or section is None:
        return
    name = base_and_number(section.name)[0]
    scopes = {
        THIS_SONG: ("in this song", (song.id,)),
        THIS_SET: ("in this set", pane.set_songs),
        EVERYWHERE: ("in every song", tuple(row.id for row in rig.songs)),
    }
    choices = []
    for scope, (words, song_ids) in scopes.items():
        others = others_of_name(rig, section, song_ids)
        if song_ids:
            said = f"{count(others, 'section')} on another preset" if others else "all are already"
            choices.append((scope, f"{words}: {said}"))

    def chosen(answer: str | None) -> None:
        if answer is not None:
            words, song_ids = scopes[answer]
            pane.ask(
                f"map every {name} {words}",
                lambda old: map_all_of_name(old, song.id, at, song_ids),
            )

    preset = lookup(rig).presets.get(section.preset or "")
    to = preset.label if preset else "no preset"
    pedals = "".join(f" +{pedal}" for pedal in section.plus)
    pedals += "".join(f" -{pedal}" for pedal in section.minus)
    title = visible(f"Map every {name} to {to}{pedals}")
    pane.app.push_screen(Pick(title, choices, hint="where?"), chosen)


def map_like(pane: SectionsPane) -> None:
    """Ask for a song, and map this one's sections as it does those of the same names."""
    rig, song = pane.rig, pane.song
    if rig is None or song is None:
        return
    shared = [(shared_names(song, other), other) for other in rig.songs if other is not song]
    shared = sorted((row for row in shared if row[0]), key=lambda row: -row[0])
    if not shared:
        pane.notify("No other song has a section with the same name.", markup=False)
        return
    total = len(song.sections)
    choices = [(other.id, f"{other.label}   {number} of {total}") for number, other in shared]

    def chosen(answer: str | None) -> None:
        if answer is not None:
            label = lookup(rig).songs[answer].label
            pane.ask(
                f"map {song.label} like {label}", lambda old: map_like_song(old, song.id, answer)
            )

    pane.app.push_screen(Pick(f"Map {visible(song.label)} like", choices), chosen)


def fill(pane: SectionsPane) -> None:
    """Give the ticked sections the mapping of the first; else the next one that of this one."""
    song, section, at = pane.song, pane.section, pane.section_at
    if song is None or section is None:
        return
    places = pane.places if len(pane.places) > 1 else [at, at + 1]
    if places[-1] >= len(song.sections):
        pane.notify("There is no section below this one.", markup=False)
        return
    label = f"fill {section.name} down in {song.label}"
    stay = at if len(pane.places) > 1 else at + 1
    pane.ask(label, lambda rig: fill_down(rig, song.id, places), lambda _: stay)


def copy_sections(pane: SectionsPane) -> None:
    """Copy the ticked sections, or the one under the cursor."""
    song = pane.song
    if song is None or not pane.places:
        return
    rows = tuple(song.sections[at] for at in pane.places)
    pane.clip.sections = rows
    pane.app.copy_to_clipboard(line_of(part_of(row) for row in rows))
    pane.notify(f"{count(len(rows), 'section')} copied: v pastes them", markup=False)


def paste_sections(pane: SectionsPane, text: str = "") -> None:
    """Put copied sections in behind the cursor; pasted text comes as a line to be looked at."""
    rig, song = pane.rig, pane.song
    if rig is None or song is None:
        return
    at = pane.section_at + 1 if pane.section is not None else 0
    rows = pane.clip.sections
    if text or not rows:
        form = several_form(
            rig, song, at, lambda label, edit: pane.ask(label, edit, lambda _: at), text
        )
        pane.app.push_screen(form)
        return
    pane.ask(
        f"put {count(len(rows), 'section')} into {song.label}",
        lambda old: put_sections(old, song.id, rows, at),
        lambda _: at,
    )


def _songs_of(pane: EveningPane) -> list[Song]:
    """The songs ticked, or of the set, or the one under the cursor."""
    evening, place = pane.evening, pane.place
    if evening is None or place is None:
        return []
    if pane.ticked:
        places = [row for row in evening.places if row in pane.ticked]
    elif place.kind == "set":
        places = [row for row in evening.places if row.set_at == place.set_at]
    else:
        places = [place]
    return [song for row in places if (song := evening.song(row)) is not None]


def copy_songs(pane: EveningPane) -> None:
    """Copy the ticked songs, those of the set, or the one under the cursor."""
    songs = _songs_of(pane)
    if not songs:
        pane.notify("Nothing to copy here: go to a song or a set.", markup=False)
        return
    pane.clip.song_ids = tuple(song.id for song in songs)
    pane.app.copy_to_clipboard(list_text([("", songs)]))
    pane.notify(f"{count(len(songs), 'song')} copied: v pastes them elsewhere", markup=False)


def paste_copied_songs(pane: EveningPane) -> bool:
    """Play copied songs behind the cursor; False where there are none to play here."""
    evening = pane.evening
    slot = slot_after(evening, pane.place) if evening else None
    if evening is None or evening.setlist is None or slot is None or not evening.setlist.sets:
        return False
    ids = [song_id for song_id in pane.clip.song_ids if song_id in evening.rows_by_id.songs]
    if not ids:
        return False
    setlist_id = evening.setlist.id

    def put(rig: Rig) -> Rig:
        return add_songs_to_set(rig, setlist_id, slot.set_at, ids, slot.at)

    stand = Stand(slot._replace(song_id=ids[0]), setlist_id)
    pane.ask(f"play {count(len(ids), 'song')}", put, lambda _: stand)
    return True
