"""Places in the rig as dotted paths. Only this module builds and splits them.

A path names a table, then a row by its id or its place, then what is in the row:
"songs.low-fen.sections.3". Places in lists count from 0. The whole rig is the empty path.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

EVERYWHERE = "rig"
"""What stands for the whole rig where a path must name something."""


def place_at(*steps: str | int) -> str:
    """Return the path of steps; the first may itself be a path, to go on from."""
    return ".".join(map(str, steps))


def section_place(song_id: str, at: int) -> str:
    """Return the path of a section, by its place in the song from 0."""
    return place_at("songs", song_id, "sections", at)


def set_place(setlist_id: str, at: int) -> str:
    """Return the path of a set, by its place in the setlist from 0."""
    return place_at("setlists", setlist_id, "sets", at)


class Where(NamedTuple):
    """A path, split into its steps."""

    table: str
    row: str = ""
    """Id of the row, or its place; empty for the table itself."""
    steps: tuple[str, ...] = ()
    """What leads on from there."""

    @property
    def section(self) -> int | None:
        """The place of the section that it leads to or into; None where it leads to none."""
        return self._number_after("songs", "sections", 0)

    @property
    def set_at(self) -> int | None:
        """The place of the set that it leads to or into."""
        return self._number_after("setlists", "sets", 0)

    @property
    def song_at(self) -> int | None:
        """The place in its set of the song that it leads to or into."""
        return None if self.set_at is None else self._number_after("setlists", "songs", 2)

    def _number_after(self, table: str, step: str, at: int) -> int | None:
        if self.table != table or self.steps[at : at + 1] != (step,):
            return None
        number = self.steps[at + 1 : at + 2]
        return int(number[0]) if number and number[0].isdecimal() else None


@lru_cache(maxsize=32_768)  # a long report asks for each of its thousands of places many times
def taken_apart(where: str) -> Where:
    """Take a path apart."""
    table, *steps = where.split(".")
    return Where(table, steps[0] if steps else "", tuple(steps[1:]))


def steps_below(where: str, above: str) -> tuple[str, ...] | None:
    """Return the steps from one place down to another; None if the other is not inside it."""
    if where == above or not above:
        return tuple(where.split(".")) if where and not above else ()
    return tuple(where[len(above) + 1 :].split(".")) if where.startswith(above + ".") else None


def places_from(where: str) -> Iterator[str]:
    """Go from a place up through those that it is in, to the whole rig."""
    steps = where.split(".")
    for length in range(len(steps), 0, -1):
        yield ".".join(steps[:length])
    if where != EVERYWHERE:
        yield EVERYWHERE
