"""Read dates as people write them: 2026-12-05, 5 Dec 2026, Sat 5 December, 5.12.2026."""

from __future__ import annotations

import re
from datetime import date
from itertools import count

from rigtui.model.errors import EditError
from rigtui.model.text import visible

_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september",
    "october", "november", "december",
)  # fmt: skip
_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_LEAST = 3
"""Letters of a month or a weekday that will do."""
_YEARS = 8
"""Years to go on through: so long there may be no 29 February."""
_YEAR_FIRST = re.compile(r"([0-9]{4})([-./])([0-9]{1,2})\2([0-9]{1,2})")
_DAY_FIRST = re.compile(r"([0-9]{1,2})\. ?([0-9]{1,2})\.(?: ?([0-9]{4}|[0-9]{2}))?")
_EITHER = re.compile(r"([0-9]{1,2})([-/])([0-9]{1,2})\2([0-9]{4}|[0-9]{2})")
_NUMBER = re.compile(r"([0-9]{1,2})(?:st|nd|rd|th|\.)?")
_YEAR = re.compile(r"[0-9]{4}")
EXAMPLES = "2027-03-05, 5 Mar 2027 or 5.3.2027"


def day_in(text: str, today: date) -> date:
    """Read a day.

    A point between numbers is day.month.year. Without a year it is the next such day, today
    included; a weekday must fit.

    Args:
        text: What was typed, not empty.
        today: The day on which it was.

    Raises:
        EditError: it is no day, or may be two; both are said then.
    """
    plain = " ".join(text.split())
    try:
        return _numbers(plain) or _words(plain, today) or _numbers_without_year(plain, today)
    except ValueError as error:
        shown = visible(plain[:40])
        if isinstance(error, EditError):
            raise
        raise EditError(f"date must be a day such as {EXAMPLES}, not {shown}") from None


def day_in_words(day: date) -> str:
    """A day with its weekday, in letters: "Friday 5 March 2027"."""
    weekday, month = _WEEKDAYS[day.weekday()], _MONTHS[day.month - 1]
    return f"{weekday.capitalize()} {day.day} {month.capitalize()} {day.year}"


def _numbers(text: str) -> date | None:
    if said := _YEAR_FIRST.fullmatch(text):
        return date(int(said[1]), int(said[3]), int(said[4]))
    if (said := _DAY_FIRST.fullmatch(text)) and said[3]:
        return date(_full(said[3]), int(said[2]), int(said[1]))
    if said := _EITHER.fullmatch(text):
        return _the_one(int(said[1]), int(said[3]), _full(said[4]), text)
    return None


def _full(year: str) -> int:
    return int(year) + (2000 if len(year) == 2 else 0)


def _the_one(first: int, second: int, year: int, text: str) -> date:
    """The only day that two numbers and a year can be.

    Raises:
        EditError: they can be two days.
        ValueError: they can be none.
    """
    days = set()
    for month, day in ((second, first), (first, second)):
        try:
            days.add(date(year, month, day))
        except ValueError:
            continue
    if len(days) == 2:
        day_first, month_first = date(year, second, first), date(year, first, second)
        raise EditError(
            f"date {visible(text)} may be {day_in_words(day_first)} or "
            f"{day_in_words(month_first)}: write {day_first} or {month_first}"
        )
    if not days:
        raise ValueError
    return days.pop()


def _numbers_without_year(text: str, today: date) -> date:
    said = _DAY_FIRST.fullmatch(text)
    if said is None:
        raise ValueError
    return _next(int(said[1]), int(said[2]), today)


def _words(text: str, today: date) -> date | None:
    """A day with its month in letters; None where no month stands."""
    words = re.findall(r"[^\s,]+", text.casefold())
    months = [word for word in words if _place(word, _MONTHS) is not None]
    if len(months) != 1:
        return None
    words.remove(months[0])
    month = _place(months[0], _MONTHS)
    assert month is not None
    years = [word for word in words if _YEAR.fullmatch(word)]
    numbers = [said for word in words if (said := _NUMBER.fullmatch(word))]
    weekdays = [place for word in words if (place := _place(word, _WEEKDAYS)) is not None]
    if len(numbers) != 1 or len(years) > 1 or len(weekdays) > 1:
        raise ValueError
    if len(numbers) + len(years) + len(weekdays) != len(words):
        raise ValueError
    number = int(numbers[0][1])
    day = date(int(years[0]), month + 1, number) if years else _next(number, month + 1, today)
    if weekdays and day.weekday() != weekdays[0]:
        weekday, _, rest = day_in_words(day).partition(" ")
        wanted = _WEEKDAYS[weekdays[0]].capitalize()
        raise EditError(f"date: {rest} is a {weekday}, not a {wanted}")
    return day


def _place(word: str, names: tuple[str, ...]) -> int | None:
    """The place of the name that a word begins, with a point behind it or not."""
    begun = word.removesuffix(".")
    if len(begun) < _LEAST:
        return None
    return next((at for at, name in enumerate(names) if name.startswith(begun)), None)


def _next(day: int, month: int, today: date) -> date:
    """The next such day from today on.

    Raises:
        ValueError: there is none.
    """
    for year in count(today.year):
        try:
            there = date(year, month, day)
        except ValueError:
            if year - today.year >= _YEARS:
                raise
            continue
        if there >= today:
            return there
    raise AssertionError
