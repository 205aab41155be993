"""Restore points: the last saved versions of each file, kept in the user's state folder."""

from __future__ import annotations

import contextlib
import hashlib
import json
import re
import time
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.model.errors import BadRigError
from rigtui.store.atomic import SaveError, sweep_folder, write_atomic
from rigtui.store.fingerprint import Fingerprint
from rigtui.store.load import MAX_BYTES, Source, parse
from rigtui.store.migrate import up_to_date
from rigtui.store.state import file_key, files_in, state_folder

if TYPE_CHECKING:
    from rigtui.model.rig import Rig

KEPT = 20
"""Restore points kept of each file, those with a name apart."""
NAMED_KEPT = 100
"""Restore points with a name that are kept of each file."""

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
            return rig_from_data(up_to_date(parse(self.text)))
        except BadRigError:
            return None

    def source(self) -> Source:
        """The version as a file that was read, for its comments and layout.

        Raises:
            BadRigError: it is no TOML.
        """
        return Source(self.file, self.text, parse(self.text), Fingerprint(0, 0, 0, ""))

    def changes_since(self, before: Version | None) -> str:
        """Say in a line what changed from the version before to this one."""
        from rigtui.model.diff import summary

        if before is None:
            return "first version kept"
        old, new = before.rig(), self.rig()
        if old is None or new is None:
            return "can't be compared"
        return summary(old, new)


def when(seconds: float) -> str:
    """Say a moment as a person would."""
    moment = datetime.fromtimestamp(seconds)
    same_day = moment.date() == datetime.fromtimestamp(time.time()).date()
    return moment.strftime("today %H:%M:%S" if same_day else "%d %B %Y %H:%M:%S")


def versions(path: Path) -> list[Version]:
    """Return the restore points of a file, the latest first; unreadable ones are passed over."""
    points = []
    for file in _files(path):
        with contextlib.suppress(OSError, ValueError, KeyError, TypeError, RecursionError):
            points.append(_read(file))
    return points


def _read(file: Path) -> Version:
    content = json.loads(file.read_text(encoding="utf-8"))
    text, name = content["text"], content["name"]
    if not isinstance(text, str) or not isinstance(name, str):
        raise TypeError
    return Version(file, int(file.name.partition("-")[0]) / 1_000_000, text, name)


def _folder(path: Path) -> Path:
    return state_folder("versions", file_key(path))


def _files(path: Path) -> list[Path]:
    """Restore points by time, the latest first; the order is that of the names."""
    return [file for file in reversed(files_in(_folder(path))) if _NAME.fullmatch(file.name)]


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
            _write(files[0], content)
        return
    latest = int(files[0].name.partition("-")[0]) if files else 0
    moment = max(time.time_ns() // 1000, latest + 1)  # in order even if the clock was set back
    _write(_folder(path) / f"{moment:016d}-{digest}.json", content)
    _drop_oldest(path)


def _write(file: Path, content: str) -> None:
    """Write a restore point; what went wrong is told without its name, which says nothing."""
    try:
        write_atomic(file, content)
    except SaveError as error:
        refused = SaveError(f"no restore point could be kept: {error.why}")
        refused.reason = error.why
        raise refused from error


def _drop_oldest(path: Path) -> None:
    sweep_folder(_folder(path))
    plain, named = 0, 0
    for file in _files(path):
        name = ""
        if plain >= KEPT:  # only then does it matter, and is worth reading
            with contextlib.suppress(OSError, ValueError, KeyError, TypeError, RecursionError):
                name = _read(file).name
        plain, named = (plain, named + 1) if name else (plain + 1, named)
        if (named > NAMED_KEPT) if name else (plain > KEPT):
            with contextlib.suppress(OSError):
                file.unlink()


def keep_what_is_there(path: Path) -> None:
    """Keep what a file holds now, whether or not it is a good rig; nothing if there is none.

    Raises:
        SaveError: it could not be kept.
    """
    try:
        with path.open("rb") as file:
            content = file.read(MAX_BYTES + 1)
        text = content.decode("utf-8")
    except FileNotFoundError:
        return
    except UnicodeDecodeError:
        raise _unkeepable(path, "is not UTF-8 text") from None
    except OSError as error:
        raise SaveError(f"{path.name} can't be read: {error.strerror or error}") from None
    if len(content) > MAX_BYTES:
        raise _unkeepable(path, "is too large")
    keep(path, text)


def _unkeepable(path: Path, reason: str) -> SaveError:
    refused = SaveError(f"{path.name} as it is now {reason}, so it can't be kept")
    refused.reason = f"it {reason}"
    return refused
