"""Plain text: nothing is lost, nothing is wider than the page, boxes stay whole."""

from __future__ import annotations

from pathlib import Path

import pytest
from examples import examples
from hypothesis import given
from rigs_made import Data
from sheets.rigs_for_sheets import rigs
from sheets.sheets_made import DEMOS, all_sheets, bare, said, sheet, tables

from rigtui.model.cells import cells
from rigtui.model.text import visible
from rigtui.paper import SHEETS, Sheet
from rigtui.paper.content import BOX
from rigtui.sheets.plain import text
from rigtui.store.load import load


def unruled(sheet_: Sheet) -> str:
    """A sheet's text without the lines under its headings and the lines to write on."""
    lines = [line for line in text(sheet_, 10_000).split("\n") if set(line) - set("=-~_ ")]
    return "".join("".join(line.split()) for line in lines)


@examples(20)
@given(rigs())
def test_every_text_is_there_in_reading_order(data: Data) -> None:
    """On a page wide enough that no cell is broken, the text is what the sheet says."""
    for described in all_sheets(data):
        printed, at = unruled(described), 0
        for words in said(described, head_marks=False):
            for line in visible(words, keep="\n").split("\n"):
                if set(line) - set("=-~_ ") and line.strip():
                    at = printed.index("".join(line.split()), at)


@examples(20)
@given(rigs())
def test_no_line_is_wider_than_the_page(data: Data) -> None:
    """80 columns are kept whatever the names are, and no control character gets out."""
    for described in all_sheets(data):
        for line in text(described).split("\n"):
            assert cells(line) <= 80 or len(line) == 1
            assert visible(line) == line


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_boxes_and_narrow_columns_are_not_broken(demo: Path) -> None:
    """The boxes of each row stand in one line, and so do heads of single words."""
    _, rig = load(demo)
    for kind in SHEETS:
        described = sheet(rig, kind)
        boxes = [
            row[at]
            for _, table in tables(described)
            for at, column in enumerate(table.columns)
            if column.look == "boxes"
            for row in table.rows
            if row[at]
        ]
        lines = text(described).split("\n")
        assert sum(line.count(BOX) for line in lines) == sum(cell.count(BOX) for cell in boxes)
        if kind in ("program", "wiring"):
            heads = [line for line in lines if line.rstrip().endswith("done")]
            assert len(heads) == sum(
                table.columns[-1].head == "done" for _, table in tables(described)
            )


def test_nothing_is_empty_for_a_bare_rig() -> None:
    """A rig of nothing but its name has sheets that say so."""
    for described in all_sheets({"format": 1, "name": "Bare"}):
        assert bare(described.title) in bare(text(described))
        assert f"Revision {described.revision}" in text(described)
