"""Sheets for tests, and what a sheet says, told without any of the formats."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from rigs_made import Data, make_rig

from rigtui.checks import check
from rigtui.model import Rig, rig_from_data
from rigtui.model.base import SheetKind
from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.model.text import visible
from rigtui.paper import SHEETS, Sheet, setlist_for
from rigtui.paper.content import BOX, Lines, Part, Picture, Table
from rigtui.sheets.make import make_sheet

DAY = date(2027, 3, 1)
DEMOS = sorted((Path(__file__).parents[2] / "rigs").glob("*.toml"))


def sheet(rig: Rig, kind: SheetKind, setlist_id: str | None = None, day: date = DAY) -> Sheet:
    """A sheet of a rig, with what the rules find in it."""
    findings = check(rig) if SHEET_KINDS[kind].prints_findings else ()
    return make_sheet(rig, kind, setlist_for(rig, kind, setlist_id), findings, day)


def all_sheets(data: Data) -> Iterator[Sheet]:
    """Every sheet of a rig given as plain data."""
    rig = rig_from_data(data)
    findings = check(rig)
    for kind in SHEETS:
        yield make_sheet(rig, kind, setlist_for(rig, kind, None), findings, DAY)


def song_sheet(*sections: Data, **song: object) -> Sheet:
    """The floor sheet of one song."""
    row = {"id": "low-fen", "tempo": 120, "title": "Low Fen", "sections": list(sections), **song}
    night = {"id": "friday", "name": "Friday", "sets": [{"songs": ["low-fen"]}]}
    return sheet(make_rig(songs=[row], setlists=[night]), "floor")


def tables(sheet: Sheet) -> Iterator[tuple[Part, Table]]:
    """The tables of a sheet, each with its part."""
    for part in sheet.parts:
        for block in part.blocks:
            if isinstance(block, Table):
                yield part, block


def said(
    sheet: Sheet, box: str = BOX, head_marks: bool = True, captions: bool = False,
    drawn: bool = False,
) -> Iterator[str]:  # fmt: skip
    """What a sheet says below its heading, in reading order, as paper shows it.

    Args:
        sheet: The sheet.
        box: What a box to tick looks like.
        head_marks: Whether details of big tables stand under their row, each after the head of
            its column; else they are columns like others.
        captions: Whether what a table holds is said before it, and a picture in words.
        drawn: Whether pictures are drawn; else they are lines of text.
    """
    for part in sheet.parts:
        yield part.title
        for block in part.blocks:
            if isinstance(block, Table):
                yield from [block.caption] * captions
                yield from _table(block, head_marks, box)
            elif isinstance(block, Picture):
                if captions or not drawn:
                    yield from block.lines
                if drawn:
                    yield from (label.text for label in block.drawing.labels)
            elif not isinstance(block, Lines):
                yield block.text


def _table(table: Table, under: bool, box: str) -> Iterator[str]:
    beside = [
        at for at, column in enumerate(table.columns) if not (under and column.look == "under")
    ]
    yield from (table.columns[at].head for at in beside)
    for row in table.rows:
        for at in beside:
            boxes = table.columns[at].look == "boxes"
            yield row[at].replace(BOX, box) if boxes else row[at]
        for at, column in enumerate(table.columns):
            if at not in beside and row[at]:
                yield f"{column.head}: {row[at]}"


def bare(text: str) -> str:
    """A text as shown, without any blanks: how lines are broken does not matter."""
    return "".join(visible(text, keep="\n").split())
