"""The starter rig: a small file with comments that teach, written where there is none yet."""

from __future__ import annotations

from pathlib import Path

from rigtui.store.fresh import write_fresh

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
    write_fresh(path, starter_text())
