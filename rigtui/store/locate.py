"""From a place in a rig, as findings give it, to the line of the file where it stands."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rigtui.store.load import Source
    from rigtui.store.toml_map import TomlMap

_KEYS = {"loops": "number", "pedals": "id", "presets": "id", "songs": "id", "setlists": "id",
         "midi": "id"}  # fmt: skip
"""Tables whose rows are named, and the key that names them."""


class Locator:
    """The lines of one file as it was read, mapped once for however many places are asked for."""

    def __init__(self, source: Source) -> None:
        self._source = source

    @cached_property
    def _map(self) -> TomlMap:
        from rigtui.store.load import BOM
        from rigtui.store.toml_map import TomlMap

        return TomlMap(self._source.text.removeprefix(BOM))

    def line_of(self, where: str) -> int | None:
        """Return the line, counted from 1, at which a place stands.

        Args:
            where: Dotted path of table and ids, sections from 0: "songs.low-sun.sections.3".

        Returns:
            The line of the place or of what encloses it most closely; None if the file has no
            such row, e.g. because it is not saved yet.
        """
        path = path_of(self._source.data, where)
        if path is None:
            return None
        return self._map.line_of(path) if path else 1


def locate(source: Source, where: str) -> int | None:
    """Return the line of one place of a file, as `Locator.line_of` does."""
    return Locator(source).line_of(where)


def path_of(data: Mapping[str, Any], where: str) -> tuple[str | int, ...] | None:
    """Turn a dotted path of table and ids into one of keys and positions.

    Returns:
        The path, which may lead on into a key that its row lacks; None if there is no such row.
    """
    if not where:
        return ()
    table, *steps = where.split(".")
    path: list[str | int] = [table]
    if table in _KEYS and steps:
        rows = data.get(table, [])
        names = [str(row.get(_KEYS[table])) for row in rows]
        if steps[0] not in names:
            return None
        path.append(names.index(steps[0]))
        steps = steps[1:]
    path += [int(step) if step.isdecimal() else step for step in steps]
    if (
        table in ("waivers", "printed")
        and path[1:]
        and path[1] not in range(len(data.get(table, [])))
    ):
        return None
    return tuple(path)
