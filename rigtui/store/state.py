"""The program's own folder on this machine: recovery, restore points, last files, settings."""

from __future__ import annotations

import errno
import hashlib
import os
from pathlib import Path

from platformdirs import user_state_path

from rigtui.store.atomic import SaveError, real_path, refusal


def state_folder(*parts: str) -> Path:
    """Return a folder below the user's state folder, made if need be, closed to other users.

    Raises:
        SaveError: it cannot be made.
    """
    folder = user_state_path("rigtui", appauthor=False).joinpath(*parts)
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        refused = SaveError(f"{folder} can't be made: {error.strerror}")
        refused.reason = f"their folder can't be made ({(error.strerror or 'refused').lower()})"
        raise refused from None
    return folder


def files_in(folder: Path) -> list[Path]:
    """Return what stands in a folder of the program's own, by name.

    Raises:
        SaveError: it cannot be read.
    """
    try:
        files = sorted(folder.iterdir())
        if files and not os.access(folder, os.X_OK):  # listed, but nobody gets at what is in it
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        return files
    except OSError as error:
        reason = f"{(error.strerror or 'refused').lower()}"
        refused = SaveError(f"{folder} can't be read: {reason}")
        refused.reason = f"their folder can't be read ({reason})"
        raise refused from None


def file_key(path: Path) -> str:
    """Return a name for a file that is the same however its path is spelled.

    Raises:
        SaveError: where its links lead cannot be told.
    """
    try:
        real = real_path(path)
    except (OSError, ValueError) as error:
        raise refusal(path, error) from error
    return hashlib.sha256(os.fsencode(real)).hexdigest()[:24]
