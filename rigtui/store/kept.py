"""What the program keeps between two runs: the files opened last and where one stood in each, and
the user's settings.

What cannot be read counts as not there, and never keeps the program from starting. Both stand in
the folders that the system means for them, as small TOML files.
"""

from __future__ import annotations

import contextlib
import os
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from platformdirs import user_config_path, user_state_path

from rigtui.store.atomic import SaveError, write_atomic

FILES_KEPT = 12


class LastPlace(NamedTuple):
    """Where the player stood in a file."""

    screen: str
    """Id of the view."""
    where: str
    """The place under the cursor, a dotted path; empty where the view names none."""


class _Recent(NamedTuple):
    """What is kept of the files opened last."""

    names: list[str]
    """The latest first."""
    stood: dict[str, LastPlace]


def settings_path() -> Path:
    """The settings file, which the user may also edit."""
    return user_config_path("rigtui", appauthor=False) / "settings.toml"


def _recent_path() -> Path:
    return user_state_path("rigtui", appauthor=False) / "recent.toml"


def recent_files() -> tuple[Path, ...]:
    """Return the files opened or saved last that are still there, the latest first."""
    there = []
    for name in _recent().names:
        path = Path(name)
        try:
            if path.is_file():
                there.append(path)
        except (OSError, ValueError):
            continue
    return tuple(there)


def remember_file(path: Path) -> None:
    """Put a file at the head of those opened last."""
    name = str(path.absolute())
    names, stood = _recent()
    if names[:1] != [name]:
        _keep_recent([name, *(before for before in names if before != name)], stood)


def stood_in(path: Path) -> LastPlace | None:
    """Where the player stood in a file when it was left; None if that is not known."""
    return _recent().stood.get(str(path.absolute()))


def remember_place(path: Path, stood: LastPlace) -> None:
    """Remember the player's place in a file, as long as the file is among those opened last."""
    name = str(path.absolute())
    names, before = _recent()
    if name in names:
        _keep_recent(names, {**before, name: stood})


def settings_there() -> bool:
    """Whether there is a settings file, be it as broken as it may."""
    return os.path.lexists(settings_path())


def settings_text() -> str | None:
    """The text of the settings file; None if there is none.

    Raises:
        OSError, ValueError: it cannot be read.
    """
    path = settings_path()
    return path.read_text(encoding="utf-8") if path.exists() else None


def read_settings() -> dict[str, Any]:
    """Return the user's settings as they stand in the file; empty if there is none, or no TOML."""
    return _read(settings_path())


def begin_settings(text: str) -> None:
    """Write a settings file where there is none yet.

    Raises:
        SaveError: it could not be written.
        OSError: its folder could not be made.
    """
    _write(settings_path(), text)


def keep_setting(key: str, value: str) -> None:
    """Write one setting, leaving what else the user wrote in the file as it is.

    Raises:
        SaveError: it could not be written, or what is there is no TOML.
    """
    from rigtui.store.splice import dump, rewrite

    path = settings_path()
    try:
        old = settings_text() or ""
        data = {**tomllib.loads(old), key: value}
        _write(path, rewrite(old, data).text if old else dump(data))
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise SaveError(f"{path} is not TOML: {error}") from None
    except (OSError, ValueError) as error:
        raise SaveError(f"{path} was not written: {error}") from None


def _keep_recent(names: list[str], stood: Mapping[str, LastPlace]) -> None:
    from rigtui.store.splice import dump

    kept = names[:FILES_KEPT]
    rows = [{"file": name, **stood[name]._asdict()} for name in kept if name in stood]
    with contextlib.suppress(OSError, SaveError):  # a list of files is no work to lose
        _write(_recent_path(), dump({"files": kept, "stood": rows}))


def _recent() -> _Recent:
    data = _read(_recent_path())
    names = data.get("files")
    kept = [name for name in names if isinstance(name, str)] if isinstance(names, list) else []
    return _Recent(kept, _stood(data.get("stood")))


def _stood(rows: object) -> dict[str, LastPlace]:
    texts = [
        {key: value for key, value in row.items() if isinstance(value, str)}
        for row in (rows if isinstance(rows, list) else [])
        if isinstance(row, dict)
    ]
    needed = {"file", *LastPlace._fields}
    return {
        row["file"]: LastPlace(row["screen"], row["where"]) for row in texts if needed <= set(row)
    }


def _read(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    write_atomic(path, text)


def table(settings: Mapping[str, Any], key: str) -> dict[str, str]:
    """Return one table of the settings, those of its entries that are text."""
    rows = settings.get(key)
    entries = rows.items() if isinstance(rows, Mapping) else ()
    return {name: value for name, value in entries if isinstance(value, str)}
