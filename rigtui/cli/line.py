"""`rigtui line`: show or write a song's sections in one line."""

from __future__ import annotations

import sys
from argparse import Namespace
from typing import TYPE_CHECKING

from rigtui.cli.chosen import NotThereError, named_row, opened
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, put, terminal_of
from rigtui.model.edits import set_song_line, song_line
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.place_words import set_title
from rigtui.model.text import count
from rigtui.moves import count_song
from rigtui.store.atomic import SaveError
from rigtui.store.importing.title_list_text import list_text
from rigtui.store.save import save

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Song
    from rigtui.store.load import Source


def run(arguments: Namespace) -> int:
    """Show or write the line and return the exit status."""
    if arguments.song is not None and arguments.setlist is not None:
        complain("rigtui line: name a song or --setlist, not both")
        return BAD_USAGE
    read = opened(arguments.file)
    if read is None:
        return BAD_USAGE
    source, rig = read
    show = terminal_of(sys.stdout).show
    try:
        if arguments.song is None:
            text = _listed(rig, arguments.setlist)
        else:
            song = named_row("song", arguments.song, rig.songs)
            text = f"{song_line(song)}\n"
            if arguments.line is not None:
                text = _written(source, rig, song, arguments.line)
    except (NotThereError, SaveError) as error:
        complain(f"{arguments.file}: {error}")
        return BAD_USAGE
    except EditError as error:
        complain(f"rigtui line: {error}; nothing was written")
        return BAD_USAGE
    put("".join(f"{show(line)}\n" for line in text.splitlines()))
    return 0


def _listed(rig: Rig, setlist_id: str | None) -> str:
    if setlist_id is None:
        return list_text([("", rig.songs)])
    songs = lookup(rig).songs
    sets = named_row("setlist", setlist_id, rig.setlists).sets
    parts = []
    for at, part in enumerate(sets):
        rows = [songs[song_id] for song_id in part.songs if song_id in songs]
        parts.append((set_title(part, at), rows))
    return list_text(parts)


def _written(source: Source, rig: Rig, song: Song, line: str) -> str:
    """Write a line into the file; say what it is now."""
    new = set_song_line(rig, song.id, line)
    notes = save(new, source.path, source)[1]
    complain(*(f"{source.path}: written, but {note}" for note in notes))
    song = named_row("song", song.id, new.songs)
    counted = count_song(new, song)
    sections = count(len(song.sections), "section")
    return f"{song_line(song)}\nWrote {source.path}: {sections}, {count(counted.moves, 'move')}\n"
