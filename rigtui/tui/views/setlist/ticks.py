"""Rows that keys act on together: each list keeps its own, and they follow their rows."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from textual.binding import Binding

from rigtui.model.cells import wrap

if TYPE_CHECKING:
    from textual.widget import Widget

TICK = "*"
"""Stands before a row that is ticked."""


class Ticks:
    """The rows that are ticked, of the list in sight and of those shown before it."""

    def __init__(self, told_apart: Callable[[Any], Hashable]) -> None:
        """Begin with nothing ticked.

        Args:
            told_apart: What tells the rows of a list apart, of one row.
        """
        self._told_apart = told_apart
        self._of: dict[str | None, tuple[Sequence[Any], frozenset[int]]] = {}
        self._list: str | None = None

    def show(self, list_id: str | None, rows: Sequence[Any]) -> None:
        """Take a list to hand: its rows are these now."""
        old, ticked = self._of.get(list_id, (rows, frozenset()))
        if ticked and old is not rows:
            keys = [self._told_apart(row) for row in old], [self._told_apart(row) for row in rows]
            ticked = followed(ticked, *keys)
        self._of[list_id] = rows, ticked
        self._list = list_id

    @property
    def places(self) -> frozenset[int]:
        """The rows of the list at hand that are ticked, from 0."""
        return self._of[self._list][1] if self._list in self._of else frozenset()

    def turn(self, at: int) -> None:
        """Tick a row, or untick it."""
        rows, ticked = self._of[self._list]
        self._of[self._list] = rows, ticked ^ {at}

    def clear(self) -> None:
        """Untick all rows of the list at hand."""
        if self._list in self._of:
            self._of[self._list] = self._of[self._list][0], frozenset()


def followed(
    rows: Collection[int], old: Sequence[Hashable], new: Sequence[Hashable]
) -> frozenset[int]:
    """Where some rows of a list stand after it has changed; those that went are left out.

    Args:
        rows: Places in the old list, from 0.
        old: What tells its rows apart; the same may stand in it twice.
        new: The same of the new list.
    """
    there: dict[Hashable, list[int]] = {}
    for at, row in enumerate(new):
        there.setdefault(row, []).append(at)
    places = set()
    for at in rows:
        same = there.get(old[at], [])
        if len(same) >= old.count(old[at]):
            places.add(same[old[:at].count(old[at])])
        elif not same and len(new) == len(old):  # another one in its place: it was edited
            places.add(at)
    return frozenset(places)


def ticks_line(
    pane: Widget, count: int, keys: Sequence[tuple[tuple[str, ...], str]], width: int
) -> list[str]:
    """What the ticks are good for, on as many lines as that takes; nothing where none is set.

    Args:
        pane: The pane whose keys these are.
        count: How many rows are ticked.
        keys: Ids of keys, and what they do with the rows.
        width: Cells of a line.
    """
    if not count:
        return []
    shown = _keys_shown(pane)
    said = (f"{'/'.join(shown[name] for name in names)} {what}" for names, what in keys)
    return wrap(f"{count} ticked: {', '.join(said)}", width)


def _keys_shown(pane: Widget) -> dict[str, str]:
    """The shortest key of each of a pane's actions, by its id, as the player has set it."""
    written = [row for row in pane.BINDINGS if isinstance(row, Binding)]
    shown = _shortest(
        pane, [replace(row, key=key) for row in written for key in row.key.split(",")]
    )
    if pane.has_focus_within:
        active = [row.binding for row in pane.screen.active_bindings.values()]
        shown |= _shortest(pane, [row for row in active if row.id in shown])
    return shown


def _shortest(pane: Widget, bindings: Iterable[Binding]) -> dict[str, str]:
    of_id: dict[str, str] = {}
    for binding in bindings:
        key = pane.app.get_key_display(binding)
        if binding.id and len(key) < len(of_id.get(binding.id, key + " ")):
            of_id[binding.id] = key
    return of_id
