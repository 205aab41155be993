"""From sections to the one line that says them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from decimal import Decimal

from rigtui.model.rig import Section
from rigtui.model.song_line.parts import (
    BARS,
    ENDS,
    NUMBER,
    TIMES,
    UNMAPPED,
    LinePart,
    base_and_number,
)
from rigtui.model.song_line.words import quoted
from rigtui.model.text import visible

_ID = re.compile(r"[a-z0-9][a-z0-9-]*")


def part_of(section: Section) -> LinePart:
    """What a line says of a section; control characters in names are made visible."""
    return LinePart(
        visible(section.name), section.bars, section.preset, section.plus, section.minus
    )


def line_of(parts: Iterable[LinePart]) -> str:
    """Write sections in the one form that reads back as the very same sections.

    Presets and pedals stand under their ids, which stay right when others are added; what is as
    the last time is left out, and a section played several times running has its `x2`.
    """
    rows = list(parts)
    written = _written_names(rows)
    last: dict[str, LinePart] = {}
    texts: list[str] = []
    at = 0
    while at < len(rows):
        name, end = written[at], at + 1
        same = rows[at]._replace(name="")
        while end < len(rows) and written[end] == name and rows[end]._replace(name="") == same:
            end += 1
        times = f" x{end - at}" if end - at > 1 else ""
        texts.append(_part(name, rows[at], last.get(name)) + times)
        last[name] = rows[at]
        at = end
    return ", ".join(texts)


def _written_names(rows: Sequence[LinePart]) -> list[str]:
    """Each section's name as it is written: bare where its number comes by itself, else quoted."""
    groups: dict[str, list[int]] = {}
    for at, row in enumerate(rows):
        groups.setdefault(base_and_number(row.name)[0].casefold(), []).append(at)
    written = [""] * len(rows)
    for places in groups.values():
        names = [rows[at].name for at in places]
        base = base_and_number(names[0])[0]
        numbered = [f"{base} {number}" for number in range(1, len(names) + 1)]
        if len(names) == 1:
            base, numbered = names[0], names
        bare = names == numbered and _is_plain(base)
        for at in places:
            written[at] = base if bare else quoted(rows[at].name)
    return written


def _is_plain(name: str) -> bool:
    """Whether a name can stand without quotes."""
    words = name.split()
    return (
        bool(words)
        and " ".join(words) == name
        and not (name.startswith("[") and name.endswith("]"))
        and not any(char in ENDS for char in name)
        and not any(
            word[0] in '+-"' or NUMBER.fullmatch(word) or TIMES.fullmatch(word) for word in words
        )
    )


def _part(name: str, row: LinePart, before: LinePart | None) -> str:
    pedals = "".join(
        f" {sign}{_id(pedal)}" for sign, ids in (("+", row.plus), ("-", row.minus)) for pedal in ids
    )
    bars = f" {_number(row.bars)}"
    if before is None:
        preset = "" if row.preset is None else f" {_id(row.preset)}"
        return name + bars + preset + pedals
    same_pedals = (row.plus, row.minus) == (before.plus, before.minus)
    if row.preset == before.preset and (same_pedals or pedals):
        said = "" if row.bars == before.bars else bars
        return name + said + ("" if same_pedals else pedals)
    preset = UNMAPPED if row.preset is None else _id(row.preset)
    return f"{name}{bars} {preset}{pedals}"


def _id(text: str) -> str:
    """An id as it is written; in quotes where it could be taken for something else."""
    plain = _ID.fullmatch(text) and text not in BARS and not TIMES.fullmatch(text)
    return text if plain else quoted(text)


def _number(bars: float) -> str:
    """A number in full, whatever its size: 16, 2.5, never 1e-05."""
    return str(int(bars)) if float(bars).is_integer() else f"{Decimal(repr(bars)):f}"
