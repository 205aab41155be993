"""Restore points: the last saved versions of each file, kept in the user's state folder."""

from __future__ import annotations

import contextlib
import hashlib
import json
import re
import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.model.errors import BadRigError, RigError
from rigtui.store.atomic import write_atomic
from rigtui.store.load import Source, parse, read_plain
from rigtui.store.state import file_key, state_folder

if TYPE_CHECKING:
    from rigtui.model.rig import Rig

KEPT = 20
"""Restore points kept of each file."""

_NAME = re.compile(r"(\d{16})-([0-9a-f]{12})\.json")


@dataclass(frozen=True)
class Version:
    """One restore point.

    Attributes:
        file: Where it is kept.
        seconds: When it was kept, in seconds since 1970.
        text: The rig file's text.
        name: What the player called it; empty if nothing.
    """

    file: Path
    seconds: float
    text: str
    name: str

    def rig(self) -> Rig | None:
        """The rig of this version, or None if this program cannot read it."""
        from rigtui.model.validate import rig_from_data

        try:
            return rig_from_data(parse(self.text))
        except BadRigError:
            return None

    def changes_since(self, before: Version | None) -> str:
        """Say in a line what changed from the version before to this one."""
        from rigtui.model.diff import summary

        if before is None:
            return "first version kept"
        old, new = before.rig(), self.rig()
        if old is None or new is None:
            return "cannot be compared"
        return summary(old, new)


def versions(path: Path) -> list[Version]:
    """Return the restore points of a file, the latest first; unreadable ones are passed over."""
    found = []
    for file in _files(path):
        with contextlib.suppress(OSError, ValueError, KeyError, TypeError):
            content = json.loads(file.read_text(encoding="utf-8"))
            seconds = int(file.name.partition("-")[0]) / 1_000_000
            found.append(Version(file, seconds, str(content["text"]), str(content["name"])))
    return found


def _folder(path: Path) -> Path:
    return state_folder("versions", file_key(path))


def _files(path: Path) -> list[Path]:
    """Restore points by time, the latest first; the order is that of the names."""
    files = [file for file in _folder(path).iterdir() if _NAME.fullmatch(file.name)]
    return sorted(files, reverse=True)


def keep(path: Path, text: str, name: str = "") -> None:
    """Keep a version of a file, unless it is the latest one kept, and drop the oldest.

    A name given to a version that is kept already becomes that version's name.

    Raises:
        SaveError: it could not be kept.
    """
    digest = hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:12]
    files = _files(path)
    content = json.dumps({"name": name, "text": text})
    if files and files[0].name.endswith(f"-{digest}.json"):
        if name:
            write_atomic(files[0], content)
        return
    latest = int(files[0].name.partition("-")[0]) if files else 0
    moment = max(time.time_ns() // 1000, latest + 1)  # in order even if the clock was set back
    write_atomic(_folder(path) / f"{moment:016d}-{digest}.json", content)
    for old in files[KEPT - 1 :]:
        with contextlib.suppress(OSError):
            old.unlink(missing_ok=True)


def restore(path: Path, version: Version) -> Source:
    """Put a version back in place of what the file holds now, which is kept as a version first.

    Raises:
        SaveError: it could not be written; the file is as it was.
    """
    with contextlib.suppress(BadRigError):
        keep(path, read_plain(path).text)
    mark = write_atomic(path, version.text)
    keep(path, version.text)
    return Source(path, version.text, parse(version.text), mark)


def keep_quietly(path: Path, text: str) -> str | None:
    """Keep a version beside a save that has already succeeded; return what went wrong, or None."""
    try:
        keep(path, text)
    except (RigError, OSError) as error:
        return f"saved, but no restore point could be kept: {error}"
    return None
