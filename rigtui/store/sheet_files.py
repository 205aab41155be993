"""Write sheets to files: replace nothing unasked, and never a rig file."""

from __future__ import annotations

import os
from pathlib import Path

from rigtui.model.errors import RigError
from rigtui.store.atomic import SaveError, write_bytes
from rigtui.store.outputs import takes_a_file


class ThereAlreadyError(SaveError):
    """A file of that name is there, and nobody said that it may be replaced."""


def write_sheet(path: Path, content: bytes, replace: bool) -> str | None:
    """Write a sheet into a file, whole or not at all.

    Args:
        path: Where to.
        content: The whole file.
        replace: Whether a file that is there may be replaced. A rig file may not even then.

    Returns:
        What to tell the player although it is written; normally nothing.

    Raises:
        ThereAlreadyError: there is a file of that name, and `replace` is false.
        SaveError: a rig file is there, or it could not be written.
    """
    there = takes_a_file(path)
    try:
        there = there or os.path.lexists(path)  # a link that leads nowhere is something, too
        real = Path(os.path.realpath(path))
    except (OSError, ValueError) as error:
        raise SaveError(f"{path} can't be read: {error}") from None
    if ".toml" in (path.suffix.lower(), real.suffix.lower()) or (there and _is_rig(real)):
        raise SaveError(f"{path} is the name of a rig file: rigtui never writes a sheet over one")
    if there and not replace:
        raise ThereAlreadyError(f"{path} already exists")
    return write_bytes(path, content).note


def _is_rig(path: Path) -> bool:
    """Whether a file is a rig, whatever it is called."""
    from rigtui.store.load import read_plain

    try:
        data = read_plain(path).data
    except RigError:
        return False
    return "format" in data and "name" in data
