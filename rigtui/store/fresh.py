"""Writing a file that is not there yet, and never over one that is."""

from __future__ import annotations

import os
from pathlib import Path

from rigtui.store.atomic import SaveError, write_new


def write_fresh(path: Path, text: str) -> None:
    """Write text as UTF-8 into a new file.

    Raises:
        SaveError: there is something of that name already, or it cannot be written there;
            what was there is still there.
    """
    try:
        content = text.encode("utf-8")
    except UnicodeEncodeError:
        raise SaveError(
            "was not written: it contains half a character, which no file can store"
        ) from None
    try:
        write_new(path, content)
    except FileExistsError:
        raise SaveError(taken(path) or "already exists; choose another name") from None
    except FileNotFoundError:
        raise SaveError(f"there is no folder {path.parent}; make it first") from None
    except (OSError, ValueError) as error:
        raise SaveError(f"can't be written there: {_reason(error)}") from None


def taken(path: Path) -> str | None:
    """Why a new file cannot have a name: what is there already; None if nothing is in the way."""
    if not os.path.lexists(path):
        return None
    kind = "is a folder" if path.is_dir() else "already exists, and is unchanged"
    return f"{kind}; choose another name"


def _reason(error: OSError | ValueError) -> str:
    return error.strerror if isinstance(error, OSError) and error.strerror else str(error)
