"""Songs out of a plain list: one title a line, as it stands in a message or on a paper.

The title may be followed by tempo, key, meter, length, capo and tuning (`title_facts`). The song's
sections in one line (`rigtui.model.song_line`) come after a colon, or indented on the lines below.
A line that names a set ("Set 2", "Encore", "Late set:") begins that set.

In a list, no word of a capo is none. In a rig file it is as before, so the song after one with a
capo gets "no capo", and the song after another tuning gets the standard one.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from rigtui.model.text import visible
from rigtui.model.tunings import STANDARD, is_standard
from rigtui.store.importing.draft import Draft, DraftSong, ImportFault, SongLine
from rigtui.store.importing.title_facts import (
    BEAT,
    CAPO,
    KEY,
    LENGTH,
    METER,
    TEMPO,
    TUNING,
    fact_in,
    length_seconds,
    plainly_said,
    title_and_facts,
)

_MOST_SONGS = 1000
_LONGEST_TITLE = 200
_NUMBERING = re.compile(r"(?:[0-9]{1,3}[.)]|[-*•·–])\s+|[0-9]{1,3}\t+(?=\S)")
_ORDINAL = r"first|second|third|fourth|last|early|late|1st|2nd|3rd|4th"
_HEADING = re.compile(
    rf"(?:(?:set|part) (?:[0-9]{{1,2}}|[ivx]{{1,4}}|one|two|three|four)|(?:{_ORDINAL}) set"
    r"|encores?)"
    r"|[\[=#]+[^\]=#]+[\]=]*",
    re.IGNORECASE,
)
_COLUMN_NAMES = {
    "title", "song", "name", "tempo", "bpm", "key", "length", "time", "duration", "meter", "capo",
    "tuning", "no", "#", "nr",
}  # fmt: skip
_QUOTED = re.compile(r'"((?:[^"]|"")+)"\s*(.*)', re.DOTALL)
_LINE_BEHIND = re.compile(r"(?!(?<=[0-9]):[0-5][0-9](?![0-9])):\s*(?=\S)")
"""A colon that is none of a length such as 3:42."""
_SECTIONS = re.compile(r"[^,;|]*\S\s+[0-9]+(?:\.[0-9]+)?(?:\s+\S|\s*[,;|])")
"""How a song's line begins: a name, its bars, and something behind them."""
_DIRECTIVE = re.compile(r"\{[a-z_]+(?::.*)?\}", re.IGNORECASE)
_BARE_NUMBER = re.compile(r".*\S ([0-9]{2,3})")


def read_list(text: str) -> Draft:
    """Read a plain list of songs.

    Raises:
        ImportFault: it holds no title, or more songs than fit.
    """
    reader = _ListReader()
    for number, line in enumerate(textwrap.dedent(_untabbed(text)).splitlines(), 1):
        if line.strip():
            reader.line(number, line)
    return reader.done()


def _untabbed(text: str) -> str:
    """The text without blank columns in front, which a table brings along."""
    lines = text.splitlines()
    while lines and all(line.startswith("\t") or not line.strip() for line in lines):
        if not any(line.strip() for line in lines):
            break
        lines = [line[1:] for line in lines]
    return "\n".join(lines)


@dataclass
class _SongRead:
    """One song while it is read."""

    title: str
    part: str
    facts: dict[str, Any]
    lines: list[tuple[int, int, str]] = field(default_factory=list)
    """Parts of its line: the list's line, the column before it, the text."""

    def song(self) -> DraftSong:
        """The song as it was read."""
        more: dict[str, Any] = {
            key: self.facts[key] for key in (BEAT, CAPO, TUNING) if key in self.facts
        }
        said = [
            f"{word}: {visible(self.facts[key])}"
            for word, key in (("Key", KEY), ("Length", LENGTH))
            if key in self.facts
        ]
        if said:
            more["note"] = "\n".join(said)
        line = SongLine(tuple(self.lines)) if self.lines else None
        return DraftSong(
            self.title,
            tempo=self.facts.get(TEMPO),
            meter=self.facts.get(METER),
            more=more,
            line=line,
            length_seconds=length_seconds(self.facts[LENGTH]) if LENGTH in self.facts else None,
            part=self.part,
        )


class _ListReader:
    """Goes through the lines and gathers the songs."""

    def __init__(self) -> None:
        self._songs: list[_SongRead] = []
        self._part = ""
        self._notes: list[str] = []

    def line(self, number: int, line: str) -> None:
        """Take one line in that is not empty."""
        text = line.strip()
        if _DIRECTIVE.fullmatch(text):
            raise ImportFault(f"line {number}: this looks like ChordPro: add --as chordpro")
        numbering = _NUMBERING.match(text)
        if line[0].isspace() and numbering is None and self._songs:
            self._songs[-1].lines.append((number, len(line) - len(line.lstrip()), text))
            return
        if numbering:
            text = text[numbering.end() :]
        elif _is_head(text) and not self._songs:
            return
        elif heading := _heading(text):
            self._part = heading
            return
        column = len(line.rstrip()) - len(text)
        self._songs.append(self._listed(number, column, text))
        if len(self._songs) > _MOST_SONGS:
            raise ImportFault(f"it has more than {_MOST_SONGS} songs")

    def _listed(self, number: int, column: int, text: str) -> _SongRead:
        title, lines = text, []
        quoted = _QUOTED.fullmatch(text)
        for at in _colons(text, quoted.start(2) if quoted else 1):
            behind = text[at:].lstrip(": \t")
            if _SECTIONS.match(behind):
                title = text[:at]
                lines = [(number, column + len(text) - len(behind), behind)]
                break
        quoted = _QUOTED.fullmatch(title)
        if quoted:
            said, facts = quoted[1].replace('""', '"'), _facts_behind(quoted[2], number)
        else:
            said, facts = title_and_facts(title)
            if TEMPO not in facts and (bare := _BARE_NUMBER.fullmatch(said)):
                self._notes.append(
                    f"{visible(said)}: {bare[1]} is part of the title; for a tempo write "
                    f"{bare[1]} bpm, or a comma before it"
                )
        if not said or (not quoted and plainly_said(said).keys() - {TUNING}):
            raise ImportFault(f"line {number}: a title is missing before {visible(text[:60])}")
        if len(said) > _LONGEST_TITLE:
            raise ImportFault(
                f"line {number}: a title has at most {_LONGEST_TITLE} letters; put "
                "sections after a colon, or on the next line after some blanks"
            )
        return _SongRead(said, self._part, facts, lines)

    def done(self) -> Draft:
        """Return what was read."""
        if not self._songs:
            raise ImportFault("it has no songs: write one title a line")
        _end_what_others_leave(self._songs)
        return Draft("list", tuple(song.song() for song in self._songs), tuple(self._notes))


def _end_what_others_leave(songs: Iterable[_SongRead]) -> None:
    """Take off the capo, and tune back, where a song says nothing and the one before did."""
    capo, tuning = 0, STANDARD
    for song in songs:
        if capo:
            song.facts.setdefault(CAPO, 0)
        if not is_standard(tuning):
            song.facts.setdefault(TUNING, STANDARD)
        capo, tuning = song.facts.get(CAPO, 0), song.facts.get(TUNING, STANDARD)


def _colons(text: str, start: int) -> Iterator[int]:
    return (match.start() for match in _LINE_BEHIND.finditer(text) if match.start() >= start)


def _facts_behind(text: str, number: int) -> dict[str, Any]:
    """The values behind a title in quotes."""
    rest, facts = title_and_facts(f"x, {text.strip(' -–—,;|')}") if text.strip() else ("x", {})
    if rest != "x":
        raise ImportFault(
            f"line {number}: {visible(rest.removeprefix('x, ')[:60])} is not a tempo, "
            "key, meter, length, capo or tuning"
        )
    return facts


def _is_head(text: str) -> bool:
    """Whether a line holds the names of columns."""
    cells = [cell.strip().casefold() for cell in re.split(r"\t|\s{2,}|[,;|]", text) if cell.strip()]
    return len(cells) > 1 and all(cell in _COLUMN_NAMES for cell in cells)


def _heading(text: str) -> str:
    """The name of the set that a line begins; "" where it is a song."""
    if text.endswith(":") and len(text) > 1 and not fact_in(text[:-1]):
        return text[:-1].strip("[]=# ")
    return text.strip("[]=#: ") if _HEADING.fullmatch(text) else ""
