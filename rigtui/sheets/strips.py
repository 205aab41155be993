"""Pages as strips: bands across the page that are never cut, with words at their places.

Measures are points; a strip's words are placed from its upper left corner.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from rigtui.paper.content import TIED
from rigtui.paper.drawing import Stroke
from rigtui.sheets.typeface import Face

NARROWEST = 0.7
"""How far letters are drawn narrower, at their full height, before a word is broken."""
ASCENT = 0.78
"""From the top of a line to its baseline, as a share of the type size."""


@dataclass(frozen=True, slots=True)
class Words:
    """Some words in one line."""

    x: float
    base: float
    """Baseline, down from the top of the strip."""
    text: str
    size: float
    bold: bool = False
    squeeze: float = 1.0
    """Width of the letters; 1 is their own."""
    grey: float = 0.0


@dataclass(frozen=True, slots=True)
class Strip:
    """A band across the page."""

    height: float
    words: tuple[Words, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    kind: Literal["text", "row", "head", "again"] = "text"
    shade: float = 1.0
    """Grey of its ground; 1 is white."""
    sticks: bool = False
    """Whether it stays on the page of the strip after it."""
    head: Strip | None = None
    """The head of its table, repeated on each page that the table goes on to."""
    outline: tuple[str, int] | None = None
    """Title and depth, for the outline beside the pages."""

    def pieces(self, height: float) -> Iterator[Strip]:
        """Cut a strip that is taller than a page, between its lines."""
        if self.height <= height:
            yield self
            return
        bases = sorted({word.base for word in self.words})
        start, first = 0.0, 0
        for at, base in enumerate(bases):
            bottom = bases[at + 1] if at + 1 < len(bases) else self.height
            if bottom - start > height and at > first:
                yield self._between(start, self._top(bases[at]))
                start, first = self._top(base), at
        yield self._between(start, self.height)

    def _top(self, base: float) -> float:
        """The top of a line."""
        return base - max(word.size for word in self.words if word.base == base)

    def _between(self, top: float, bottom: float) -> Strip:
        words = tuple(
            replace(word, base=word.base - top) for word in self.words if top < word.base <= bottom
        )
        strokes = tuple(
            replace(stroke, y=0.0, to_y=bottom - top if stroke.x == stroke.to_x else 0.0)
            for stroke in self.strokes
        )
        return replace(self, height=bottom - top, words=words, strokes=strokes)


def broken(
    text: str, room: float, face: Face, size: float, easy: float = 1.0
) -> list[tuple[str, float]]:
    """Break a text into lines.

    Args:
        text: What to break.
        room: Width of a line.
        face: Its typeface.
        size: Its type size.
        easy: How far it is rather drawn narrower than broken into lines.

    Returns:
        (line, squeeze) pairs. A word that is wider than the room is drawn narrower; if that is
        not enough, it is broken as well.
    """
    lines: list[tuple[str, float]] = []
    blank = face.width(" ", size)
    for paragraph in text.split("\n"):
        line, used = "", 0.0
        wide = face.width(paragraph, size)
        if room < wide and wide * easy <= room:
            lines.append((paragraph, room / wide))
            continue
        for word in filter(None, paragraph.split(" ")):
            wide = face.width(word, size)
            if line and used + blank + wide <= room:
                line, used = f"{line} {word}", used + blank + wide
                continue
            if line:
                lines.append((line, 1.0))
            if wide <= room:
                line, used = word, wide
            else:
                *whole, (line, squeeze) = _squeezed(word, wide, room, face, size)
                lines += whole
                used = face.width(line, size)
                if squeeze < 1:  # nothing more goes into a line that is squeezed
                    lines.append((line, squeeze))
                    line, used = "", 0.0
        lines += [(line, 1.0)] if line else []
    return [(line.replace(TIED, " "), squeeze) for line, squeeze in lines]


class Run(NamedTuple):
    """Words of one piece in one line; their baseline is still to be set."""

    words: Words
    piece: int
    line: int
    """From 0."""


def in_pieces(
    pieces: Iterable[tuple[str, bool, int]],
    room: float,
    face: Callable[[bool], Face],
    size: float,
) -> tuple[list[Run], int]:
    """Break pieces of a text, which run on in the same lines.

    Args:
        pieces: Text, whether it is bold, and a number to know it by.
        room: Width of a line.
        face: The typeface, bold or not.
        size: Its type size.

    Returns:
        The runs of words, and how many lines there are.
    """
    runs: list[Run] = []
    line, end = 0, 0.0
    for text, bold, piece in pieces:
        letters = face(bold)
        blank = letters.width(" ", size)
        for word in filter(None, text.split(" ")):
            for part, squeeze in broken(word, room, letters, size):
                wide = letters.width(part, size) * squeeze
                gap = blank * (1 if runs and runs[-1].piece == piece else 1.6) if end else 0.0
                if end and end + gap + wide > room:
                    line, end, gap = line + 1, 0.0, 0.0
                last = runs[-1] if gap else None
                if last is not None and last.piece == piece:
                    longer = replace(last.words, text=f"{last.words.text} {part}")
                    runs[-1] = last._replace(words=longer)
                else:
                    words = Words(end + gap, 0.0, part, size, bold, squeeze)
                    runs.append(Run(words, piece, line))
                end += gap + wide
    return runs, line + bool(runs)


def _squeezed(
    word: str, wide: float, room: float, face: Face, size: float
) -> list[tuple[str, float]]:
    if wide * NARROWEST <= room:
        return [(word, room / wide)]
    pieces: list[tuple[str, float]] = []
    piece, used = "", 0.0
    for char in word:
        step = face.width(char, size)
        if piece and (used + step) * NARROWEST > room:
            pieces.append((piece, min(1.0, max(NARROWEST, room / used))))
            piece, used = "", 0.0
        piece, used = piece + char, used + step
    return [*pieces, (piece, min(1.0, room / used) if used else 1.0)]
