"""What a file shows before anything has checked it: what is surely well-formed, or nothing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigtui.model.banks import all_recalled_at
from rigtui.tui.views.presets.words import PresetLine

_MOST_LINES, _MOST_LOOPS, _HIGHEST = 1000, 99, 9999
_MOST_PEDALS = 20
_LONGEST = 200


def matrix_of(data: Mapping[str, Any]) -> tuple[list[tuple[int, list[str]]], list[PresetLine]]:
    """Make loops and lines of the presets' matrix from a file as it was plainly read.

    Raises:
        TypeError, AttributeError, KeyError: the file is no rig; the models will say why.
    """
    loops, presets, pedals = data["loops"], data["presets"], data.get("pedals", ())
    if max(len(loops), len(pedals)) > _MOST_LOOPS or len(presets) > _MOST_LINES:
        raise TypeError
    names = {_text(pedal["id"]): _text(pedal.get("name") or pedal["id"]) for pedal in pedals}
    numbers = [
        (
            _whole(loop["number"]),
            [names.get(pedal, _text(pedal)) for pedal in loop.get("pedals", ())[:_MOST_PEDALS]],
        )
        for loop in loops
    ]
    size = _whole(data.get("switcher", {}).get("bank_size", 0))
    lines = []
    for row in presets:
        memory, copies = row.get("memory"), row.get("copies", ())
        named = [*([] if memory is None else [memory]), *copies]
        memories = tuple(dict.fromkeys(_whole(held) for held in named))
        lines.append(
            PresetLine(
                _text(row.get("name") or row["id"]),
                all_recalled_at(memories, size),
                frozenset(_whole(number) for number in row.get("loops", ())[:_MOST_LOOPS]),
                _text(row.get("role", "other")),
            )
        )
    return numbers, lines


def name_of(data: Mapping[str, Any]) -> str:
    """The rig's name; empty if it has none that can be shown."""
    name = data.get("name")
    return name[:_LONGEST] if isinstance(name, str) else ""


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value[:_LONGEST]


def _whole(value: Any) -> int:
    if not isinstance(value, int) or not 0 <= value <= _HIGHEST:
        raise TypeError
    return int(value)
