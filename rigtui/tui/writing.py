"""Files for other gear, by the command palette: MIDI of a setlist, songs as a table."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from rigtui.model.text import count
from rigtui.tui.typed_path import PathFault, typed_path
from rigtui.tui.widgets.dialogs import Field, Form

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Song
    from rigtui.tui.document_app import DocumentApp


class FileMade(NamedTuple):
    """A file's content, and what to say once it is written."""

    content: bytes
    said: str
    kind: str
    """What a file that may be replaced must be, for the message."""
    begins: bytes
    """How such a file begins."""


def writing_commands(app: DocumentApp) -> Iterator[tuple[str, Callable[[], None]]]:
    """What the palette offers: words, and what they do."""
    if app.document is None:
        return
    yield "Write MIDI: tempo, sections, presets of the setlist", lambda: _ask(app, "mid", _midi)
    yield "Export the songs as a table (CSV)", lambda: _ask(app, "csv", _table)


def _ask(app: DocumentApp, ending: str, make: Callable[[DocumentApp, Rig], FileMade]) -> None:
    """Ask where to, and write."""
    assert app.document is not None
    path = app.document.path
    name = app.setlist_id or (path.stem if path is not None else "songs")
    start = (path.parent if path is not None else Path()) / f"{name}.{ending}"

    def submit(given: dict[str, str]) -> str | None:
        from rigtui.model.errors import RigError
        from rigtui.store.outputs import write_output

        assert app.document is not None
        try:
            made = make(app, app.document.rig)
            target = typed_path(given["file"])
            note = write_output(
                target, made.content, made.kind, lambda head: head.startswith(made.begins)
            )
        except (RigError, PathFault) as error:
            return str(error)
        app.say(f"Wrote {target}: {made.said}" + (f", but {note}" if note else ""), seconds=10)
        return None

    title = "Write a MIDI file" if ending == "mid" else "Export songs"
    note = "An existing file is replaced only if it is one of the same kind."
    app.ask(Form(title, [Field("file", "File", str(start))], submit, note))


def _midi(app: DocumentApp, rig: Rig) -> FileMade:
    from rigtui.paper import setlist_for
    from rigtui.sheets.midi import midi_bytes
    from rigtui.sheets.timeline import setlist_timeline, without_device

    setlist = setlist_for(rig, "set", app.setlist_id)
    assert setlist is not None  # such a sheet is of all songs where there is no setlist
    line = setlist_timeline(rig, setlist)
    said = count(len(line.marks), "section")
    said += f". {without_device(rig)}" if without_device(rig) else ""
    return FileMade(midi_bytes(rig, line), said, "a MIDI file", b"MThd")


def _table(app: DocumentApp, rig: Rig) -> FileMade:
    from rigtui.store.importing.csv_songs import COLUMNS, songs_csv

    songs: tuple[Song, ...] = rig.songs
    begins = ",".join(COLUMNS[:3]).encode()
    return FileMade(songs_csv(songs).encode(), count(len(songs), "song"), "such a table", begins)
