"""From a rig to a sheet, and from a sheet to the bytes of a file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from functools import lru_cache

from rigtui.advice.remedy import Remedy
from rigtui.advice.words import TITLE, does
from rigtui.checks import Finding
from rigtui.checks.printed import for_paper
from rigtui.model import Rig, Setlist
from rigtui.model.base import SheetKind
from rigtui.model.text import count, first_few
from rigtui.paper import Sheet, sheet_of
from rigtui.paper.content import BOX, Column, Part, Table
from rigtui.sheets.formats import FORMATS, Rendered
from rigtui.sheets.sizes import Paper
from rigtui.store.outputs import file_names

FIRST = (Column("what to do"), Column("what it clears, and costs"), Column("done", "boxes"))
_NAMED = 8
"""How many characters that cannot be printed are named."""


def make_sheet(
    rig: Rig, kind: SheetKind, setlist: Setlist | None, findings: Iterable[Finding], day: date,
    remedies: Sequence[Remedy] = (),
) -> Sheet:  # fmt: skip
    """Describe a sheet.

    Args:
        rig: The rig.
        kind: Which sheet.
        setlist: As `rigtui.paper.setlist_for` gives it.
        findings: All that the checks find in the rig; what belongs on paper is taken from it.
        day: The day it is made.
        remedies: What to do first, which opens the rehearsal sheet.
    """
    sheet = sheet_of(rig, kind, setlist, for_paper(rig, findings, setlist), day)
    if kind != "rehearsal" or not remedies:
        return sheet
    return replace(sheet, parts=(_first(remedies), *sheet.parts), advised=1)


def _first(remedies: Sequence[Remedy]) -> Part:
    rows = tuple(
        (". ".join((remedy.proposal.what, *remedy.proposal.detail)), does(remedy), BOX)
        for remedy in remedies
    )
    return Part((Table(TITLE, FIRST, rows),), TITLE)


def render(
    sheet: Sheet, format: str, paper: Paper = "a4", distance_m: float | None = None
) -> Rendered:
    """Write a sheet in a format.

    Args:
        sheet: What stands on it.
        format: One of `rigtui.sheets.formats.FORMATS`.
        paper: What it will be printed on, where the format is laid out.
        distance_m: Reading distance in metres, where it is laid out; None for what is usual.
    """
    return FORMATS[format].write(sheet, paper, distance_m)


@lru_cache(maxsize=16)  # asked at every key while a sheet is about to be written
def pages_in_words(sheet: Sheet, paper: Paper = "a4", distance_m: float | None = None) -> str:
    """Say how many pages a sheet takes before it is written, and how large its type is."""
    from rigtui.sheets.pdf import set_out
    from rigtui.sheets.typeface import Typesetter

    type_, pages = set_out(sheet, paper, distance_m, Typesetter())
    name = paper.upper() if paper == "a4" else paper.capitalize()
    return f"{count(len(pages), 'page')} of {name}; {type_.statement}"


def file_name(kind: SheetKind, setlist: Setlist | None, format: str) -> str:
    """Return a name for a sheet's file, which never leads out of its folder."""
    name = "-".join([kind, *([setlist.id] if setlist else [])])
    return file_names([name], FORMATS[format].endings[0])[0]


def missing_in_words(missing: Sequence[str]) -> str:
    """Say which characters could not be printed."""
    named = first_few([f"{char} (U+{ord(char):04X})" for char in missing], _NAMED)
    return (
        f"the PDF's typeface can't show {named}, and prints a box for each: it has no "
        "such letters, or the script joins letters or runs from right to left. HTML "
        "shows them"
    )
