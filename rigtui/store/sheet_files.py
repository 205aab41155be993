"""Sheets written into files: nothing that is there is replaced unasked, and a rig file never."""

from __future__ import annotations

import os
from pathlib import Path

from rigtui.model.errors import RigError
from rigtui.store.atomic import SaveError, write_bytes


class ThereAlreadyError(SaveError):
    """A file of that name is there, and nobody said that it may be replaced."""


def write_sheet(path: Path, content: bytes, replace: bool) -> None:
    """Write a sheet into a file, whole or not at all.

    Args:
        path: Where to.
        content: The whole file.
        replace: Whether a file that is there may be replaced. A rig file may not even then.

    Raises:
        ThereAlreadyError: there is a file of that name, and `replace` is false.
        SaveError: a rig file is there, or it could not be written.
    """
    try:
        there = os.path.lexists(path)
        folder = path.is_dir()
        real = Path(os.path.realpath(path))
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else error
        raise SaveError(f"{path} cannot be looked at: {reason}") from None
    if folder:
        raise SaveError(f"{path} is a folder: give the file a name")
    if ".toml" in (path.suffix.lower(), real.suffix.lower()) or (there and _is_rig(real)):
        raise SaveError(f"{path} is a name for a rig file: a sheet is never written over one")
    if there and not replace:
        raise ThereAlreadyError(f"{path} is there already")
    write_bytes(path, content)


def _is_rig(path: Path) -> bool:
    """Whether a file is a rig, whatever it is called."""
    from rigtui.store.load import read_plain

    try:
        data = read_plain(path).data
    except RigError:
        return False
    return "format" in data and "name" in data
