"""From a path in the data to a line of the text, for messages about a rig file."""

from __future__ import annotations

import re
from bisect import bisect_left
from functools import cached_property

from rigtui.store.toml_scan import Block, Pair, Path, blocks, items, pairs


class TomlMap:
    """Where everything is in a text that tomllib accepts."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.blocks = blocks(text)
        self._found: dict[int, dict[str, list[Pair]]] = {}
        # Inline tables and arrays gone into, kept for the same reason as pairs are.
        self._inner: dict[int, list[Pair]] = {}
        self._starts: dict[int, list[int]] = {}
        self._by_path = {block.path: block for block in self.blocks}
        self._first_inside: dict[Path, Block] = {}
        for block in self.blocks:  # a list of tables is where its first table is
            for size in range(1, len(block.path)):
                self._first_inside.setdefault(block.path[:size], block)

    def line_of(self, path: Path) -> int:
        """Line, counted from 1, of the thing at `path`, or of the nearest thing that encloses it.

        Args:
            path: Keys and positions counted from 0, e.g. ("songs", 3, "sections", 0, "bars").
        """
        return bisect_left(self._line_ends, self._offset(path)) + 1

    @cached_property
    def _line_ends(self) -> list[int]:
        return [end.start() for end in re.finditer("\n", self.text)]

    def _offset(self, path: Path) -> int:
        prefixes = [path[:size] for size in range(len(path), -1, -1)]
        for prefix in prefixes:
            block = self._by_path.get(prefix)
            if block is None:
                continue
            rest = path[len(prefix) :]
            if not rest:
                return block.start
            line = self._descend(self._pairs_of(block, rest[0]), rest)
            if line is not None:
                return line
        known = (self._by_path.get(prefix) or self._first_inside.get(prefix) for prefix in prefixes)
        return next(block.start for block in known if block)

    def _pairs_of(self, block: Block, key: str | int) -> list[Pair]:
        """Pairs that begin with a key; kept, because a bad file asks for many lines of a block."""
        if block.body not in self._found:
            by_key = self._found[block.body] = {}
            for pair in pairs(self.text, block.body, block.end):
                by_key.setdefault(pair.keys[0], []).append(pair)
        return self._found[block.body].get(str(key), [])

    def _descend(self, among: list[Pair], path: Path) -> int | None:
        """Offset of the pair, or the thing in its value, that comes nearest to `path`."""
        best = max(among, key=lambda pair: _shared(pair.keys, path), default=None)
        if best is None or not (shared := _shared(best.keys, path)):
            return None
        rest = path[shared:]
        if not rest or shared < len(best.keys):
            return best.start
        return self._inside(best.value, rest, best.start)

    def _inside(self, value: int, path: Path, fallback: int) -> int:
        """Offset of what `path` names in the value at `value`, or of what comes nearest."""
        opening, step = self.text[value], path[0]
        if opening == "{":
            if value not in self._inner:
                self._inner[value] = list(pairs(self.text, value + 1, len(self.text)))
            line = self._descend(self._inner[value], path)
            return value if line is None else line
        if opening == "[":
            if value not in self._starts:
                self._starts[value] = [start for start, _ in items(self.text, value)]
            starts = self._starts[value]
            if isinstance(step, int) and step < len(starts):
                start = starts[step]
                return self._inside(start, path[1:], start) if path[1:] else start
        return fallback


def _shared(keys: tuple[str, ...], path: Path) -> int:
    """How many leading steps two paths have in common."""
    count = 0
    for key, step in zip(keys, path, strict=False):
        if key != step:
            break
        count += 1
    return count
