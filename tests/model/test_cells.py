"""Text is measured, cut, filled and broken by the cells that a terminal gives it.

Source of the widths: wcwidth, and Unicode Standard Annex 11 (East Asian Width).
"""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from wcwidth import wcswidth

from rigtui.model.cells import cells, clip, fit, wrap
from rigtui.model.text import visible

TEXTS = st.text(max_size=40).map(visible)


@pytest.mark.parametrize(
    ("text", "width"),
    [
        ("Low Fen", 7),
        ("Frühstück", 9),
        ("夜の川", 6),  # W in EastAsianWidth.txt
        ("ＡＢ", 4),  # F, full width
        ("ｱｲ", 2),  # H, half width
        ("e\u0301", 1),  # a combining accent
        ("\U0001f3b8", 2),  # an emoji
        ("\U0001f468\u200d\U0001f469\u200d\U0001f467", 2),  # three joined into one
        ("→ ♯ ½ █░ … ·", 12),
        ("", 0),
    ],
)
def test_text_takes_the_cells_that_the_standard_gives_it(text: str, width: int) -> None:
    """Wide characters take two cells, combining ones none, all others one."""
    assert cells(text) == width


def test_every_character_of_the_short_way_is_one_cell() -> None:
    """What is measured without the library's tables is what the tables say."""
    short = [chr(code) for code in (*range(0x20, 0x7F), *range(0xA0, 0x300))]
    assert [
        character for character in short if wcswidth(character) != 1 or cells(character) != 1
    ] == []


@given(TEXTS)
def test_text_measures_as_the_reference_does(text: str) -> None:
    """Any text that was made visible has the width that wcwidth gives it."""
    assert cells(text) == wcswidth(text)


@given(TEXTS, st.integers(0, 30))
def test_a_clipped_text_fits_and_a_short_one_is_untouched(text: str, width: int) -> None:
    """Cutting never leaves more than the width, and changes nothing where all of it fits."""
    cut = clip(text, width)
    assert cells(cut) <= width
    assert (cut == text) == (cells(text) <= width)


@pytest.mark.parametrize(
    ("text", "width", "shown"),
    [
        ("Goodnight", 9, "Goodnight"),
        ("Goodnight", 8, "Goodnig…"),
        ("Low Fen", 5, "Low…"),  # no blank before the ellipsis
        ("夜の川", 5, "夜の…"),
        ("夜の川", 4, "夜…"),  # half of a wide character cannot be shown
        ("ae\u0301iou", 3, "ae\u0301…"),  # the accent stays with its letter
        ("abc", 0, ""),
    ],
)
def test_a_cut_ends_in_an_ellipsis(text: str, width: int, shown: str) -> None:
    """Cutting falls between whole characters and says that something is missing."""
    assert clip(text, width) == shown


@given(TEXTS, st.integers(1, 30), st.sampled_from("<>"))
def test_a_fitted_text_is_exactly_as_wide_as_asked(text: str, width: int, align: str) -> None:
    """Columns line up, whatever stands in them."""
    assert cells(fit(text, width, align)) == width


@pytest.mark.parametrize(("align", "shown"), [("<", "夜   "), (">", "   夜")])
def test_filling_goes_to_the_side_asked_for(align: str, shown: str) -> None:
    """Text is filled after it, figures before them."""
    assert fit("夜", 5, align) == shown


@given(TEXTS, st.integers(4, 30))
def test_wrapped_lines_fit_and_lose_nothing_but_blanks(text: str, width: int) -> None:
    """Every line keeps to the width, and all that is no blank is still there, in order."""
    lines = wrap(text, width, "> ", "  ")
    assert [line for line in lines if cells(line) > width] == []
    body = "".join(line[2:] for line in lines)
    kept = [character for character in body if not unicodedata.category(character).startswith("Z")]
    assert kept == [
        character for character in text if not unicodedata.category(character).startswith("Z")
    ]


def test_lines_break_at_blanks_and_hang() -> None:
    """A long message goes on under its own beginning, and inner blanks stay as typed."""
    assert wrap("Chorus  one needs three moves", 14, "- ", "  ") == [
        "- Chorus  one",
        "  needs three",
        "  moves",
    ]
