"""Rows of the report."""

from __future__ import annotations

import pytest

from rigtui.tui.views.report.lists import bar_of


@pytest.mark.parametrize(
    ("least", "moves", "most", "width", "expected"),
    [
        (0, 0, 10, 20, ""),
        (5, 5, 10, 20, "██████████"),
        (3, 5, 10, 20, "██████░░░░"),
        (10, 10, 10, 20, "████████████████████"),
        (1, 1, 1, 20, "████"),
        (0, 1, 100, 10, "░"),
        (99, 100, 100, 10, "█████████░"),
        (100, 100, 100, 10, "██████████"),
        (1, 1, 1000, 10, "█"),
        (0, 0, 0, 10, ""),
    ],
)
def test_bars(least: int, moves: int, most: int, width: int, expected: str) -> None:
    """A bar is as long as the moves, solid to the least, and never hides what could be saved."""
    assert bar_of(least, moves, most, width) == expected
