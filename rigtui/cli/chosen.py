"""Opening the rig that a command is about, and finding in it what the command names."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from rigtui.model.errors import BadRigError, RigError
from rigtui.model.text import first_few, nearest

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rigtui.model.rig import Preset, Rig, Setlist, Song
    from rigtui.store.load import Source

    Row = TypeVar("Row", Preset, Song, Setlist)

_LISTED = 8


class NotThereError(RigError, KeyError):
    """An id on the command line that the file does not hold."""

    def __str__(self) -> str:
        return str(self.args[0])  # a KeyError would put its message in quotes


def opened(file: str) -> tuple[Source, Rig] | None:
    """Load a rig file; if it is bad, print all its mistakes and return None."""
    from rigtui.cli.terminal import complain_of_file
    from rigtui.store.load import load

    try:
        return load(Path(file))
    except BadRigError as error:
        complain_of_file(file, (problem.text() for problem in error.problems))
        return None


def named_row(what: str, wanted: str, rows: Sequence[Row]) -> Row:
    """Return the row with an id.

    Raises:
        NotThereError: there is none; the message names the nearest one, or those there are.
    """
    for row in rows:
        if row.id == wanted:
            return row
    ids = [row.id for row in rows]
    close = nearest(wanted, ids)
    if close:
        guess = f"did you mean {close}?"
    elif ids:
        guess = f"it has {first_few(ids, _LISTED)}"
    else:
        guess = "it has none"
    raise NotThereError(f'there is no {what} with the id "{wanted}"; {guess}')
