"""A text too long for its column goes on over blank cells of its row, and over nothing else."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from rigtui.tui.widgets.spill import side_by_side

NAME = "The Lamplighter's Nephew"


@pytest.mark.parametrize(
    ("texts", "drawn"),
    [
        ((NAME, "", "12"), "The Lamplighter's Nephew    12"),  # over a blank column
        ((NAME, "2", "12"), "The Lamplighter's… 2        12"),  # up to the next text
        ((NAME, "", ""), "The Lamplighter's Nephew      "),
        (("Low Fen", "2", "12"), "Low Fen            2        12"),
    ],
)
def test_a_name_has_the_blank_cells_behind_it(texts: tuple[str, ...], drawn: str) -> None:
    """Columns of 19, 5 and 6 cells; the last one stands at the right."""
    rows = side_by_side(texts, (19, 5, 6), ("left", "left", "right"), 30)
    assert "".join(rows) == drawn


def test_it_goes_on_before_a_figure_at_the_right() -> None:
    """A column of figures lends its blank cells, but for one that keeps the figure apart."""
    assert "".join(side_by_side(("Slow squash", "7"), (8, 8), ("left", "right"), 16)) == (
        "Slow squash    7"
    )
    assert "".join(side_by_side(("Slow squash out", "77"), (8, 6), ("left", "right"), 14)) == (
        "Slow squas… 77"
    )


def test_the_cell_that_the_cursor_marks_stays_whole() -> None:
    """Nothing goes on into it, though it is blank."""
    drawn = side_by_side((NAME, "", ""), (10, 5, 10), ("left",) * 3, 25, taken=2)
    assert "".join(drawn) == "The Lamplight…           "


@given(
    st.lists(st.tuples(st.text("ab é長", max_size=9), st.integers(2, 8), st.booleans()), max_size=6)
)
def test_all_columns_keep_their_places(cells: list[tuple[str, int, bool]]) -> None:
    """However long the texts are: a row is as wide as its columns, and what fits stands whole."""
    texts = [text.strip() for text, _, _ in cells]
    widths = [width for _, width, _ in cells]
    aligns = ["right" if right else "left" for _, _, right in cells]
    whole = sum(widths)
    line = "".join(side_by_side(texts, widths, aligns, whole))
    assert whole <= cell_len(line) <= whole + 1
    for text, width in zip(texts, widths, strict=True):
        if cell_len(text) < width:
            assert text in line
