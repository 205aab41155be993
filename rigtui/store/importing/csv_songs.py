"""Songs as a CSV table, one row a section, written and read back as they were.

Columns may stand in any order, and all but `song` may be left out. What belongs to the whole song
stands in its first row. An empty cell is a key left out. Lists (plus, minus, may) are ids with
blanks between them.

Source: RFC 4180 (quotes, line ends), read as tolerantly as spreadsheets write.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator
from typing import Any

from rigtui.model.base import RigTable
from rigtui.model.limits import MAX_ALL_SECTIONS
from rigtui.model.rig import Section, Song
from rigtui.model.text import did_you_mean, visible
from rigtui.store.importing.draft import Draft, DraftSection, DraftSong, ImportFault

_WANTED = ("wanted.pedals", "wanted.channel")
SONG_COLUMNS = {
    "title": "title", "tempo": "tempo", "meter": "meter", "beat": "beat", "guitar": "guitar",
    "tuning": "tuning", "capo": "capo", "gap_seconds": "gap_seconds", "click": "click",
    "song_note": "note",
}  # fmt: skip
"""Columns of the whole song, and the keys that they hold."""
SECTION_COLUMNS = {
    "section": "name", "bars": "bars", "preset": "preset", "plus": "plus", "minus": "minus",
    "may": "may", "early": "early", "wanted": _WANTED[0], "wanted_channel": _WANTED[1],
    "hands": "hands", "hands_seconds": "hands_seconds", "section_tempo": "tempo",
    "section_meter": "meter", "section_beat": "beat", "rest_beats": "rest_beats",
    "guitar_volume": "guitar_volume", "pickup": "pickup", "preset_hands": "preset_hands",
    "ignores": "ignores", "cue": "cue", "until": "until",
}  # fmt: skip
COLUMNS = ("song", *SONG_COLUMNS, *SECTION_COLUMNS)
_LISTS = ("plus", "minus", "may", "early", "wanted", "ignores")
_FLAGS = {"true": True, "false": False}
_NUMBERS = ("tempo", "capo", "gap_seconds", "bars", "section_tempo", "rest_beats", "guitar_volume",
            "hands_seconds")  # fmt: skip
_NUMBER = re.compile(r"[0-9]{1,7}(\.[0-9]{1,20}|,[0-9]{1,2})?(e-?[0-9]{1,3})?")
"""A decimal comma too, but not where it may part thousands."""
_PLAIN_IDS = re.compile(r"[^\s\[\]\"]+( [^\s\[\]\"]+)*")
# A spreadsheet takes such a text for a formula; an apostrophe in front keeps it text.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")
_DELIMITERS = (",", ";", "\t")
_MOST_FAULTS = 20


def songs_csv(songs: Iterable[Song]) -> str:
    """Write songs as CSV with every column."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for song in songs:
        whole = [_cell_of(song, column, key) for column, key in SONG_COLUMNS.items()]
        for at, section in enumerate(song.sections or (None,)):
            own = whole if at == 0 else [""] * len(whole)
            parts = [
                "" if section is None else _cell_of(section, column, key)
                for column, key in SECTION_COLUMNS.items()
            ]
            writer.writerow([song.id, *own, *parts])
    return out.getvalue()


def _cell_of(table: RigTable, column: str, key: str) -> str:
    """What stands in a cell: nothing for a key that the file leaves out."""
    if key in _WANTED:
        wanted = table.wanted if isinstance(table, Section) else None
        if wanted is None or key != _WANTED[0]:
            return "" if wanted is None else _cell(column, wanted.channel)
        return _cell(column, wanted.pedals) or "[]"
    return _cell(column, getattr(table, key)) if key in table.model_fields_set else ""


def _cell(column: str, value: Any) -> str:
    if value is None or value == ():
        return ""
    if column in _LISTS:
        plain = " ".join(value)
        if all(value) and _PLAIN_IDS.fullmatch(plain) and plain.split(" ") == list(value):
            return guarded(plain)
        return json.dumps(list(value), ensure_ascii=False)
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return str(int(value)) if float(value).is_integer() else repr(value)
    return guarded(str(value))


def guarded(text: str) -> str:
    """A field that no spreadsheet takes for a formula."""
    return f"'{text}" if text.startswith(_FORMULA) else text


def _unguarded(cell: str) -> str:
    return cell[1:] if cell[:1] == "'" and cell[1:].startswith(_FORMULA) else cell


def read_csv(text: str) -> Draft:
    """Read songs out of CSV.

    Raises:
        ImportFault: it is no such table; all that is wrong with its rows is listed.
    """
    reader = _RowReader()
    try:
        rows = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text), strict=True)
        header = next(rows, [])
        columns = _columns(header)
        for row in rows:
            if any(cell.strip() for cell in row):
                reader.row(rows.line_num, columns, row)
    except csv.Error as error:
        raise ImportFault(f"it is not a CSV table: {error}") from None
    return reader.done()


def _delimiter(text: str) -> str:
    """The one of the usual delimiters under which the first line has most known columns."""
    first = text.partition("\n")[0]
    return max(
        _DELIMITERS,
        key=lambda mark: len(
            {cell.strip(' "\r').lower() for cell in first.split(mark)} & {*COLUMNS}
        ),
    )


def _columns(header: list[str]) -> list[str]:
    names = [cell.strip().lower() for cell in header]
    while names and not names[-1]:  # spreadsheets add empty columns
        names.pop()
    if "song" not in names:
        raise ImportFault(
            f'its first line has no column "song"; the columns are {", ".join(COLUMNS)}'
        )
    for name in names:
        if name not in COLUMNS:
            guess = did_you_mean(name, COLUMNS, f"the columns are {', '.join(COLUMNS)}")
            raise ImportFault(f'it has an unknown column "{visible(name[:40])}"; {guess}')
        if names.count(name) > 1:
            raise ImportFault(f"it has the column {name} twice")
    return names


class _RowReader:
    """Gathers rows into songs."""

    def __init__(self) -> None:
        self._songs: dict[str, dict[str, Any]] = {}
        self._sections: dict[str, list[DraftSection]] = {}
        self._faults: list[str] = []
        self._rows = 0

    def done(self) -> Draft:
        """Return what was read.

        Raises:
            ImportFault: rows were wrong, or there were none.
        """
        if self._faults:
            raise ImportFault("\n".join(self._faults[:_MOST_FAULTS]))
        if not self._songs:
            raise ImportFault("it has no rows under its first line")
        songs = []
        for song_id, known in self._songs.items():
            more = dict(known)
            songs.append(
                DraftSong(
                    str(more.pop("title", "")),
                    song_id,
                    more.pop("tempo", None),
                    more.pop("meter", None),
                    tuple(self._sections[song_id]),
                    more,
                )
            )
        return Draft("csv", tuple(songs))

    def row(self, line: int, columns: list[str], row: list[str]) -> None:
        """Take one row in."""
        self._rows += 1
        if self._rows > MAX_ALL_SECTIONS:
            raise ImportFault(f"it has more than {MAX_ALL_SECTIONS} rows")
        if any(cell.strip() for cell in row[len(columns) :]):
            self._fault(line, "has more cells than the first line has columns")
            return
        cells = dict(zip(columns, row))
        song_id = cells.get("song", "").strip()
        if not song_id:
            self._fault(line, "names no song")
            return
        fresh = song_id not in self._songs
        known = self._songs.setdefault(song_id, {})
        for key, value in self._values(line, cells, SONG_COLUMNS):
            if fresh:
                known[key] = value
            elif known.get(key) != value:
                self._fault(
                    line,
                    f"gives {song_id} a different {key} from its first row: {visible(str(value))}",
                )
        sections = self._sections.setdefault(song_id, [])
        more = dict(self._values(line, cells, SECTION_COLUMNS))
        if not more:
            return
        if "name" not in more:
            self._fault(line, "has a section without a name: fill the column section")
            return
        wanted = {key.partition(".")[2]: more.pop(key) for key in _WANTED if key in more}
        more |= {"wanted": wanted} if wanted else {}
        was = more.pop("preset", None)
        bars = more.pop("bars", None)
        sections.append(
            DraftSection(more.pop("name"), bars, was=was, mapped=was is None, more=more)
        )

    def _values(
        self, line: int, cells: dict[str, str], columns: dict[str, str]
    ) -> Iterator[tuple[str, Any]]:
        for column, key in columns.items():
            cell = cells.get(column, "")
            if cell == "":
                continue
            try:
                yield key, _value(column, cell)
            except ValueError as error:
                self._fault(line, f"{column}: {error}")

    def _fault(self, line: int, what: str) -> None:
        if len(self._faults) < _MOST_FAULTS:
            self._faults.append(f"line {line} {what}")


def _value(column: str, cell: str) -> Any:
    """What a cell means.

    Raises:
        ValueError: it is not of the column's kind.
    """
    if column in _LISTS:
        return _list(_unguarded(cell))
    if column in _NUMBERS:
        plain = cell.strip().lower()
        if not _NUMBER.fullmatch(plain):
            raise ValueError(f'must be a number, not "{visible(cell[:40])}"')
        number = float(plain.replace(",", "."))
        return int(number) if number.is_integer() else number
    if column == "click":
        if cell.strip().lower() not in _FLAGS:
            raise ValueError(f'must be true or false, not "{visible(cell[:40])}"')
        return _FLAGS[cell.strip().lower()]
    return _unguarded(cell)


def _list(cell: str) -> tuple[str, ...]:
    if not cell.lstrip().startswith("["):
        return tuple(cell.split())
    try:
        items = json.loads(cell)
    except (ValueError, RecursionError):
        items = None
    if not isinstance(items, list) or not all(isinstance(item, str) for item in items):
        raise ValueError(f'must be ids with blanks between them, not "{visible(cell[:40])}"')
    return tuple(items)
