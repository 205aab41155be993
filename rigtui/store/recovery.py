"""Unsaved edits, written beside the user's state so that a crash loses at most the last second.

Each running program keeps one journal, whole or not at all, and holds a lock on a file beside it
for as long as it lives. A journal whose lock nobody holds belongs to a program that died: what
it holds is offered when its file is opened the next time.
"""

from __future__ import annotations

import contextlib
import json
import os
import secrets
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rigtui.model.errors import RigError
from rigtui.store.atomic import SaveError, sweep_folder, write_atomic
from rigtui.store.journal_text import JournalText
from rigtui.store.load import parse
from rigtui.store.migrate import up_to_date
from rigtui.store.state import file_key, files_in, state_folder

if TYPE_CHECKING:
    from filelock import BaseFileLock

    from rigtui.model.rig import Rig
    from rigtui.store.load import Source

_UNNAMED = "unnamed"
"""Stands for the file of a rig that was never saved."""
_GARBLED = (RigError, OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError)
"""What reading a journal can meet that some other program, or a sick disk, has written."""
_FAR_FUTURE = 1e10  # the year 2286: a moment that calendars can still say
_LOOK_SECONDS = 1.0
"""How long to wait where another program is looking whether a lock is held."""


@dataclass(frozen=True)
class Recovered:
    """What a program that died had not saved.

    Attributes:
        journal: The journal it stands in.
        path: The file that it was about; None for a rig that was never saved.
        rig: The rig with the unsaved edits.
        base: The rig as the file held it when those edits began; None for a new rig.
        base_text: That file's text, to tell whether it has changed since.
        seconds: When it was written, in seconds since 1970.
    """

    journal: Path
    path: Path | None
    rig: Rig
    base: Rig | None
    base_text: str | None
    seconds: float

    def text(self) -> str:
        """The file as saving those edits would have made it, comments and layout kept.

        Raises:
            SaveError: they cannot be written as a rig file.
        """
        from rigtui.store.fingerprint import Fingerprint
        from rigtui.store.load import Source
        from rigtui.store.save import rig_text

        source = None
        if self.base_text is not None:
            nowhere = Fingerprint(0, 0, 0, "")
            source = Source(self.journal, self.base_text, parse(self.base_text), nowhere)
        return rig_text(self.rig, source).text


class Journal:
    """The journal of one running program for one file."""

    def __init__(self, path: Path | None) -> None:
        """Open a journal.

        Args:
            path: The file being worked on; None while the rig has none.

        Raises:
            SaveError: the state folder cannot be written.
        """
        self.path = path
        name = f"{file_key(path) if path else _UNNAMED}-{secrets.token_hex(6)}"
        self._file = state_folder("recovery") / f"{name}.json"
        self._lock = _lock_of(self._file)
        self._text = JournalText()
        self._guard = threading.Lock()
        self._turn, self._done, self._closed = 0, 0, False
        _take(self._lock)

    def turn(self) -> int:
        """Take a number for a rig that is to be written later, perhaps by another thread."""
        self._turn += 1
        return self._turn

    def write(self, rig: Rig, source: Source | None, turn: int | None = None) -> None:
        """Keep the rig as it is now.

        Args:
            rig: The rig.
            source: The file that it came from, as it was read.
            turn: Its number from `turn`; a rig that is not the latest any more is not written.

        Raises:
            SaveError: it could not be written; without the journal's name, which says nothing.
        """
        path = os.path.realpath(self.path) if self.path else None
        text = self._text.of(path, source.text if source else None, time.time(), rig)
        number = self.turn() if turn is None else turn
        with self._guard:
            if number > self._done and not self._closed:
                self._stay()
                try:
                    write_atomic(self._file, text)
                except SaveError as error:
                    raise SaveError(error.why) from error
                self._done = number

    def _stay(self) -> None:
        """Have folder and lock there, also where somebody has cleared them away meanwhile.

        Without the lock the journal would pass for that of a program that died.
        """
        if not os.path.exists(self._lock.lock_file):
            with contextlib.suppress(OSError):
                self._lock.release()
            state_folder("recovery")
            self._lock = _lock_of(self._file)
            _take(self._lock)

    def clear(self, turn: int | None = None) -> None:
        """There is nothing unsaved: forget what was kept, and what may still be on its way.

        Args:
            turn: That moment's number from `turn`, if it has passed; what was kept later stays.
        """
        number = self.turn() if turn is None else turn
        with self._guard:
            if number > self._done:
                self._done = number
                with contextlib.suppress(OSError):
                    self._file.unlink()

    def close(self) -> None:
        """The program ends in good order."""
        self.clear()
        self._closed = True
        with contextlib.suppress(OSError):  # the end of the program lets go of it
            self._lock.release()
        with contextlib.suppress(OSError):
            Path(self._lock.lock_file).unlink()


def _lock_of(journal: Path) -> BaseFileLock:
    from filelock import FileLock

    # Whichever thread writes may have to take the lock anew, and another lets go of it at the end.
    return FileLock(str(journal.with_suffix(".lock")), timeout=0, thread_local=False)


def _take(lock: BaseFileLock) -> None:
    try:
        lock.acquire(timeout=_LOOK_SECONDS)
    except (OSError, NotImplementedError) as error:  # not every disk knows locks
        reason = getattr(error, "strerror", None) or str(error)
        raise SaveError(f"their folder can't be written: {reason}") from None


def _is_held(journal: Path) -> bool:
    """Whether a living program holds a journal's lock."""
    from filelock import Timeout

    try:
        if not journal.with_suffix(".lock").exists():
            return False
    except OSError:
        return True  # it cannot be told now: left alone, and offered the next time
    lock = _lock_of(journal)
    try:
        lock.acquire()
    except Timeout:
        return True
    except (OSError, NotImplementedError):
        return False
    with contextlib.suppress(OSError):
        lock.release()
    return False


def others_open(path: Path, own: Journal | None = None) -> int:
    """Return how many other running programs work on a file."""
    folder = state_folder("recovery")
    locks = _named(folder, file_key(path), ".lock")
    mine = own._file.with_suffix(".lock") if own else None
    return sum(lock != mine and _is_held(lock.with_suffix(".json")) for lock in locks)


def recovered(path: Path | None) -> list[Recovered]:
    """Return what programs that died had not saved of a file, the latest first.

    A journal that cannot be read is passed over and left where it is.
    """
    left = list(_dead(file_key(path) if path else _UNNAMED))
    return sorted(left, key=lambda edits: -edits.seconds)


def _named(folder: Path, key: str, ending: str) -> list[Path]:
    return [
        file
        for file in files_in(folder)
        if file.name.startswith(f"{key}-") and file.suffix == ending
    ]


def _dead(key: str) -> Iterator[Recovered]:
    folder = state_folder("recovery")
    sweep_folder(folder)
    for journal in _named(folder, key, ".json"):
        if not _is_held(journal):
            with contextlib.suppress(*_GARBLED):
                yield _read(journal)
    for lock in _named(folder, key, ".lock"):
        journal = lock.with_suffix(".json")
        if not os.path.exists(journal) and not _is_held(journal):
            with contextlib.suppress(OSError):
                lock.unlink()


def _read(journal: Path) -> Recovered:
    from rigtui.model.validate import rig_from_data

    content = json.loads(journal.read_text(encoding="utf-8"), object_hook=_date_back)
    base = content["base"]
    return Recovered(
        journal=journal,
        path=Path(content["path"]) if content["path"] else None,
        rig=rig_from_data(up_to_date(content["rig"])),
        base=rig_from_data(up_to_date(parse(base))) if base is not None else None,
        base_text=base,
        seconds=min(max(0.0, float(content["seconds"])), _FAR_FUTURE),
    )


def _date_back(content: dict[str, Any]) -> Any:
    from datetime import date

    if set(content) == {"date"} and isinstance(content["date"], str):
        return date.fromisoformat(content["date"])
    return content


def forget(edits: Recovered) -> None:
    """Throw away what was recovered."""
    for file in (edits.journal, edits.journal.with_suffix(".lock")):
        with contextlib.suppress(OSError):
            file.unlink()
