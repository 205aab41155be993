"""The program's own folder on this machine: recovery, restore points, last files, settings."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

from platformdirs import user_state_path

from rigtui.store.atomic import SaveError


def state_folder(*parts: str) -> Path:
    """Return a folder below the user's state folder, made if need be, closed to other users.

    Raises:
        SaveError: it cannot be made.
    """
    folder = user_state_path("rigtui", appauthor=False).joinpath(*parts)
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise SaveError(f"{folder} cannot be made: {error.strerror}") from None
    return folder


def file_key(path: Path) -> str:
    """Return a name for a file that is the same however its path is spelled."""
    real = os.path.realpath(path)
    return hashlib.sha256(os.fsencode(real)).hexdigest()[:24]
