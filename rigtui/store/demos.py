"""The rigs to begin with: demo rigs that come with the program, and the starter rig.

They are handed out as copies that belong to no file: nothing is ever saved over them.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.store.fingerprint import Fingerprint

if TYPE_CHECKING:
    from rigtui.store.load import Source

NOWHERE = Path()
"""The path of what no file holds yet."""

_PACKAGE = Path(__file__).parents[1]
_FOLDERS = (_PACKAGE / "rigs", _PACKAGE.parent / "rigs")
"""Inside the package once it is installed, beside it in a checkout."""


def demo_paths() -> tuple[Path, ...]:
    """Return the demo rigs that come with the program, by name."""
    for folder in _FOLDERS:
        demos = tuple(sorted(folder.glob("*.toml")))
        if demos:
            return demos
    return ()


def is_demo(path: Path) -> bool:
    """Whether a path is that of a demo rig that comes with the program."""
    try:
        return any(path.resolve() == demo.resolve() for demo in demo_paths())
    except (OSError, RuntimeError):  # links that lead in a circle
        return False


def copy_of(path: Path) -> Source:
    """Read a demo rig as a copy that belongs to no file.

    Raises:
        BadRigError: it cannot be read.
    """
    from rigtui.store.load import read_plain

    return replace(read_plain(path), path=NOWHERE)


def starter_source() -> Source:
    """Return the starter rig, which belongs to no file."""
    from rigtui.store.load import Source, parse
    from rigtui.store.starter import starter_text

    text = starter_text()
    return Source(NOWHERE, text, parse(text), Fingerprint(0, 0, 0, ""))


def blank_source() -> Source:
    """Return an empty rig that belongs to no file."""
    from rigtui.store.load import Source, parse

    text = 'format = 1\nname = "My rig"\n'
    return Source(NOWHERE, text, parse(text), Fingerprint(0, 0, 0, ""))
