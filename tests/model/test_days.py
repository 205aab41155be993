"""Days as people write them: one reading or none, and both where there are two."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from rigtui.model import EditError
from rigtui.model.days import day_in, day_in_words

TODAY = date(2026, 11, 29)
FIFTH = date(2026, 12, 5)


@pytest.mark.parametrize(
    "text",
    [
        "2026-12-05", "2026-12-5", "2026/12/05", "2026.12.05", "5 Dec 2026", "5 december 2026",
        "5th December 2026", "Dec 5 2026", "December 5, 2026", "Sat 5 December", "sat, 5 dec",
        "Saturday, 5 Dec. 2026", "5 Dec", "5.12.2026", "05.12.2026", "5. 12. 2026", "5.12.26",
        "5.12.", " 5   Dec  2026 ",
    ],
)  # fmt: skip
def test_common_ways(text: str) -> None:
    """All of them are the fifth of December 2026."""
    assert day_in(text, TODAY) == FIFTH


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("13/12/2026", date(2026, 12, 13)),
        ("12/13/2026", date(2026, 12, 13)),
        ("5/5/2026", date(2026, 5, 5)),
        ("28 November", date(2027, 11, 28)),
        ("29 Nov", TODAY),
        ("29 Feb", date(2028, 2, 29)),
    ],
)
def test_the_only_reading(text: str, day: date) -> None:
    """A number above 12 can only be the day; without a year it is the next such day."""
    assert day_in(text, TODAY) == day


def test_both_readings_are_said() -> None:
    """Day and month may stand in either order between strokes."""
    with pytest.raises(
        EditError,
        match="5/12/2026 may be Saturday 5 December 2026 or Tuesday 12 May 2026: "
        "write 2026-12-05 or 2026-05-12",
    ):
        day_in("5/12/2026", TODAY)


def test_a_weekday_that_does_not_fit() -> None:
    """The gig is on the Friday or on the fifth, but not on both."""
    with pytest.raises(EditError, match="5 December 2026 is a Saturday, not a Friday"):
        day_in("Fri 5 December", TODAY)


@pytest.mark.parametrize(
    "text",
    ["friday", "next week", "31 Feb 2026", "30.2.2026", "2026-13-01", "5", "5.13.2026", "Dec 2026",
     "5 6 Dec 2026", "5 Dec 2026 late", "32/13/2026", "30 Feb", "5 De 2026", "\x1b5 Dec", "5.12"],
)  # fmt: skip
def test_no_day(text: str) -> None:
    """What is none is refused with ways that are good."""
    with pytest.raises(EditError, match="date must be a day such as 2027-03-05, 5 Mar 2027"):
        day_in(text, TODAY)


def test_every_day_is_read_as_it_is_written() -> None:
    """The form that a date is told back in is one that can be typed."""
    day = date(2027, 1, 1)
    while day.year < 2029:
        assert day_in(day_in_words(day), TODAY) == day_in(str(day), TODAY) == day
        day += timedelta(days=17)
