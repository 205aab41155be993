"""Songs out of ChordPro text: title, tempo, time, key, sections with their labels, comments.

Chords and words are not kept: a rig needs the parts of a song, not its lines.

Source: the ChordPro pages on directives, environments, meta-data and the chorus directive
(chordpro.org). `{tempo}` is beats per minute, but no page says of which note.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

from rigtui.model.limits import MAX_SECTIONS
from rigtui.model.meter import is_meter
from rigtui.model.text import count, visible
from rigtui.store.importing.draft import Draft, DraftSection, DraftSong, ImportFault

MAX_SONGS = 1000
_LONG = {
    "t": "title", "st": "subtitle", "c": "comment", "ci": "comment", "cb": "comment",
    "comment_italic": "comment", "comment_box": "comment", "highlight": "comment",
    "ns": "new_song",
    "soc": "start_of_chorus", "eoc": "end_of_chorus", "sov": "start_of_verse",
    "eov": "end_of_verse", "sob": "start_of_bridge", "eob": "end_of_bridge",
    "sot": "start_of_tab", "eot": "end_of_tab", "sog": "start_of_grid", "eog": "end_of_grid",
}  # fmt: skip
_LITERAL = ("tab", "grid", "abc", "ly", "svg", "textblock")
"""Environments whose lines are no song lines."""
_NO_SECTION = ("abc", "ly", "svg", "textblock")
"""Of those, the ones that are pictures rather than parts of the song."""
_NAME = re.compile(r"[A-Za-z_]\w*")
_LABEL = re.compile(r"""label\s*=\s*(?:"([^"]*)"|'([^']*)'|(\S+))""")
_PROPERTY = re.compile(r"""\w+\s*=\s*["']""")
_TIME = re.compile(r"([0-9]{1,3})\s*/\s*([0-9]{1,3})")
_NUMBER = re.compile(r"[0-9]{1,6}(\.[0-9]{1,6})?")
_LONGEST_NAME = 60
_MOST_COMMENTS = 100


def read_chordpro(text: str, name: str) -> Draft:
    """Read ChordPro text.

    Args:
        text: The text, one song or several.
        name: What a song without a title is called.

    Raises:
        ImportFault: it holds no song, or more than fits a rig.
    """
    reader = _SongReader(name)
    for number, line in _logical_lines(text):
        reader.line(number, line.strip())
    return reader.done()


def _logical_lines(text: str) -> Iterator[tuple[int, str]]:
    """Lines with their numbers; one that ends in a backslash goes on in the next."""
    parts: list[str] = []
    begin = 1
    for number, line in enumerate(text.split("\n"), 1):
        line = line.rstrip("\r")
        if not parts:
            begin = number
        if line.endswith("\\"):
            parts.append(line[:-1] if not parts else line[:-1].lstrip())
            continue
        yield begin, "".join([*parts, line.lstrip() if parts else line])
        parts = []
    if parts:
        yield begin, "".join(parts)


@dataclass
class _SongText:
    """One song while it is read."""

    title: str = ""
    tempo: float | None = None
    meter: str | None = None
    key: str = ""
    capo: int | None = None
    comments: list[str] = field(default_factory=list)
    sections: list[DraftSection] = field(default_factory=list)
    seen: bool = False


class _SongReader:
    """Goes through the lines and gathers the parts."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._songs: list[DraftSong] = []
        self._notes: list[str] = []
        self._verses = 0
        self._begin()

    def _begin(self) -> None:
        self._song = _SongText()
        self._tempo: float | None = None
        self._meter: str | None = None
        self._open: str | None = None
        """The environment that is open."""
        self._literal: str | None = None
        """The environment inside which only its own end counts."""
        self._passage = False
        """Whether lines outside any environment are being read."""
        self._heading = ""
        """A comment on the line just above."""
        self._chorus: int | None = None
        self._sung = False
        """Whether the open section has had a line already."""

    def done(self) -> Draft:
        """Return what was read."""
        self._end_song()
        if not self._songs:
            raise ImportFault("it has no ChordPro song: no title, no section, no line")
        if self._verses:
            self._notes.append(
                f"{count(self._verses, 'passage')} outside any section: taken as "
                "Verse, as ChordPro says"
            )
        return Draft("chordpro", tuple(self._songs), tuple(self._notes))

    def line(self, number: int, line: str) -> None:
        """Take one line in."""
        if line.startswith("{") and line.endswith("}"):
            self._directive(number, line[1:-1].strip())
        elif self._literal is None and not line.startswith("#"):
            self._text(bool(line))

    def _text(self, has_words: bool) -> None:
        if has_words:
            self._song.seen = True
        if self._open is not None:
            self._sung = self._sung or has_words
        elif not has_words:
            self._passage = False
            self._comment_done()
        elif not self._passage:
            self._passage = True
            if not self._heading:
                self._verses += 1
            self._section(self._heading or "Verse")
            self._heading = ""
            self._sung = True

    def _directive(self, number: int, inner: str) -> None:
        directive = _NAME.match(inner)
        if directive is None:
            return
        word = directive[0].lower()
        word = _LONG.get(word, word)
        rest = inner[directive.end() :].strip()
        if rest.startswith("-"):  # only for some instruments or users: whose, nobody here knows
            return
        rest = rest[1:].strip() if rest.startswith(":") else rest
        if self._literal is not None:
            if word == f"end_of_{self._literal}":
                self._literal = None
                self._open = None if self._open == word[7:] else self._open
            return
        self._song.seen = self._song.seen or word not in ("new_song",)
        if word == "meta":
            word, _, rest = rest.partition(" ")
            word, rest = word.lower(), rest.strip()
        self._known(number, word, rest)

    def _known(self, number: int, word: str, rest: str) -> None:
        if word != "comment":
            self._comment_done()
        if word == "new_song":
            self._end_song()
        elif word == "title":
            self._song.title = self._song.title or rest
        elif word == "key":
            self._song.key = self._song.key or rest
        elif word == "capo":
            self._song.capo = (
                int(rest) if rest.isascii() and rest.isdigit() and len(rest) < 3 else None
            )
        elif word == "tempo":
            self._set_tempo(number, rest)
        elif word == "time":
            self._set_time(number, rest)
        elif word == "comment":
            self._comment_done()
            self._heading = visible(rest)
            if self._open is not None:
                self._comment_done()
            self._passage = False
        elif word == "chorus":
            self._recall(rest)
        elif word.startswith("start_of_"):
            self._start(word[9:], rest)
        elif word.startswith("end_of_"):
            self._open = None
            self._passage = False

    def _comment_done(self) -> None:
        """A comment that names no passage is kept in the song's note."""
        if self._heading and len(self._song.comments) < _MOST_COMMENTS:
            where = self._song.sections[-1].name if self._open and self._song.sections else ""
            self._song.comments.append(f"{where}: {self._heading}" if where else self._heading)
        self._heading = ""

    def _start(self, kind: str, rest: str) -> None:
        self._passage = False
        if kind in _LITERAL:
            self._literal = kind
            if self._open is not None or kind in _NO_SECTION:
                return  # inside a section it only shows how that one goes
        self._open = kind
        self._section(_label_of(rest) or kind.replace("_", " ").strip().capitalize())
        self._sung = False
        if kind == "chorus":
            self._chorus = len(self._song.sections) - 1

    def _recall(self, rest: str) -> None:
        self._passage = False
        if self._chorus is None:
            self._section(_label_of(rest) or "Chorus")
            return
        first = self._song.sections[self._chorus]
        self._section(_label_of(rest) or first.name, recalls=self._chorus)

    def _section(self, name: str, recalls: int | None = None) -> None:
        if len(self._song.sections) >= MAX_SECTIONS:
            raise ImportFault(
                f"{visible(self._song.title or self._name)} has more than {MAX_SECTIONS} sections"
            )
        plain = " ".join(name.split())[:_LONGEST_NAME] or "Section"
        section = DraftSection(plain, recalls=recalls, more=self._overrides())
        self._song.sections.append(section)

    def _overrides(self) -> dict[str, Any]:
        more: dict[str, Any] = {}
        if self._tempo != self._song.tempo:
            more["tempo"] = self._tempo
        if self._meter != self._song.meter:
            more["meter"] = self._meter
        return more

    def _set_tempo(self, number: int, rest: str) -> None:
        if not _NUMBER.fullmatch(rest) or not 0.001 <= float(rest) <= 1000:
            self._notes.append(
                f'line {number}: tempo "{visible(rest[:40])}" is not a number, so it is ignored'
            )
            return
        self._tempo = float(rest)
        if self._song.tempo is None and not self._song.sections:
            self._song.tempo = self._tempo
        self._late(number, "tempo")

    def _set_time(self, number: int, rest: str) -> None:
        meter = _TIME.fullmatch(rest)
        if meter is None or not is_meter(int(meter[1]), int(meter[2])):
            self._notes.append(
                f'line {number}: time "{visible(rest[:40])}" is not a meter, so it is ignored'
            )
            return
        self._meter = f"{int(meter[1])}/{int(meter[2])}"
        if self._song.meter is None and not self._song.sections:
            self._song.meter = self._meter
        self._late(number, "meter")

    def _late(self, number: int, what: str) -> None:
        """A tempo or time that stands inside a section holds for it only from its first line."""
        if self._open is None or not self._song.sections:
            return
        if self._sung:
            name = self._song.sections[-1].name
            self._notes.append(
                f"line {number}: the {what} changes inside {name}; it counts from the "
                "next section on"
            )
            return
        if len(self._song.sections) == 1:
            self._song.tempo = self._song.tempo or self._tempo
            self._song.meter = self._song.meter or self._meter
        last = self._song.sections[-1]
        self._song.sections[-1] = replace(last, more=self._overrides())

    def _end_song(self) -> None:
        self._comment_done()
        song = self._song
        if song.seen:
            if len(self._songs) >= MAX_SONGS:
                raise ImportFault(f"it has more than {MAX_SONGS} songs")
            self._songs.append(self._finished(song))
        self._begin()

    def _finished(self, song: _SongText) -> DraftSong:
        more: dict[str, Any] = {}
        lines = [f"Key: {visible(song.key)}"] * bool(song.key) + song.comments
        if lines:
            more["note"] = "\n".join(lines)[:20_000]
        if song.capo is not None and song.capo <= 24:
            more["capo"] = song.capo
        number = len(self._songs)
        title = song.title or (f"{self._name} {number + 1}" if number else self._name)
        if not song.sections:
            self._notes.append(f"{visible(title)} has no sections")
        return DraftSong(
            title[:200],
            tempo=song.tempo,
            meter=song.meter,
            sections=tuple(song.sections),
            more=more,
        )


def _label_of(rest: str) -> str:
    """The label of an environment: `label="Verse 1"`, or all that stands there."""
    match = _LABEL.search(rest[:1000])
    label = next((part for part in match.groups() if part is not None), "") if match else rest
    if match is None and _PROPERTY.match(label):
        label = ""  # other properties, and no label
    return visible(label.replace("\\n", " ").strip())
