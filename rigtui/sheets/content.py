"""What stands on a sheet, before anybody decides how it looks: one description for all formats."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside a part."""

    text: str
    level: int = 2


@dataclass(frozen=True, slots=True)
class Para:
    """A sentence or two."""

    text: str
    look: str = ""
    """"strong", "small", "caution" or nothing."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; no row is ever broken over two pages."""

    caption: str
    """What the table holds, for those who cannot see its place on the page."""
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    """Shares of the width."""
    strong: frozenset[int] = frozenset()
    """Rows to be seen first, counted from 0; they also carry a mark in words or a sign."""
    big: bool = False
    """To be read from a distance."""


@dataclass(frozen=True, slots=True)
class Lines:
    """Empty lines to write on."""

    count: int


Block = Heading | Para | Table | Lines


@dataclass(frozen=True, slots=True)
class Part:
    """Blocks that stay on one page where they fit; pages break between parts."""

    blocks: tuple[Block, ...]
    title: str = ""
    new_page: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole sheet."""

    kind: str
    """floor, program, wiring, rehearsal or deputy."""
    title: str
    subtitle: str
    parts: tuple[Part, ...]
    day: date
    """The day it is made."""

    @property
    def revision(self) -> str:
        """A short mark that is another one as soon as anything printed is; the day is left out."""
        content = repr((self.kind, self.title, self.subtitle, self.parts))
        return hashlib.sha256(content.encode("utf-8", "surrogatepass")).hexdigest()[:7]

    def texts(self) -> Iterator[str]:
        """All text on the sheet, in reading order."""
        yield self.title
        yield self.subtitle
        for part in self.parts:
            yield part.title
            for block in part.blocks:
                if isinstance(block, Table):
                    yield from block.head
                    for row in block.rows:
                        yield from row
                elif not isinstance(block, Lines):
                    yield block.text
