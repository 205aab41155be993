"""The keys of the evening's list: each asks for one edit, and says where the cursor goes after
it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.model.edits import (
    add_songs_to_set,
    add_to_set,
    delete_set,
    delete_setlist,
    delete_song,
    duplicate_set,
    duplicate_setlist,
    duplicate_song,
    join_set,
    move_in_set,
    move_set,
    move_setlist,
    move_several_in_sets,
    move_song,
    move_songs,
    remove_from_set,
    split_set,
)
from rigtui.model.lookup import lookup
from rigtui.model.place_words import set_title
from rigtui.model.text import count
from rigtui.tui.views.setlist.forms import (
    KNOWN,
    NEW_SET,
    NEW_SETLIST,
    NEW_SONG,
    SPLIT,
    add_pick,
    left_before,
    new_song_form,
    put_in_set,
    remove_confirm,
    remove_song_confirm,
    remove_ticked_confirm,
    set_form,
    setlist_form,
    slot_after,
    song_form,
)
from rigtui.tui.views.setlist.panes import EveningPane, Stand
from rigtui.tui.views.setlist.running_order import OrderPlace, RunningOrder
from rigtui.tui.views.setlist.section_forms import line_form

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Setlist
    from rigtui.tui.views.setlist.section_forms import Edit


def add(pane: EveningPane) -> None:
    """Ask what to add: a new song, one of the file, a set, a setlist."""
    evening, place = pane.evening, pane.place
    if evening is None:
        return

    def chosen(answer: str | None) -> None:
        if answer == NEW_SONG:
            _add_new_song(pane, evening, place)
        elif answer == NEW_SET:
            _add_set(pane, evening)
        elif answer == SPLIT:
            split(pane)
        elif answer == NEW_SETLIST:
            _add_setlist(pane, evening)
        elif answer is not None:
            _add_known_song(pane, evening, place, answer.removeprefix(KNOWN))

    pane.app.push_screen(add_pick(evening, place), chosen)


def _add_new_song(pane: EveningPane, evening: RunningOrder, place: OrderPlace | None) -> None:
    slot = slot_after(evening, place)

    def stand(new: Rig) -> Stand:
        at = slot or OrderPlace("song", -1, len(new.songs) - 1)
        song_id = new.songs[-1].id
        return Stand(at._replace(song_id=song_id), evening.setlist_id, enter=True)

    def ask(label: str, edit: Edit) -> None:
        pane.ask(label, edit, stand)

    before = left_before(evening, slot)
    pane.app.push_screen(new_song_form(evening.rig, evening.setlist_id, slot, ask, before))


def _add_known_song(
    pane: EveningPane, evening: RunningOrder, place: OrderPlace | None, song_id: str
) -> None:
    slot, setlist_id = slot_after(evening, place), evening.setlist_id
    if slot is None or setlist_id is None:
        return
    pane.ask(
        f"play {evening.rows_by_id.songs[song_id].label}",
        lambda rig: put_in_set(rig, setlist_id, slot, song_id),
        lambda _: Stand(slot._replace(song_id=song_id), setlist_id, fresh=True),
    )


def _add_set(pane: EveningPane, evening: RunningOrder) -> None:
    setlist = evening.setlist
    if setlist is None:
        return

    def ask(label: str, edit: Edit) -> None:
        pane.ask(label, edit, lambda _: Stand(OrderPlace("set", len(setlist.sets)), setlist.id))

    pane.app.push_screen(set_form(evening.rig, setlist, None, ask))


def _add_setlist(pane: EveningPane, evening: RunningOrder) -> None:
    def ask(label: str, edit: Edit) -> None:
        pane.ask(label, edit, lambda new: Stand(OrderPlace("setlist"), new.setlists[-1].id))

    pane.app.push_screen(setlist_form(evening.rig, None, ask))


def edit(pane: EveningPane) -> None:
    """Open the form of the song, set or setlist."""
    evening, place, song = pane.evening, pane.place, pane.song
    if evening is None or place is None:
        return
    if song is not None:
        before = left_before(evening, place)
        pane.app.push_screen(song_form(evening.rig, song, pane.ask, before))
    elif place.kind == "song":
        text = f'The file has no song "{place.song_id}": remove it with x, or add one with a.'
        pane.notify(text, markup=False)
    elif evening.setlist is not None:
        if place.kind == "set":
            form = set_form(evening.rig, evening.setlist, place.set_at, pane.ask)
        else:
            form = setlist_form(evening.rig, evening.setlist, pane.ask)
        pane.app.push_screen(form)


def write_line(pane: EveningPane) -> None:
    """Open the song's sections in one line."""
    evening, song = pane.evening, pane.song
    if evening is not None and song is not None:
        pane.app.push_screen(line_form(evening.rig, song, pane.ask))


def duplicate(pane: EveningPane) -> None:
    """Copy the song as a new one that is played behind it; or the set; or the setlist."""
    evening, place, song = pane.evening, pane.place, pane.song
    if evening is None or place is None:
        return
    setlist = evening.setlist
    if pane.ticked:
        _copy_ticked(pane, evening)
    elif song is not None:
        after = place._replace(at=place.at + 1)

        def copy(rig: Rig) -> Rig:
            new = duplicate_song(rig, song.id)
            if setlist is None:
                return new
            return add_to_set(new, setlist.id, place.set_at, _behind(new, song.id), after.at)

        def stand(new: Rig) -> Stand:
            return Stand(after._replace(song_id=_behind(new, song.id)), evening.setlist_id)

        pane.ask(f"copy {song.label}", copy, stand)
    elif setlist is not None and place.kind == "set":
        pane.ask(
            f"copy set {setlist.sets[place.set_at].name}",
            lambda rig: duplicate_set(rig, setlist.id, place.set_at),
            lambda _: Stand(OrderPlace("set", place.set_at + 1), setlist.id),
        )
    elif setlist is not None and place.kind == "setlist":

        def stand_on_copy(new: Rig) -> Stand:
            ids = [setlist.id for setlist in new.setlists]
            return Stand(OrderPlace("setlist"), ids[ids.index(setlist.id) + 1])

        pane.ask(
            f"copy {setlist.label}", lambda rig: duplicate_setlist(rig, setlist.id), stand_on_copy
        )


def _copy_ticked(pane: EveningPane, evening: RunningOrder) -> None:
    """Copy the ticked songs as new ones that are played behind the last of them."""
    setlist_id = evening.setlist_id
    places = sorted(place for place in pane.ticked if evening.song(place) is not None)
    if not places:
        return
    last = places[-1]

    def edit(rig: Rig) -> Rig:
        ids = []
        for place in places:
            rig = duplicate_song(rig, place.song_id)
            ids.append(_behind(rig, place.song_id))
        if setlist_id is None:
            return rig
        return add_songs_to_set(rig, setlist_id, last.set_at, ids, last.at + 1)

    pane.ask(f"copy {count(len(places), 'song')}", edit)


def _behind(rig: Rig, song_id: str) -> str:
    """The id of the song behind another in the file."""
    ids = [song.id for song in rig.songs]
    return ids[ids.index(song_id) + 1]


def remove(pane: EveningPane) -> None:
    """Take the song out of its set or delete it; delete the set; delete the setlist."""
    evening, place = pane.evening, pane.place
    if evening is None or place is None:
        return
    setlist = evening.setlist
    if pane.ticked:
        _remove_ticked(pane, evening)
    elif place.kind == "song":
        _remove_song(pane, evening, place)
    elif setlist is not None and place.kind == "set":
        part = setlist.sets[place.set_at]
        name = f"set {part.name or place.set_at + 1}"
        _sure(pane, name, len(part.songs), lambda rig: delete_set(rig, setlist.id, place.set_at))
    elif setlist is not None:
        songs = len(setlist.song_ids)
        _sure(pane, setlist.label, songs, lambda rig: delete_setlist(rig, setlist.id))


def _sure(pane: EveningPane, what: str, songs: int, edit: Edit) -> None:
    """Do it at once where nothing is in it, else ask."""

    def answered(answer: str | None) -> None:
        if answer == "x":
            pane.ask(f"delete {what}", edit)

    if songs:
        pane.app.push_screen(remove_confirm(what, songs), answered)
    else:
        answered("x")


def _remove_song(pane: EveningPane, evening: RunningOrder, place: OrderPlace) -> None:
    song, setlist_id = evening.song(place), evening.setlist_id

    def take_out() -> None:
        assert setlist_id is not None
        name = song.label if song else place.song_id
        part = evening.part(place)
        pane.ask(
            f"take {name} out of {(part.name if part else '') or 'its set'}",
            lambda rig: remove_from_set(rig, setlist_id, place.set_at, place.at),
        )

    if song is None:
        take_out()
        return

    def answered(answer: str | None) -> None:
        if answer == "x" and setlist_id is not None:
            take_out()
        elif answer is not None:
            pane.ask(f"delete {song.label}", lambda rig: delete_song(rig, song.id))

    pane.app.push_screen(remove_song_confirm(evening, place, song), answered)


def _remove_ticked(pane: EveningPane, evening: RunningOrder) -> None:
    """Take the ticked songs out of their sets; delete them where all songs are listed."""
    setlist_id = evening.setlist_id
    places = sorted(pane.ticked, reverse=True)
    songs = count(len(places), "song")

    def edit(rig: Rig) -> Rig:
        for place in places:  # from behind, so that the others stay where they are
            if setlist_id is None:
                rig = delete_song(rig, place.song_id)
            else:
                rig = remove_from_set(rig, setlist_id, place.set_at, place.at)
        return rig

    def answered(answer: str | None) -> None:
        if answer == "x":
            pane.ask(f"{'delete' if setlist_id is None else 'take out'} {songs}", edit)
            pane.ticks.clear()

    pane.app.push_screen(remove_ticked_confirm(evening, songs), answered)


def shift(pane: EveningPane, by: int) -> None:
    """Move the ticked songs, the song, the set, or the setlist among setlists, by one place."""
    evening, place = pane.evening, pane.place
    if evening is None or place is None:
        return
    setlist = evening.setlist
    if pane.ticked:
        _shift_ticked(pane, evening, by)
    elif setlist is None:
        label = evening.rows_by_id.songs[place.song_id].label
        after = place._replace(at=max(0, min(place.at + by, len(evening.rig.songs) - 1)))
        pane.ask(
            f"move {label}",
            lambda rig: move_song(rig, place.song_id, by),
            lambda _: Stand(after, None),
        )
    elif place.kind == "song":
        song = evening.song(place)
        past = place._replace(at=place.at + by)
        if past in evening.places:  # the same song again: only the cursor has somewhere to go
            pane.stand(Stand(past, None))
            return
        pane.ask(
            f"move {song.label if song else place.song_id}",
            lambda rig: move_in_set(rig, setlist.id, place.set_at, place.at, by),
            lambda rig: Stand(_shifted(rig, setlist.id, place, by), setlist.id),
        )
    elif place.kind == "set":
        to = max(0, min(place.set_at + by, len(setlist.sets) - 1))
        pane.ask(
            f"move set {setlist.sets[place.set_at].name}",
            lambda rig: move_set(rig, setlist.id, place.set_at, by),
            lambda _: Stand(OrderPlace("set", to), setlist.id),
        )
    else:
        pane.ask(f"move {setlist.label}", lambda rig: move_setlist(rig, setlist.id, by))


def _shift_ticked(pane: EveningPane, evening: RunningOrder, by: int) -> None:
    """Move the ticked songs together; the cursor stays on its song."""
    setlist_id, ticked = evening.setlist_id, pane.ticked

    def edit(rig: Rig) -> Rig:
        if setlist_id is None:
            return move_songs(rig, {place.song_id for place in ticked}, by)
        return move_several_in_sets(rig, setlist_id, {(row.set_at, row.at) for row in ticked}, by)

    pane.ask(f"move {count(len(ticked), 'song')}", edit)


def split(pane: EveningPane) -> None:
    """Make the song at the cursor and those after it a set of their own."""
    evening, place = pane.evening, pane.place
    setlist = evening.setlist if evening else None
    if place is None or setlist is None or place.kind != "song" or place.at == 0:
        pane.say("Go to the song that the new set begins with: not the first of its set.")
        return
    name = _name_behind(setlist, place.set_at)
    pane.ask(
        f"split {set_title(setlist.sets[place.set_at], place.set_at)}",
        lambda rig: split_set(rig, setlist.id, place.set_at, place.at, name),
        lambda _: Stand(OrderPlace("song", place.set_at + 1, 0, place.song_id), setlist.id),
    )


_ORDINALS = ("First", "Second", "Third", "Fourth", "Fifth", "Sixth")


def _name_behind(setlist: Setlist, set_at: int) -> str:
    """A name for the rest of a set that is split, which no other set has: it counts on."""
    title = set_title(setlist.sets[set_at], set_at).partition(",")[0]
    word, _, rest = title.partition(" ")
    begun = f"{_ORDINALS[_ORDINALS.index(word) + 1]} {rest}" if word in _ORDINALS[:-1] else ""
    names = [begun] if begun else []
    names += [f"{title}, part {part}" for part in range(2, len(setlist.sets) + 3)]
    taken = [part.name for part in setlist.sets]
    return next(name for name in names if not any(row.startswith(name) for row in taken))


def join(pane: EveningPane) -> None:
    """Join the set at the cursor with the one before it; the first set with the next."""
    evening, place = pane.evening, pane.place
    setlist = evening.setlist if evening else None
    if place is None or setlist is None or place.set_at < 0:
        pane.say("Go to a set, or to a song in it: it is joined with the set before.")
        return
    first = max(0, place.set_at - 1)
    if first + 1 >= len(setlist.sets):
        pane.say("There is one set only: nothing to join it with.")
        return
    titles = [set_title(setlist.sets[at], at) for at in (first, first + 1)]
    before = len(setlist.sets[first].songs) if place.set_at > first else 0
    at = before + max(0, place.at)
    song = (*setlist.sets[first].songs, *setlist.sets[first + 1].songs)[at : at + 1]
    stand = OrderPlace("song", first, at, song[0]) if song else OrderPlace("set", first)
    pane.ask(
        f"join {titles[1]} to {titles[0]}",
        lambda rig: join_set(rig, setlist.id, first),
        lambda _: Stand(stand, setlist.id),
    )


def _shifted(new: Rig, setlist_id: str, place: OrderPlace, by: int) -> OrderPlace:
    """Where a song stands after it was moved by one place, over the end of its set or not."""
    sets = lookup(new).setlists[setlist_id].sets
    for set_at, at in (
        (place.set_at, place.at + by),
        (place.set_at + by, 0 if by > 0 else -1),
        (place.set_at, place.at),
    ):
        if 0 <= set_at < len(sets):
            songs = sets[set_at].songs
            at = len(songs) - 1 if at == -1 and set_at != place.set_at else at
            if 0 <= at < len(songs) and songs[at] == place.song_id:
                return OrderPlace("song", set_at, at, place.song_id)
    return place
