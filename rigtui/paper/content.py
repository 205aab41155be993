"""What stands on a sheet, before anybody decides how it looks: one description for all formats."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import Literal

from rigtui.model.base import SheetKind
from rigtui.paper.drawing import Drawing

BOX = "[ ]"
"""A box to tick, as plain text has it."""
TIED = "\u00a0"
"""A blank at which no line is broken."""
APART, CROWDED = "; ", f"{TIED}!"
"""Between the pieces of a cell; the mark of a piece to be seen first, which never stands alone."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside a part."""

    text: str


@dataclass(frozen=True, slots=True)
class Para:
    """A sentence or two; a line end in it begins a new line."""

    text: str
    look: Literal["", "strong", "small", "caution"] = ""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table."""

    head: str
    look: Literal["", "big", "under", "boxes", "lead", "pieces"] = ""
    """In a big table: big type, ordinary type beside it, or ordinary type in lines under the row.
    Boxes to tick are never broken over lines. Of pieces, which `pieces` takes apart, the crowded
    ones are bold and in a box; a bold lead stands in the same lines before them."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; no row is ever broken over two pages."""

    caption: str
    """What the table holds, for those who cannot see its place on the page."""
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    strong: tuple[int, ...] = ()
    """Rows to be seen first, counted from 0; they also carry a mark in words or a sign."""


def trimmed(table: Table) -> Table:
    """Leave out the columns that are empty all the way down; they only take room."""
    kept = [at for at in range(len(table.columns)) if any(row[at] for row in table.rows)]
    columns = tuple(table.columns[at] for at in kept)
    rows = tuple(tuple(row[at] for at in kept) for row in table.rows)
    return replace(table, columns=columns, rows=rows)


def pieces(cell: str) -> Iterator[tuple[str, bool]]:
    """Take a cell apart; yield each piece, and whether it is crowded."""
    *firsts, last = cell.split(APART)
    for piece in firsts:
        yield piece + APART.rstrip(), piece.endswith(CROWDED)
    yield last, last.endswith(CROWDED)


@dataclass(frozen=True, slots=True)
class Lines:
    """Empty lines to write on."""

    count: int


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing, and the same in lines of text, for formats that draw nothing."""

    drawing: Drawing
    lines: tuple[str, ...]


Block = Heading | Para | Table | Lines | Picture


@dataclass(frozen=True, slots=True)
class Part:
    """Blocks that stay on one page where that can be; pages break between parts."""

    blocks: tuple[Block, ...]
    title: str = ""
    new_page: bool = False
    big: bool = False
    """To be read from a distance."""
    dense: bool = False
    """Set with little white, so that its type can be larger."""


@dataclass(frozen=True)
class Sheet:
    """A whole sheet."""

    kind: SheetKind
    title: str
    subtitle: str
    parts: tuple[Part, ...]
    day: date
    """The day it is made."""
    rest: tuple[Part, ...] = ()
    """What is printed only where all is asked for."""
    advised: int = 0
    """How many of the first parts are advice, which follows from the rest: they do not age it."""

    @cached_property
    def revision(self) -> str:
        """A short mark that is another one as soon as anything printed is; the day is left out.

        It is the same with the rest as without.
        """
        parts = (*self.parts[self.advised :], *self.rest)
        content = repr((self.kind, self.title, self.subtitle, parts))
        return hashlib.sha256(content.encode("utf-8", "surrogatepass")).hexdigest()[:7]

    def whole(self) -> Sheet:
        """The sheet with its rest."""
        return replace(self, parts=(*self.parts, *self.rest), rest=())

    @property
    def big(self) -> bool:
        """Whether any of it is to be read from a distance."""
        return any(part.big for part in self.parts)


def day_in_words(day: date) -> str:
    """A day as people write it: "5 March 2027"."""
    return f"{day.day} {day:%B %Y}"
