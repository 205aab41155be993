"""From a place in a rig, as findings give it, to the line of the file where it stands."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Any

from rigtui.model.places import taken_apart

if TYPE_CHECKING:
    from rigtui.store.load import Source
    from rigtui.store.toml_map import TomlMap

_KEYS = {"loops": "number", "pedals": "id", "presets": "id", "songs": "id", "setlists": "id",
         "midi": "id"}  # fmt: skip
"""Tables whose rows are named, and the key that names them."""

_BY_PLACE = ("waivers", "printed", "places", "holes", "plugs", "reels", "patch_leads")
"""Tables whose rows findings name by their places."""


class Locator:
    """The lines of one file as it was read, mapped once for however many places are asked for."""

    def __init__(self, source: Source) -> None:
        self._source = source

    @cached_property
    def _map(self) -> TomlMap:
        from rigtui.store.load import BOM
        from rigtui.store.toml_map import TomlMap

        return TomlMap(self._source.text.removeprefix(BOM))

    @cached_property
    def _rows(self) -> dict[str, dict[str, int]]:
        return {table: _rows_by_name(self._source.data, table) for table in _KEYS}

    def line_of(self, where: str) -> int | None:
        """Return the line, counted from 1, at which a place stands.

        Args:
            where: Dotted path of table and ids, sections from 0: "songs.low-fen.sections.3".

        Returns:
            The line of the place or of what encloses it most closely; None if the file has no
            such row, e.g. because it is not saved yet.
        """
        path = path_of(self._source.data, where, self._rows)
        if path is None:
            return None
        return self._map.line_of(path) if path else 1


def locate(source: Source, where: str) -> int | None:
    """Return the line of one place of a file, as `Locator.line_of` does."""
    return Locator(source).line_of(where)


def _rows_by_name(data: Mapping[str, Any], table: str) -> dict[str, int]:
    """Where the row of each name stands; the first where a name stands twice."""
    rows = list(enumerate(data.get(table, [])))
    return {str(row.get(_KEYS[table])): at for at, row in reversed(rows)}


def path_of(
    data: Mapping[str, Any], where: str, known: Mapping[str, Mapping[str, int]] | None = None
) -> tuple[str | int, ...] | None:
    """Turn a dotted path of table and ids into one of keys and positions.

    Args:
        data: The file's plain data.
        where: The dotted path.
        known: Rows by name for each table, for who asks for many paths.

    Returns:
        The path, which may lead on into a key that its row lacks; None if there is no such row.
    """
    if not where:
        return ()
    table, row, steps = taken_apart(where)
    path: list[str | int] = [table]
    if table in _KEYS and row:
        rows = known[table] if known else _rows_by_name(data, table)
        if row not in rows:
            return None
        path.append(rows[row])
    elif row:
        steps = (row, *steps)
    path += [int(step) if step.isdecimal() else step for step in steps]
    if table in _BY_PLACE and path[1:] and path[1] not in range(len(data.get(table, []))):
        return None
    return tuple(path)
