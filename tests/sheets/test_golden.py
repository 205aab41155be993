"""The sheets of a small rig look, to the byte, as they were looked at and found good."""

from __future__ import annotations

import pytest
from sheets.golden.sheets import FOLDER, golden_sheets

from rigtui.paper import Sheet
from rigtui.sheets.make import Format, render

GOLDEN = tuple(golden_sheets())


@pytest.mark.parametrize(("name", "sheet", "format"), GOLDEN, ids=[name for name, _, _ in GOLDEN])
def test_a_sheet_is_as_it_was_found_good(name: str, sheet: Sheet, format: Format) -> None:
    """Nothing changes on paper unnoticed."""
    assert render(sheet, format).content == (FOLDER / name).read_bytes()


def test_no_golden_file_is_left_over() -> None:
    """Every file there is compared."""
    files = {file.name for file in FOLDER.iterdir() if file.suffix in (".txt", ".md", ".html")}
    assert files == {name for name, _, _ in GOLDEN}
