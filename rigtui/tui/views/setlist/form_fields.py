"""Form fields for a row, and the row's values from what was typed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from rigtui.model.days import day_in, day_in_words
from rigtui.model.errors import EditError
from rigtui.model.text import number_text, visible
from rigtui.tui.views.presets.forms import number_or_none, whole_or_none
from rigtui.tui.widgets.dialogs import Field


class FormFields:
    """The fields of one form.

    Text is shown with its control characters made visible, and numbers as short as a person would
    write them; a field that nobody touched keeps the very value that the file has.
    """

    def __init__(self) -> None:
        self.fields: list[Field] = []
        self._before: dict[str, tuple[str, Any]] = {}

    def add(
        self,
        key: str,
        label: str,
        value: Any = None,
        hint: str = "",
        choices: tuple[tuple[str, str], ...] = (),
        explain: Callable[[dict[str, str]], str] | None = None,
    ) -> None:
        """Add a field that shows a value."""
        shown = _shown(value)
        self._before[key] = (shown, value)
        self.fields.append(Field(key, label, shown, choices, hint, explain=explain))

    def text(self, given: dict[str, str], key: str) -> str:
        """Text, stripped; "" where there is none."""
        shown, value = self._before[key]
        return (value or "") if given[key] == shown else given[key].strip()

    def name(self, given: dict[str, str], key: str) -> str | None:
        """Text, stripped; None where there is none."""
        shown, value = self._before[key]
        return value if given[key] == shown else given[key].strip() or None

    def number(self, given: dict[str, str], key: str, what: str) -> float | None:
        """A number, or None where there is none.

        Raises:
            EditError: it is no number.
        """
        shown, value = self._before[key]
        return value if given[key] == shown else number_or_none(given[key], what)

    def needed(self, given: dict[str, str], key: str, what: str) -> float:
        """A number that may not be left out.

        Raises:
            EditError: there is none.
        """
        number = self.number(given, key, what)
        if number is None:
            raise EditError(f"{what} is missing")
        return number

    def whole(self, given: dict[str, str], key: str, what: str) -> int | None:
        """A whole number, or None where there is none.

        Raises:
            EditError: it is no whole number.
        """
        shown, value = self._before[key]
        return value if given[key] == shown else whole_or_none(given[key], what)

    def day(self, given: dict[str, str], key: str) -> date | None:
        """A day, or None where there is none.

        Raises:
            EditError: it is no day.
        """
        text = given[key].strip()
        return day_in(text, date.today()) if text else None


def told_day(text: str) -> str:
    """The day that a text means, with its weekday; what is wrong where it means none."""
    if not text.strip():
        return ""
    try:
        return day_in_words(day_in(text, date.today()))
    except EditError as error:
        return str(error)


def _shown(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return number_text(value)
    return visible(str(value))
