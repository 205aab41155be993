"""Rows of a grid that are made when they come on the screen: a list of thousands opens at once."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from typing import NamedTuple


class GridRow(NamedTuple):
    """One row: its cells, or a line of its own between rows on which no cursor stands."""

    cells: tuple[str, ...] = ()
    looks: tuple[str, ...] = ()
    """Component class of each cell; empty takes the column's."""
    note: str | None = None
    """Text over the whole width in place of cells."""
    look: str = ""
    pieces: tuple[tuple[str, str], ...] = ()
    """In place of cells, texts one after the other, each with its component class: a line over the
    whole width on which the cursor can stand."""
    also: str = ""
    """What a search looks through besides: text of which the cells show a part."""


class LazyRows:
    """Rows by their place, each made the first time that somebody looks at it."""

    def __init__(
        self, size: int, make: Callable[[int], GridRow], notes: Collection[int] = frozenset()
    ) -> None:
        """Take how the rows are made.

        Args:
            size: How many rows there are.
            make: Makes the row at a place, from 0.
            notes: Places of rows that are lines of their own, on which no cursor stands.
        """
        self._made: list[GridRow | None] = [None] * size
        self._make = make
        self.notes = notes

    def __len__(self) -> int:
        return len(self._made)

    def __getitem__(self, at: int) -> GridRow:
        row = self._made[at]
        if row is None:
            row = self._made[at] = self._make(at)
        return row

    def __iter__(self) -> Iterator[GridRow]:
        return (self[at] for at in range(len(self)))
