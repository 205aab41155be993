"""Songs as a plain list that `title_list` reads again: titles, tempi, and sections in one line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigtui.model.edits.song_line import song_line
from rigtui.model.rig import Song
from rigtui.model.text import number_text, visible
from rigtui.store.importing.draft import ImportFault
from rigtui.store.importing.title_list import read_list


def list_text(parts: Iterable[tuple[str, Iterable[Song]]]) -> str:
    """Write songs, those of each set under its name; "" is no set."""
    return "".join(f"{line}\n" for name, songs in parts for line in _lines(name, songs))


def _lines(name: str, songs: Iterable[Song]) -> Iterator[str]:
    if name:
        yield f"{visible(name)}:"
    for song in songs:
        yield song_text(song)


def song_text(song: Song) -> str:
    """One song as a line of the list."""
    facts = [f"{song.beat}={_tempo(song)}" if song.beat else _tempo(song)]
    facts += [song.meter] if song.meter != "4/4" else []
    facts += [f"capo {song.capo}"] if song.capo else []
    sections = song_line(song)
    head = ", ".join((_title(song, facts), *facts))
    return f"{head}: {sections}" if sections else head


def _tempo(song: Song) -> str:
    tempo = number_text(song.tempo)
    return tempo if 20 <= song.tempo <= 400 and len(tempo) <= 7 else f"{tempo} bpm"


def _title(song: Song, facts: list[str]) -> str:
    """The title; in quotes where it would read as something else."""
    title = visible(song.label)
    try:
        (drafted,) = read_list(", ".join((title, *facts))).songs
        if drafted.title == title and drafted.line is None:
            return title
    except (ImportFault, ValueError):
        pass
    return '"' + title.replace('"', '""') + '"'
