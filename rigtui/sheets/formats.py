"""The formats of sheets: the one table that the command line, the endings of files and the writing
of a sheet read.

What writes a format is loaded when it is first used: `rigtui sheet --help` answers at once, and a
sheet as text needs no PDF library.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import PurePath
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from rigtui.paper import Sheet
    from rigtui.sheets.sizes import Paper


@dataclass(frozen=True)
class Rendered:
    """A sheet as a file."""

    content: bytes
    missing: tuple[str, ...] = ()
    """Characters that could not be printed; a box stands for each."""
    pages: int | None = None
    """How many pages it has, where the format knows."""


class Format(NamedTuple):
    """A way to write a sheet."""

    name: str
    """As people call it."""
    endings: tuple[str, ...]
    """Endings of files that ask for it; a file that is named for the player gets the first."""
    write: Callable[[Sheet, Paper, float | None], Rendered]
    """Called with the sheet, the paper and the reading distance in metres (None: what is usual)."""
    laid_out: bool = False
    """Whether it has type of a size: paper and distance mean something to it."""
    shown_as: str = "bytes"
    """What standard output does with it: "lines" are fitted to a terminal, "bytes" go out as they
    are, and "file" means that they are nothing to look at on one."""


def _text(sheet: Sheet, paper: Paper, distance_m: float | None) -> Rendered:
    from rigtui.sheets.plain import text

    return Rendered(text(sheet).encode("utf-8"))


def _markdown(sheet: Sheet, paper: Paper, distance_m: float | None) -> Rendered:
    from rigtui.sheets.markdown import markdown

    return Rendered(markdown(sheet).encode("utf-8"))


def _html(sheet: Sheet, paper: Paper, distance_m: float | None) -> Rendered:
    from rigtui.sheets.html import html

    return Rendered(html(sheet, paper, distance_m).encode("utf-8"))


def _pdf(sheet: Sheet, paper: Paper, distance_m: float | None) -> Rendered:
    from rigtui.sheets.pdf import pdf

    made = pdf(sheet, paper, distance_m)
    return Rendered(made.content, made.missing, made.pages)


FORMATS: dict[str, Format] = {
    "text": Format("text", (".txt", ".text"), _text, shown_as="lines"),
    "md": Format("Markdown", (".md", ".markdown"), _markdown),
    "html": Format("HTML", (".html", ".htm"), _html, laid_out=True),
    "pdf": Format("PDF", (".pdf",), _pdf, laid_out=True, shown_as="file"),
}
"""By the word that `--format` takes; the first is written where nothing says otherwise."""
DEFAULT = next(iter(FORMATS))
SUFFIXES: dict[str, str] = {
    ending: format for format, facts in FORMATS.items() for ending in facts.endings
}


def format_of(name: str) -> str | None:
    """Return the format that a file's name asks for, or None if it does not say."""
    return SUFFIXES.get(PurePath(name).suffix.lower())


def laid_out_formats() -> list[str]:
    """Return the formats that have type of a size: paper and reading distance are for them."""
    return [format for format, facts in FORMATS.items() if facts.laid_out]
