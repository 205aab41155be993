"""The tables of a file with the pieces of text that they stand in, scanned as far as asked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from rigtui.store.segments import Segment, split
from rigtui.store.toml_scan import Pair, Path, blocks, pairs
from rigtui.store.toml_write import format_key


@dataclass(eq=False, slots=True)
class TomlTable:
    """A table of the file, however it is written.

    Attributes:
        keys: The keys that lead to it from the top, positions left out.
        segment: The piece that its own keys stand in, if any do or can.
        prefix: Keys that it is spelled with in that piece: ("chain",) for `chain.front = []`.
        pairs: Its own keys with their values.
        children: The tables and the rows of tables in it that are no values of pairs.
        kin: All rows of the array of tables that it is one of.
        meant: What its text means, where it is a row.
        scanned: Whether `pairs` is filled.
    """

    keys: tuple[str, ...] = ()
    segment: Segment | None = None
    prefix: tuple[str, ...] = ()
    pairs: dict[str, Pair] = field(default_factory=dict)
    children: dict[str, TomlTable | list[TomlTable]] = field(default_factory=dict)
    kin: list[TomlTable] = field(default_factory=list)
    meant: Mapping[str, Any] = field(default_factory=dict)
    scanned: bool = False


class TableTree:
    """The text of one file, its pieces in order, and the tables in them."""

    def __init__(self, text: str, eol: str) -> None:
        self.eol = eol
        self._ends_open = bool(text) and not text.endswith("\n")
        self.text = text + eol if self._ends_open else text
        self.order = split(self.text, blocks(self.text))
        self.root = TomlTable()
        for segment in self.order:
            if segment.block is not None:
                self._enter(segment.block.path).segment = segment

    def render(self) -> str:
        """The whole text as edited so far."""
        text = "".join(segment.render(self.text) for segment in self.order)
        if self.text[:1] not in ("\r", "\n"):
            text = text.lstrip("\r\n")
        return text.removesuffix(self.eol) if self._ends_open else text

    def _enter(self, path: Path) -> TomlTable:
        """The table at a path, made if it is not there."""
        table = self.root
        for at, step in enumerate(path):
            if isinstance(step, int):
                continue
            keys = (*table.keys, step)
            if at + 1 < len(path) and isinstance(path[at + 1], int):
                rows = table.children.setdefault(step, [])
                assert isinstance(rows, list)
                if path[at + 1] == len(rows):
                    rows.append(TomlTable(keys, kin=rows))
                table = rows[int(path[at + 1])]
            else:
                child = table.children.setdefault(step, TomlTable(keys))
                assert isinstance(child, TomlTable)
                table = child
        return table

    def first(self, keys: Sequence[str]) -> TomlTable:
        """The table that keys lead to, through the first row of each array of tables."""
        table = self.root
        for key in keys:
            child = table.children[key]
            table = child[0] if isinstance(child, list) else child
        return table

    def scan(self, table: TomlTable) -> None:
        """Find the pairs of a table; dotted keys make tables of their own in the same piece."""
        segment = table.segment
        if table.scanned or segment is None or segment.block is None:
            return
        table.scanned = True
        for pair in pairs(self.text, segment.block.body, segment.block.end):
            owner = table
            for key in pair.keys[:-1]:
                child = owner.children.setdefault(key, TomlTable((*owner.keys, key)))
                assert isinstance(child, TomlTable)
                if child.segment is None:
                    child.segment, child.prefix = segment, (*owner.prefix, key)
                    child.scanned = True
                owner = child
            owner.pairs[pair.keys[-1]] = pair

    def placed_pieces(self, table: TomlTable) -> list[Segment]:
        """Return all pieces of a table and of the tables inside it, in the order of the file."""
        mine = set(self.pieces(table))
        return [segment for segment in self.order if segment in mine]

    def pieces(self, table: TomlTable) -> Iterator[Segment]:
        """The same, key by key."""
        if table.segment is not None and not table.prefix:
            yield table.segment
        for child in table.children.values():
            for row in child if isinstance(child, list) else [child]:
                yield from self.pieces(row)

    def home(self, table: TomlTable) -> Segment:
        """The piece to write a table's own keys in; a header is made where it has none."""
        if table.segment is None:
            inside = self.placed_pieces(table)
            at = self.order.index(inside[0]) if inside else self.end()
            name = ".".join(map(format_key, table.keys))
            table.segment = Segment(fresh=f"{self.eol}[{name}]{self.eol}")
            self.order.insert(at, table.segment)
        return table.segment

    def end(self) -> int:
        """Where a new kind of table goes: last, but before the comments that end the file."""
        last = self.order[-1]
        return len(self.order) - (last.block is None and not last.fresh)


def tell(rows: Sequence[TomlTable], meant: Sequence[Any]) -> None:
    """Note with each row, and with the rows in it, what its text means before any edit."""
    for row, data in zip(rows, meant, strict=True):
        row.meant = data
        for key, child in row.children.items():
            if isinstance(child, list):
                tell(child, data[key])


def has_header(table: TomlTable) -> bool:
    """Whether a table stands on its own, also when it is empty."""
    return table.segment is not None and not table.prefix


def inner_pairs(table: TomlTable) -> Iterator[Pair]:
    """Pairs of the tables that dotted keys made inside a table."""
    for child in table.children.values():
        if isinstance(child, TomlTable) and child.prefix:
            yield from child.pairs.values()
            yield from inner_pairs(child)
