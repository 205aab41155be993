"""The only way to overwrite a rig file: a restore point is kept first.

What the file held before and what it holds now are both kept. Where that cannot be done the caller
is told, and whoever cannot do without says so beforehand.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from rigtui.model.errors import RigError
from rigtui.store.atomic import SaveError, write_atomic
from rigtui.store.fingerprint import Fingerprint
from rigtui.store.versions import keep, keep_what_is_there


def write_in_place(
    path: Path,
    text: str,
    read: str | None = None,
    must_keep: bool = False,
    last_look: Callable[[], None] | None = None,
) -> tuple[Fingerprint, tuple[str, ...]]:
    """Write a rig file, whole or not at all, and keep both the version before and the new one.

    Args:
        path: The file; there may be none yet.
        text: All that it is to hold.
        read: What it held when it was read, if it was; kept also where another program has
            changed it since.
        must_keep: Refuse to write where what is there cannot be kept.
        last_look: Called just before the file is written; what it raises leaves the file as it is.

    Returns:
        What the file is now, and what to tell the player although it is saved; normally nothing.

    Raises:
        SaveError: it could not be written, or, with `must_keep`, what is there could not be kept;
            the file is as it was.
    """
    notes = []
    try:
        if read is not None:
            keep(path, read)
        keep_what_is_there(path)
    except RigError as error:
        if must_keep:
            raise
        notes.append(f"the earlier version of {path.name} could not be kept: {_why(error)}")
    if last_look is not None:
        last_look()
    written = write_atomic(path, text)
    try:
        keep(path, text)
    except RigError as error:
        if not notes:
            notes.append(f"no restore point could be kept: {_why(error)}")
    if written.note is not None:
        notes.append(written.note)
    return written.print, tuple(notes)


def restore(path: Path, text: str) -> tuple[str, ...]:
    """Put a text in place of what a file holds now, which is kept as a restore point first.

    Returns:
        What to tell the player although the file is back; normally nothing.

    Raises:
        SaveError: it could not be written, or what is there could not be kept; the file is as it
            was.
    """
    return write_in_place(path, text, must_keep=True)[1]


def _why(error: RigError) -> str:
    return error.why if isinstance(error, SaveError) else str(error)
