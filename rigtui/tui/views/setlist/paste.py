"""Paste an evening as a plain list: show what was read, let the player correct it, add the
songs.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, cast

from rigtui.model.errors import RigError
from rigtui.model.text import count, first_few, number_text, visible
from rigtui.moves.clock import song_seconds
from rigtui.store.importing.answers import fill
from rigtui.store.importing.draft import Draft, DraftSong, ImportFault
from rigtui.store.importing.into import FIRST_EVENING, Slot, lengths_compared
from rigtui.store.importing.questions import Answer, checked
from rigtui.store.importing.title_list import read_list
from rigtui.tui.importing import Import, ask_open
from rigtui.tui.views.setlist.forms import slot_after
from rigtui.tui.views.setlist.panes import EveningPane, Stand
from rigtui.tui.views.setlist.running_order import OrderPlace, RunningOrder
from rigtui.tui.widgets.dialogs import Field, Form

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.tui.document_app import DocumentApp

_FEWEST, _MOST = 4, 14
"""Lines of the field for the list."""
_AROUND = 15
"""Lines of the form for all else."""
HOW = (
    "One title a line: Low Fen, 118, Em, 3:42, capo 2, drop D. Put sections after a colon, or "
    "indented on the next line: Intro 4 clean, Verse 16, Chorus x2"
)


class PastedSongs(Form):
    """A form as wide as songs' lines are."""

    CSS = """
    PastedSongs .dialog { width: 120; }
    PastedSongs .dialog--help { max-height: 33vh; }
    """


def paste_songs(pane: EveningPane, text: str, tempo_given: str = "") -> None:
    """Show a pasted list, and put its songs behind the cursor once they are accepted."""
    evening, place = pane.evening, pane.place
    if evening is None:
        return
    read: list[Import] = []
    tempo: list[Answer] = []

    def submit(given: dict[str, str]) -> str | None:
        try:
            draft = read_list(given["songs"])
            fill(draft, [], evening.rig, None, strict=False)
            tempo.clear()
            if given["tempo"].strip():
                checked("tempo", given["tempo"], evening.rig)
                tempo.append(Answer("tempo", None, "*", given["tempo"]))
        except ImportFault as fault:
            said = str(fault).partition("\n")[0]
            return said if said.startswith("tempo") else f"songs, {said}"
        job = _job(pane, evening, place, draft)
        back = partial(paste_songs, pane, given["songs"], given["tempo"])
        read[:] = [replace(job, back=back)]
        return None

    def then(accepted: bool | None) -> None:
        if accepted:
            ask_open(read[0], tempo)

    fields = [
        Field(
            "songs",
            "Songs",
            text,
            lines=max(_FEWEST, min(_MOST, pane.app.size.height * 9 // 10 - _AROUND)),
            explain=lambda given: told_back(given["songs"], evening.rig),
        ),
        Field(
            "tempo",
            "Tempo of the rest",
            tempo_given,
            hint="for songs without one; if empty, you are asked for each",
        ),
    ]
    where = f" into {evening.label}" if evening.setlist else ""
    where = where or ("" if evening.rig.setlists else " as the first evening")
    pane.app.push_screen(PastedSongs(f"Paste songs{where}", fields, submit), then)


def _job(
    pane: EveningPane, evening: RunningOrder, place: OrderPlace | None, draft: Draft
) -> Import:
    at = slot_after(evening, place)
    slot = None
    if at is not None and evening.setlist is not None:
        slot = Slot(evening.setlist.id, at.set_at, at.at)
    elif not evening.rig.setlists:
        slot = FIRST_EVENING

    def stand(new: Rig) -> Stand:
        """On the first of them."""
        if slot == FIRST_EVENING and not evening.rig.setlists:
            songs = (row for row in RunningOrder(new, slot.setlist_id).places if row.song_id)
            return Stand(next(songs), slot.setlist_id, fresh=True)
        if slot is None or at is None:
            return Stand(OrderPlace("song", -1, len(evening.rig.songs)), None)
        first = _first_new(evening, new, slot)
        return Stand(first or at, evening.setlist_id, fresh=True)

    app = cast("DocumentApp", pane.app)
    return Import(app, draft, lambda label, edit: pane.ask(label, edit, stand), slot)


def _first_new(evening: RunningOrder, new: Rig, slot: Slot) -> OrderPlace | None:
    """The first song that the evening did not have at its place."""
    after = RunningOrder(new, evening.setlist_id)
    old = set(evening.places)
    return next((row for row in after.places if row.kind == "song" and row not in old), None)


def told_back(text: str, rig: Rig) -> str:
    """What a list means: its songs, or the first thing that is wrong; how to write while empty."""
    if not text.strip():
        return HOW
    try:
        draft = fill(read_list(text), [], rig, "add", strict=False).draft
    except RigError as fault:
        return str(fault).partition("\n")[0]
    said = first_few([_told(song) for song in draft.songs], 40)
    slow = [visible(song.title) for song in draft.songs if song.tempo is None]
    missing = f", {len(slow)} without a tempo: {first_few(slow, 3)}" if slow else ""
    notes = "".join(f" Note: {note}." for note in draft.notes[:1])
    return f"{count(len(draft.songs), 'song')}{missing}.{notes} {said}"


def _told(song: DraftSong) -> str:
    words = [visible(song.title)]
    words += [number_text(song.tempo)] if song.tempo is not None else []
    words += [song.meter] if song.meter else []
    more = []
    if (capo := song.more.get("capo")) is not None:
        more.append(f"capo {capo}" if capo else "no capo")
    more += [visible(song.more["tuning"])] if "tuning" in song.more else []
    if song.sections:
        compared = lengths_compared(song, song_seconds)
        more.append(f"{count(len(song.sections), 'section')}{compared}")
    words += [f"({', '.join(more)})"] if more else []
    return " ".join(words)
