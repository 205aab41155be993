"""Columns get what they need, and no table is wider than its page."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigtui.sheets.columns import share_out

widths = st.lists(st.tuples(st.integers(1, 300), st.integers(1, 40)), min_size=1, max_size=12).map(
    lambda pairs: [(max(pair), min(pair)) for pair in pairs]
)


@given(st.integers(1, 400), widths)
def test_columns_fit_the_room_and_none_gets_more_than_it_wants(
    room: int, pairs: list[tuple[int, int]]
) -> None:
    """The sum keeps to the room, and what all want they get if it fits."""
    wanted, needed = [w for w, _ in pairs], [n for _, n in pairs]
    given_ = share_out(room, wanted, needed)
    assert sum(given_) <= room + 1e-6
    assert all(-1e-9 <= size <= want + 1e-9 for size, want in zip(given_, wanted))
    if sum(wanted) <= room:
        assert given_ == wanted
    else:
        assert sum(given_) == pytest.approx(room)
    if sum(needed) <= room:
        assert all(size >= need - 1e-9 for size, need in zip(given_, needed))


@pytest.mark.parametrize(
    ("room", "wanted", "needed", "given_"),
    [
        (80, [10, 20, 5], [5, 5, 5], [10, 20, 5]),  # all fit
        (40, [10, 100], [10, 10], [10, 30]),  # the narrow one whole, the wide one the rest
        (10, [30, 30], [20, 20], [5, 5]),  # not even words fit: the same for both
    ],
)
def test_shares(room: float, wanted: list[float], needed: list[float], given_: list[float]) -> None:
    """Worked out by hand."""
    assert share_out(room, wanted, needed) == pytest.approx(given_)
