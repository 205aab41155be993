"""The forms for songs, sets and setlists: add, edit, delete."""

from __future__ import annotations

from typing import Any

from rigtui.model import EditError, Rig, Set, Setlist, Song
from rigtui.model.days import EXAMPLES
from rigtui.model.edits import (
    add_line,
    add_set,
    add_setlist,
    add_song,
    add_to_set,
    set_set,
    set_setlist,
    set_song,
)
from rigtui.model.edits.tables import place_of
from rigtui.model.song_line import LineFault
from rigtui.model.text import count, number_text, visible
from rigtui.moves.guitars import GuitarLeft, Guitars
from rigtui.tui.views.setlist.beat_asked import BEAT_HINT, beat_asked, beat_in_words
from rigtui.tui.views.setlist.form_fields import FormFields, told_day
from rigtui.tui.views.setlist.running_order import OrderPlace, RunningOrder
from rigtui.tui.views.setlist.section_forms import Ask, asked, tried
from rigtui.tui.views.setlist.section_line import line_field
from rigtui.tui.widgets.dialogs import Confirm, Form
from rigtui.tui.widgets.pick import Pick

NEW_SONG, NEW_SET, SPLIT = "new song", "new set", "split"
NEW_SETLIST, KNOWN = "new setlist", "song "


def add_pick(evening: RunningOrder, place: OrderPlace | None) -> Pick:
    """What can be added: something new, or a song of the file (those not yet played first)."""
    choices = [(NEW_SONG, "new song...")]
    if evening.setlist is not None:
        choices.append((NEW_SET, "new set... at the end"))
        if place is not None and place.kind == "song" and place.at > 0:
            song = evening.song(place)
            begins = song.label if song else place.song_id
            choices.append((SPLIT, f"new set from here on, beginning with {begins}"))
    choices.append((NEW_SETLIST, "new setlist..."))
    part = evening.part(place)
    where = ""
    if evening.setlist is not None:
        where = f" to {(part.name or 'the set') if part else evening.label}"
    if evening.setlist is not None:
        played = set(evening.setlist.song_ids)
        songs = sorted(evening.rig.songs, key=lambda song: song.id in played)
        choices += [
            (KNOWN + song.id, song.label + ("   (in this setlist)" if song.id in played else ""))
            for song in songs
        ]
    return Pick(f"Add{where}", choices)


def slot_after(evening: RunningOrder, place: OrderPlace | None) -> OrderPlace | None:
    """Where a song goes that is added at a place: behind a song, at the end of a set.

    None where no setlist is at hand; set 0 of a setlist without sets is still to be made.
    """
    setlist = evening.setlist
    if setlist is None:
        return None
    if place is None or place.set_at < 0:
        last = max(0, len(setlist.sets) - 1)
        return OrderPlace("song", last, len(setlist.sets[last].songs) if setlist.sets else 0)
    end = len(setlist.sets[place.set_at].songs)
    return OrderPlace("song", place.set_at, place.at + 1 if place.kind == "song" else end)


def left_before(evening: RunningOrder, place: OrderPlace | None) -> GuitarLeft:
    """The guitar, tuning and capo that the songs before a place leave; none where none is given.

    The place may be one where no song stands yet.
    """
    guitars = Guitars()
    spot = (place.set_at, place.at) if place is not None else (-1, -1)
    for earlier in evening.places:
        if (earlier.set_at, earlier.at) >= spot:
            continue
        song = evening.song(earlier) if earlier.kind == "song" and evening.setlist else None
        if song is not None:
            guitars.swap_to(song, evening.rig.player, False)
    return guitars.left()


def put_in_set(rig: Rig, setlist_id: str, slot: OrderPlace, song_id: str) -> Rig:
    """Play a song at a place of a setlist, making a first set where there is none."""
    if not rig.setlists[place_of(rig.setlists, setlist_id, "setlist")].sets:
        rig = add_set(rig, setlist_id, "First set")
    return add_to_set(rig, setlist_id, slot.set_at, song_id, slot.at)


def new_song_form(
    rig: Rig, setlist_id: str | None, slot: OrderPlace | None, ask: Ask, before: GuitarLeft
) -> Form:
    """A form for a new song with its sections in one line.

    Args:
        rig: The rig.
        setlist_id: The setlist that it is played in, if any.
        slot: Where in it.
        ask: Takes the edit.
        before: What the songs before it leave, which holds where it says nothing.
    """
    form = FormFields()
    form.add("title", "Title", None)
    form.add(
        "tempo", "Tempo", None, "beats per minute, e.g. 118, up to 1000", explain=beat_in_words
    )
    form.add("meter", "Meter", "4/4", explain=beat_in_words)
    form.fields.append(line_field(rig, None))
    form.add("beat", "Beat", None, BEAT_HINT, explain=beat_in_words)
    _add_guitar_fields(form, rig, None, before)

    def submit(given: dict[str, str]) -> str | None:
        title, meter = form.text(given, "title"), form.text(given, "meter")
        if not title:
            return "a song needs a title"
        try:
            tempo = form.needed(given, "tempo", "tempo")
        except EditError as error:
            return str(error)
        more: dict[str, Any] = {"meter": meter} if meter not in ("", "4/4") else {}
        try:
            values = {"beat": form.name(given, "beat"), **_guitar_values(form, given)}
        except EditError as error:
            return str(error)
        more |= {key: value for key, value in values.items() if value is not None}
        line = given["sections"]

        def edit(old: Rig) -> Rig:
            new = add_song(old, title, tempo, **more)
            song_id = new.songs[-1].id
            try:
                new = add_line(new, song_id, line, 0)
            except LineFault as fault:
                raise EditError(f"sections, {fault}") from None
            if setlist_id is not None and slot is not None:
                new = put_in_set(new, setlist_id, slot, song_id)
            return new

        fault = tried(edit, rig) or beat_asked(given)
        if fault is None:
            ask(f"add {title}", edit)
        return fault

    return Form("New song", form.fields, submit)


def song_form(rig: Rig, song: Song, ask: Ask, before: GuitarLeft | None = None) -> Form:
    """A form with everything that belongs to a song but its sections.

    Args:
        rig: The rig.
        song: The song.
        ask: Takes the edit.
        before: What the songs before it in the setlist leave, which holds where it says nothing.
    """
    form = FormFields()
    form.add("title", "Title", song.label)
    form.add("tempo", "Tempo", song.tempo, "beats per minute, up to 1000", explain=beat_in_words)
    form.add("meter", "Meter", song.meter, explain=beat_in_words)
    form.add("beat", "Beat", song.beat, BEAT_HINT, explain=beat_in_words)
    _add_guitar_fields(form, rig, song, before if before is not None else GuitarLeft())
    form.add("note", "Note", song.note)

    def submit(given: dict[str, str]) -> str | None:
        try:
            values: dict[str, Any] = {
                "title": form.text(given, "title"),
                "tempo": form.needed(given, "tempo", "tempo"),
                "meter": form.text(given, "meter") or "4/4",
                "beat": form.name(given, "beat"),
                **_guitar_values(form, given),
                "note": form.text(given, "note"),
            }
        except EditError as error:
            return str(error)
        if values["title"] == song.id and not song.title:
            values.pop("title")

        def edit(old: Rig) -> Rig:
            return set_song(old, song.id, **values)

        if (given["tempo"], given["meter"]) != was and (fault := beat_asked(given)):
            return tried(edit, rig) or fault
        return asked(f"edit {song.label}", edit, rig, ask)

    was = number_text(song.tempo), song.meter
    return Form(f"Song {song.label}", form.fields, submit, f"Setlists use its id: {song.id}")


def _add_guitar_fields(form: FormFields, rig: Rig, song: Song | None, left: GuitarLeft) -> None:
    """What it is played on, and the time after it; what holds where nothing is written is shown."""

    def of(key: str) -> Any:
        return getattr(song, key) if song else None

    form.add("guitar", "Guitar", of("guitar"), _as_before(left.guitar))
    form.add("tuning", "Tuning", of("tuning"), _as_before(left.tuning))
    form.add("capo", "Capo", of("capo"), f"fret, 0 to 24; {_as_before(left.capo)}")
    gap = number_text(rig.player.gap_seconds)
    form.add("gap_seconds", "Gap after", of("gap_seconds"), f"seconds, 0 to 7200; yours: {gap}")


def _guitar_values(form: FormFields, given: dict[str, str]) -> dict[str, Any]:
    return {
        "guitar": form.name(given, "guitar"),
        "tuning": form.name(given, "tuning"),
        "capo": form.whole(given, "capo", "capo"),
        "gap_seconds": form.number(given, "gap_seconds", "gap after"),
    }


def _as_before(value: str | int | None) -> str:
    """What holds where a song says nothing: the value of the songs before it, marked as theirs."""
    if value is None:
        return "no song before it says one"
    return f"as the song before: {visible(str(value))}"


def set_form(rig: Rig, setlist: Setlist, at: int | None, ask: Ask) -> Form:
    """A form for the set at a place of a setlist, or for a new one at its end."""
    part = Set(songs=()) if at is None else setlist.sets[at]
    form = FormFields()
    form.add("name", "Name", part.name, f"e.g. Set {len(setlist.sets) + 1}")
    form.add(
        "slot_minutes", "Slot", part.slot_minutes, "minutes that the venue gives it, up to 1440"
    )

    def submit(given: dict[str, str]) -> str | None:
        name = form.text(given, "name")
        if at is None and not name:
            return "a set needs a name"
        try:
            slot = form.number(given, "slot_minutes", "slot")
        except EditError as error:
            return str(error)

        def edit(old: Rig) -> Rig:
            if at is not None:
                return set_set(old, setlist.id, at, name=name, slot_minutes=slot)
            new = add_set(old, setlist.id, name)
            last = len(new.setlists[place_of(new.setlists, setlist.id, "setlist")].sets) - 1
            return new if slot is None else set_set(new, setlist.id, last, slot_minutes=slot)

        return asked(f"{'add' if at is None else 'edit'} set {name}", edit, rig, ask)

    title = f"New set of {setlist.label}" if at is None else f"Set {at + 1} of {setlist.label}"
    return Form(title, form.fields, submit)


def setlist_form(rig: Rig, setlist: Setlist | None, ask: Ask) -> Form:
    """A form for a setlist, or for a new one."""
    form = FormFields()
    form.add("name", "Name", setlist.label if setlist else None, "e.g. Friday at the boathouse")
    form.add(
        "date",
        "Date",
        setlist.date if setlist else None,
        "such as " + EXAMPLES,
        explain=lambda given: told_day(given["date"]),
    )
    form.add("note", "Note", setlist.note if setlist else None)

    def submit(given: dict[str, str]) -> str | None:
        name = form.text(given, "name")
        if not name:
            return "a setlist needs a name"
        try:
            values: dict[str, Any] = {"date": form.day(given, "date")}
        except EditError as error:
            return str(error)
        values["note"] = form.text(given, "note")
        if setlist is None or name != setlist.label:
            values["name"] = name

        def edit(old: Rig) -> Rig:
            if setlist is not None:
                return set_setlist(old, setlist.id, **values)
            given_values = {key: value for key, value in values.items() if value not in (None, "")}
            return add_setlist(old, given_values.pop("name"), **given_values)

        return asked(f"{'edit' if setlist else 'add'} {name}", edit, rig, ask)

    title = f"Setlist {setlist.label}" if setlist else "New setlist"
    return Form(title, form.fields, submit)


def remove_song_confirm(evening: RunningOrder, place: OrderPlace, song: Song) -> Confirm:
    """Ask whether a song leaves its set, or the file."""
    plays = evening.plays[song.id]
    if evening.setlist is None:
        where = f", and remove it from {count(plays, 'place')} in setlists" if plays else ""
        return Confirm(f"Delete {song.label}?", [("x", f"delete it{where}")])
    part = evening.part(place)
    others = f", and from {count(plays - 1, 'other place')} in setlists" if plays > 1 else ""
    return Confirm(
        f"Take {song.label} out of {(part.name if part else '') or 'its set'}?",
        [
            ("x", "remove it here; the song stays in the file"),
            ("f", f"delete it from the file too{others}"),
        ],
    )


def remove_ticked_confirm(evening: RunningOrder, songs: str) -> Confirm:
    """Ask whether the ticked songs leave their sets, or the file."""
    if evening.setlist is None:
        return Confirm(f"Delete {songs}?", [("x", "delete them, also from every setlist")])
    return Confirm(
        f"Take {songs} out of {evening.label}?",
        [("x", "remove them here; the songs stay in the file")],
    )


def remove_confirm(what: str, songs: int) -> Confirm:
    """Ask whether a set or a setlist goes that has songs."""
    stay = "stays" if songs == 1 else "stay"
    label = f"delete it; its {count(songs, 'song')} {stay} in the file"
    return Confirm(f"Delete {what}?", [("x", label)])
