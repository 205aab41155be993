"""From a rig to a sheet, and from a sheet to the bytes of a file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import PurePath
from typing import Literal, get_args

from rigtui.checks import Finding
from rigtui.checks.printed import for_paper
from rigtui.model import Rig, Setlist
from rigtui.model.base import SheetKind
from rigtui.model.text import first_few
from rigtui.paper import Sheet, sheet_of
from rigtui.sheets.sizes import Paper
from rigtui.store.outputs import file_names

Format = Literal["text", "md", "html", "pdf"]
FORMATS: tuple[Format, ...] = get_args(Format)
SUFFIXES: dict[str, Format] = {
    ".txt": "text", ".text": "text", ".md": "md", ".markdown": "md", ".html": "html",
    ".htm": "html", ".pdf": "pdf",
}  # fmt: skip
_ENDINGS: dict[Format, str] = {"text": ".txt", "md": ".md", "html": ".html", "pdf": ".pdf"}
_NAMED = 8
"""How many characters that cannot be printed are named."""


@dataclass(frozen=True)
class Rendered:
    """A sheet as a file."""

    content: bytes
    missing: tuple[str, ...] = ()
    """Characters that could not be printed; a box stands for each."""
    pages: int | None = None
    """How many pages it has, where the format knows."""


def make_sheet(
    rig: Rig, kind: SheetKind, setlist: Setlist | None, findings: Iterable[Finding], day: date
) -> Sheet:
    """Describe a sheet.

    Args:
        rig: The rig.
        kind: Which sheet.
        setlist: As `rigtui.paper.setlist_for` gives it.
        findings: All that the checks find in the rig; what belongs on paper is taken from it.
        day: The day it is made.
    """
    return sheet_of(rig, kind, setlist, for_paper(rig, findings, setlist), day)


def render(
    sheet: Sheet, format: Format, paper: Paper = "a4", distance_m: float | None = None
) -> Rendered:
    """Write a sheet in a format.

    Args:
        sheet: What stands on it.
        format: How it is written.
        paper: What it will be printed on (HTML and PDF).
        distance_m: Reading distance in metres (HTML and PDF); None for what is usual.
    """
    if format == "pdf":
        from rigtui.sheets.pdf import pdf

        made = pdf(sheet, paper, distance_m)
        return Rendered(made.content, made.missing, made.pages)
    if format == "html":
        from rigtui.sheets.html import html

        written = html(sheet, paper, distance_m)
    elif format == "md":
        from rigtui.sheets.markdown import markdown

        written = markdown(sheet)
    else:
        from rigtui.sheets.plain import text

        written = text(sheet)
    return Rendered(written.encode("utf-8"))


def format_of(name: str) -> Format | None:
    """Return the format that a file's name asks for, or None if it does not say."""
    return SUFFIXES.get(PurePath(name).suffix.lower())


def file_name(kind: SheetKind, setlist: Setlist | None, format: Format) -> str:
    """Return a name for a sheet's file, which never leads out of its folder."""
    name = "-".join([kind, *([setlist.id] if setlist else [])])
    return file_names([name], _ENDINGS[format])[0]


def missing_in_words(missing: Sequence[str]) -> str:
    """Say which characters could not be printed."""
    named = first_few([f"{char} (U+{ord(char):04X})" for char in missing], _NAMED)
    return (
        f"the PDF's typeface cannot set {named}: a box stands for each. It has no such "
        f"letters, or they have to be joined or set from right to left; HTML shows them"
    )
