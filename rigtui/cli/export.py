"""`rigtui export`: songs as a CSV table."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.cli.chosen import NotThereError, named_row, opened
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, put, put_file, terminal_of
from rigtui.model.text import count
from rigtui.store.atomic import SaveError
from rigtui.store.importing.csv_songs import COLUMNS, songs_csv
from rigtui.store.outputs import write_output

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Song


def run(arguments: Namespace) -> int:
    """Write the table and return the exit status."""
    read = opened(arguments.file)
    if read is None:
        return BAD_USAGE
    try:
        songs = _songs(read[1], arguments)
        text = songs_csv(songs)
        if arguments.output in (None, "-"):
            put_file(text.encode())
            return 0
        note = write_output(Path(arguments.output), text.encode(), "such a table", _is_ours)
    except (NotThereError, SaveError) as error:
        complain(f"{arguments.file}: {error}")
        return BAD_USAGE
    if note is not None:
        complain(f"{arguments.output}: written, but {note}")
    put(
        terminal_of(sys.stdout).show(f"Wrote {arguments.output}: {count(len(songs), 'song')}")
        + "\n"
    )
    return 0


def _songs(rig: Rig, arguments: Namespace) -> tuple[Song, ...]:
    if arguments.song is not None:
        return (named_row("song", arguments.song, rig.songs),)
    if arguments.setlist is not None:
        wanted = set(named_row("setlist", arguments.setlist, rig.setlists).song_ids)
        return tuple(song for song in rig.songs if song.id in wanted)
    return rig.songs


def _is_ours(head: bytes) -> bool:
    return head.removeprefix(b"\xef\xbb\xbf").startswith(",".join(COLUMNS[:3]).encode())
