"""What all edits share: change a table, and put, take and move rows, each giving a new value."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol, TypeVar

from pydantic import ValidationError

from rigtui.model.base import RigTable
from rigtui.model.errors import EditError
from rigtui.model.limits import LIMITS
from rigtui.model.rig import Rig
from rigtui.model.text import visible
from rigtui.model.validate import explain

TableT = TypeVar("TableT", bound=RigTable)
Row = TypeVar("Row")


class Named(Protocol):
    """A row that the rest of the file names by its id."""

    @property
    def id(self) -> str:
        """The row's id."""
        ...


NamedT = TypeVar("NamedT", bound=Named)


def changed(table: TableT, /, **changes: Any) -> TableT:
    """Return the table with some keys changed; None or a default takes a key out.

    Raises:
        EditError: a value that the file format does not allow, with the reason.
    """
    values = {name: getattr(table, name) for name in table.model_fields_set}
    for key, value in changes.items():
        field = type(table).model_fields[key]
        if not field.is_required() and (value is None or value == field.get_default()):
            values.pop(key, None)
        else:
            values[key] = value
    return made(type(table), **values)


def recast(table: TableT, /, **changes: Any) -> TableT:
    """Return the table with some keys changed to values that the rig holds in such a place already.

    That is `changed` without a look whether the file format allows them: ten times as fast, for
    what is tried on thousands of tables.
    """
    defaults = {key: type(table).model_fields[key].get_default() for key in changes}
    values = {key: defaults[key] if value is None else value for key, value in changes.items()}
    copy = table.model_copy(update=values)
    copy.model_fields_set.difference_update(
        key for key, value in values.items() if value == defaults[key]
    )
    return copy


def made(kind: type[TableT], /, **values: Any) -> TableT:
    """Make a table of values.

    Raises:
        EditError: a value that the file format does not allow, with the reason.
    """
    try:
        return kind.model_validate(values)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        key = str(first["loc"][0]) if first["loc"] else ""
        raise EditError(f"{key}: {explain(kind, first)}") from None


def with_table(rig: Rig, table: str, rows: Sequence[Any]) -> Rig:
    """Return the rig with one of its lists of tables replaced."""
    if len(rows) > LIMITS[table]:
        raise EditError(f"a file has at most {LIMITS[table]} {table}")
    return changed(rig, **{table: tuple(rows)})


def place_of(rows: Sequence[NamedT], row_id: str, what: str) -> int:
    """Return the place of the row with this id, from 0.

    Raises:
        EditError: there is no such row.
    """
    for at, row in enumerate(rows):
        if row.id == row_id:
            return at
    raise EditError(f'there is no {what} "{visible(row_id)}"')


def put(rows: Sequence[Row], at: int | None, row: Row) -> tuple[Row, ...]:
    """Return the rows with one more at a place, at the end where none is given."""
    place = len(rows) if at is None else max(0, min(at, len(rows)))
    return (*rows[:place], row, *rows[place:])


def swapped_in(rows: Sequence[Row], at: int, row: Row) -> tuple[Row, ...]:
    """Return the rows with the one at a place replaced."""
    return (*rows[:at], row, *rows[at + 1 :])


def taken(rows: Sequence[Row], at: int) -> tuple[Row, ...]:
    """Return the rows without the one at a place."""
    return (*rows[:at], *rows[at + 1 :])


def moved(rows: Sequence[Row], at: int, by: int) -> tuple[Row, ...]:
    """Return the rows with one moved by some places, no further than the ends."""
    rest = taken(rows, at)
    return put(rest, max(0, min(at + by, len(rest))), rows[at])


def in_range(rows: Sequence[Any], at: int, what: str) -> None:
    """Check a place.

    Raises:
        EditError: there is no such place.
    """
    if not 0 <= at < len(rows):
        raise EditError(f"there is no {what} {at + 1}")
