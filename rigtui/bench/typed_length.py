"""A length as a person reads it off a tape."""

from __future__ import annotations

import re

from rigtui.model.errors import EditError
from rigtui.model.text import visible

_MM = {"": 1.0, "mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, '"': 25.4, "inch": 25.4}
"""Millimetres in each unit; an inch is exactly 25.4 of them."""
_LENGTH = re.compile(r"(\d{1,6}(?:[.,]\d{1,4})?)\s*(mm|cm|m|inch|in|\")?", re.IGNORECASE)


def typed_length(text: str) -> float:
    """Return millimetres: "250", "25 cm", "9.5 in".

    Raises:
        EditError: it is no length.
    """
    match = _LENGTH.fullmatch(text.strip())
    if match is None:
        raise EditError(
            f'"{visible(text.strip())[:40]}" is not a length: type 250, 25 cm or 9.5 in'
        )
    number = float(match[1].replace(",", "."))
    length = round(number * _MM[(match[2] or "").lower()], 1)
    return int(length) if length.is_integer() else length
