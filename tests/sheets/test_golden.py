"""The sheets of a small rig look, to the byte, as they were looked at and found good."""

from __future__ import annotations

from functools import lru_cache

import pytest
from sheets.golden.sheets import FOLDER, golden_sheets

from rigtui.sheets.make import render

NAMES = sorted(file.name for file in FOLDER.iterdir() if file.suffix in (".txt", ".md", ".html"))


@lru_cache
def made() -> dict[str, bytes]:
    """What the sheets are now, by file name."""
    return {name: render(sheet, format).content for name, sheet, format in golden_sheets()}


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_is_as_it_was_found_good(name: str) -> None:
    """Nothing changes on paper unnoticed."""
    assert made()[name] == (FOLDER / name).read_bytes()


def test_every_sheet_has_its_file() -> None:
    """None is left out, and none is left over."""
    assert sorted(made()) == NAMES
