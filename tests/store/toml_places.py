"""Every table, array and value of a TOML text, as the scanner of the store has them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rigtui.store.toml_scan import Path, blocks, items, pairs


@dataclass(frozen=True, slots=True)
class TomlPlace:
    """A thing in the text.

    Attributes:
        path: Where it is in the data.
        kind: "table" and "array" for things that hold others, "value" for all else.
        start: Offset of its first character: header, value, bracket or brace.
        end: Offset just after it; for a table with a header, just after the header.
    """

    path: Path
    kind: str
    start: int
    end: int


def places(text: str) -> Iterator[TomlPlace]:
    """Yield everything in a text that tomllib accepts, in the order of the text."""
    for block in blocks(text):
        if block.path:
            yield TomlPlace(block.path, "table", block.start, block.body)
        for pair in pairs(text, block.body, block.end):
            yield from _inside(text, (*block.path, *pair.keys), pair.value, pair.end)


def _inside(text: str, path: Path, start: int, end: int) -> Iterator[TomlPlace]:
    if text[start] == "[":
        yield TomlPlace(path, "array", start, end)
        for position, (first, last) in enumerate(items(text, start)):
            yield from _inside(text, (*path, position), first, last)
    elif text[start] == "{":
        yield TomlPlace(path, "table", start, end)
        for pair in pairs(text, start + 1, end):
            yield from _inside(text, (*path, *pair.keys), pair.value, pair.end)
    else:
        yield TomlPlace(path, "value", start, end)
