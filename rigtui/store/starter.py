"""The starter rig: a small file with comments that teach, written where there is none yet."""

from __future__ import annotations

from pathlib import Path

from rigtui.store.atomic import SaveError
from rigtui.store.fresh import write_fresh

_TEXT = Path(__file__).with_name("starter.toml")


def starter_text() -> str:
    """Return the starter rig as TOML.

    Raises:
        SaveError: the file that came with the program cannot be read.
    """
    try:
        return _TEXT.read_text(encoding="utf-8")
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise SaveError(
            f"was not written: the starter rig that came with the program can't be read ({reason})"
        ) from None


def write_starter(path: Path) -> None:
    """Write the starter rig into a new file.

    Raises:
        SaveError: there is something of that name already, or it cannot be written there;
            what was there is still there.
    """
    write_fresh(path, starter_text())
