"""Plain data as TOML 1.0 text in the house style: tables as sections, one row of a song a line."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from typing import Any

# The order in which a fresh file introduces things: what there is, how it is wired, what is played.
TABLE_ORDER = (
    "format", "name", "note", "amp", "switcher", "player", "pedals", "loops", "chain",
    "midi", "presets", "songs", "setlists", "waivers", "printed",
)  # fmt: skip

_BARE = re.compile(r"[A-Za-z0-9_-]+")
# C1 controls may stand in a TOML string, but would act on a terminal that shows the file.
_UNSAFE = re.compile(r'[\x00-\x1f"\\\x7f-\x9f\u2028\u2029]')
_UNSAFE_IN_LINES = re.compile(r"[\x00-\x09\x0b-\x1f\\\x7f-\x9f\u2028\u2029]")
_SHORT = {'"': '\\"', "\\": "\\\\", "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r"}
_EXACT = 2**53  # whole floats below this are written as integers


def dump(new: Mapping[str, Any], eol: str = "\n") -> str:
    """Write a whole file from plain data.

    Raises:
        TypeError: a value that TOML has no form for, e.g. None.
    """
    known = [key for key in TABLE_ORDER if key in new]
    keys = known + [key for key in new if key not in TABLE_ORDER]
    plain = [key for key in keys if not _has_header(new[key])]
    parts = [format_pair(key, new[key], eol) for key in plain]
    for key in keys:
        if key not in plain:
            rows = [new[key]] if isinstance(new[key], Mapping) else new[key]
            for row in rows:
                parts.append(
                    (eol if parts else "") + format_table((key,), row, row is not new[key], eol)
                )
    return "".join(parts)


def _has_header(value: Any) -> bool:
    return isinstance(value, Mapping) or is_table_list(value)


def is_table_list(value: Any) -> bool:
    """Whether a value is a list of tables with at least one row."""
    return (
        isinstance(value, list | tuple)
        and bool(value)
        and all(isinstance(item, Mapping) for item in value)
    )


def format_table(keys: Sequence[str], table: Mapping[str, Any], row: bool, eol: str) -> str:
    """Write one table with its header; `row` makes it a row of an array of tables."""
    name = ".".join(map(format_key, keys))
    header = f"[[{name}]]" if row else f"[{name}]"
    return header + eol + "".join(format_pair(key, value, eol) for key, value in table.items())


def format_pair(key: str, value: Any, eol: str) -> str:
    """Write one `key = value` with its line end; lists of tables get a line for each row."""
    return f"{format_key(key)} = {format_block(value, eol)}{eol}"


def format_block(value: Any, eol: str) -> str:
    """Write a value that stands at the end of a line of its own, where it may take several."""
    if is_table_list(value):
        return "[" + eol + "".join(f"  {format_value(row)},{eol}" for row in value) + "]"
    return format_value(value)


def format_key(key: str) -> str:
    """Write a key, bare where that is allowed."""
    return key if _BARE.fullmatch(key) else _basic(key)


def format_value(value: Any, like: str = "", eol: str = "\n") -> str:
    """Write a value in one line, spelled as far as possible like the text it replaces.

    Args:
        value: Text, number, boolean, date, time, list or table.
        like: Text of the value before: its quotes and its decimal point are kept.
        eol: Line end for text that was written over several lines.

    Raises:
        TypeError: TOML has no form for the value.
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _string(value, like, eol)
    if isinstance(value, int | float):
        return _number(value, like)
    if isinstance(value, datetime):
        return value.isoformat(" " if like[10:11] == " " else "T")
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, Mapping):
        inner = ", ".join(
            f"{format_key(key)} = {format_value(item)}" for key, item in value.items()
        )
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(format_value, value)) + "]"
    raise TypeError(f"TOML has no form for {type(value).__name__}")


def _number(value: float, like: str) -> str:
    if isinstance(value, float) and value.is_integer() and abs(value) < _EXACT:
        value = int(value)
    if isinstance(value, int):
        pointed = "." in like and abs(value) < _EXACT
        return f"{value}.0" if pointed else str(value)
    return repr(value)


def _string(value: str, like: str, eol: str) -> str:
    if "\n" in value and like[:3] in ('"""', "'''"):
        return _multi_line(value, like, eol)
    literal = like.startswith("'") and not like.startswith("'''")
    if literal and "'" not in value and not _UNSAFE.search(value.translate({34: None, 92: None})):
        return f"'{value}'"
    return _basic(value)


def _basic(value: str) -> str:
    return '"' + _UNSAFE.sub(_escape, value) + '"'


def _multi_line(value: str, like: str, eol: str) -> str:
    inner = _UNSAFE_IN_LINES.sub(_escape, value).replace('"""', '""\\"')
    if inner.endswith('"'):
        inner = inner[:-1] + '\\"'
    # The newline straight after the quotes is not part of the text: keep it where it was used,
    # and where the text itself begins with one.
    opening = "\n" if like[3:4] in ("\r", "\n") or inner.startswith("\n") else ""
    return ('"""' + opening + inner + '"""').replace("\n", eol)


def _escape(match: re.Match[str]) -> str:
    char = match.group()
    return _SHORT.get(char) or f"\\u{ord(char):04x}"
