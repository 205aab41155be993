"""The starter rig: a small file with comments that teach, written where there is none yet."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from rigtui.store.atomic import SaveError

_TEXT = Path(__file__).with_name("starter.toml")


def starter_text() -> str:
    """Return the starter rig as TOML."""
    return _TEXT.read_text(encoding="utf-8")


def write_starter(path: Path) -> None:
    """Write the starter rig into a new file.

    Raises:
        SaveError: there is something of that name already, or it cannot be written there;
            what was there is still there.
    """
    content = starter_text().encode("utf-8")
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    try:
        # The system itself refuses where there is a file, even one that appears this instant.
        handle = os.open(path, flags, 0o666)
    except FileExistsError:
        kind = "is a folder" if path.is_dir() else "exists already, and is left as it is"
        raise SaveError(f"{kind}; choose another name") from None
    except FileNotFoundError:
        raise SaveError(f"there is no folder {path.parent}; make it first") from None
    except (OSError, ValueError) as error:
        raise SaveError(f"cannot be written there: {_reason(error)}") from None
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
    except BaseException as error:
        with contextlib.suppress(OSError):
            path.unlink()
        if isinstance(error, OSError):
            raise SaveError(f"was not written: {_reason(error)}") from None
        raise


def _reason(error: OSError | ValueError) -> str:
    return error.strerror if isinstance(error, OSError) and error.strerror else str(error)
