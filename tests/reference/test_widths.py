"""Text made visible takes as many terminal cells as an independent table of widths says.

Source: wcwidth 0.2 and later, after Unicode Standard Annex 11 (East Asian Width); the widths in
the table are those that wcwidth 0.9.4 gave.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from wcwidth import wcswidth, wcwidth

from rigtui.model.text import visible


@pytest.mark.parametrize(
    ("text", "cells"),
    [
        ("A", 1),
        ("e\u0301", 1),
        ("\u30b3", 2),  # katakana, wide
        ("\uff83", 1),  # katakana, halfwidth
        ("\uff41", 2),  # a, fullwidth
        ("\u00d7", 1),  # multiplication sign, ambiguous
        ("\u2502", 1),  # box drawing, ambiguous
        ("\u00bd", 1),  # one half, ambiguous
        ("\U0001f600", 2),
        ("\U0001f469\u200d\U0001f680", 2),
        ("\u2764\ufe0f", 2),
        ("\U0001f1ec\U0001f1e7", 2),
        ("\u200b", 0),
    ],
)
def test_what_is_visible_already_keeps_its_width(text: str, cells: int) -> None:
    """Text without controls comes through unchanged, with the width of the table."""
    assert visible(text) == text
    assert wcswidth(visible(text)) == cells


@pytest.mark.parametrize("code", [*range(0x20), *range(0x7F, 0xA0)])
def test_a_control_becomes_one_cell(code: int) -> None:
    """Every C0 and C1 control, which a terminal would obey, is shown in one cell."""
    assert wcwidth(chr(code)) <= 0
    assert wcswidth(visible(chr(code))) == 1


@given(st.text(st.characters(codec=None)))
def test_every_text_has_a_width(text: str) -> None:
    """Whatever the text, what is shown has a width: wcwidth says -1 of any that does not."""
    assert wcswidth(visible(text)) >= 0
