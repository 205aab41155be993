"""Writing a file so that a crash at any moment leaves the old content or the new, never less.

The new content goes to a second file in the same folder, is forced to the disk, and then takes
the name in one step. Not kept: hard links to the old file, access lists, extended attributes.

Source: the order of steps is that of `man 2 fsync` (also the folder must be synced) and
`man 2 rename` (replacing is atomic).
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import secrets
import stat
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from rigtui.model.errors import RigError
from rigtui.model.text import visible
from rigtui.store.fingerprint import Fingerprint, changed_since, fingerprint, fingerprint_of

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

__all__ = ["Fingerprint", "SaveError", "WrittenFile", "changed_since", "fingerprint", "real_path",
           "refusal", "sweep", "sweep_folder", "write_atomic", "write_bytes",
           "write_new"]  # fmt: skip

STALE_SECONDS = 24 * 60 * 60
"""Age at which a second file that a crash left behind is cleared away."""

_SECOND = re.compile(r"\..+\.[0-9a-f]{16}\.tmp")
_NAME_BYTES = 180  # most file systems allow 255 for a name; leaves room for what is put round it
# Seconds between tries on Windows, where another program's short look at the file is in the way.
_WAITS = (0.02, 0.1, 0.5) if os.name == "nt" else ()
# A folder that cannot be synced is no fault: some file systems have no such thing.
_NO_FOLDER_SYNC = {
    errno.EACCES, errno.EBADF, errno.EINVAL, errno.EISDIR, errno.ENOSYS, errno.ENOTSUP,
    errno.EOPNOTSUPP, errno.EPERM,
}  # fmt: skip
# Some disks know no second name for a file, and say so in one of these ways.
_NO_LINKS = {
    errno.EPERM, errno.EINVAL, errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EMLINK,
}  # fmt: skip
_REASONS = {
    errno.EACCES: "you may not write in this folder: save under another name elsewhere",
    errno.EPERM: "the system doesn't allow it: save under another name elsewhere",
    errno.EROFS: "the disk is read-only: save under another name elsewhere",
    errno.ENOSPC: "the disk is full: make room and save again",
    errno.EDQUOT: "your share of the disk is used up: make room and save again",
    errno.EFBIG: "the file would be larger than the disk allows",
    errno.EIO: "the disk reports a fault: save under another name on another disk",
    errno.ENOENT: "the folder doesn't exist: make it, or save under another name",
    errno.ENOTDIR: "a file has the name of its folder: save under another name",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ELOOP: "its links lead in a circle",
}


class SaveError(RigError):
    """A file could not be written; what was there before is still there.

    Attributes:
        reason: Why, in a few words without advice; empty where the message is all there is.
        landed: Whether the new content is in the file all the same, if not yet for good.
    """

    reason = ""
    landed = False

    @property
    def why(self) -> str:
        """The reason alone where there is one, for files whose names say nothing to a player."""
        return self.reason or str(self)


@dataclass(frozen=True, slots=True)
class WrittenFile:
    """A file that was written.

    Attributes:
        print: What the file is now.
        note: What is otherwise than before and could not be helped, for the player; None if
            nothing is.
    """

    print: Fingerprint
    note: str | None = None


def write_atomic(path: Path, text: str) -> WrittenFile:
    """Write text as UTF-8 into a file, whole or not at all, and return what the file is now.

    Writes through links, and keeps the file's mode and, where permitted, its owner.

    Raises:
        SaveError: it could not be written, with the reason.
    """
    try:
        content = text.encode("utf-8")
    except UnicodeEncodeError as error:
        half = f"half a character (U+{ord(text[error.start]):04X}), which no file can store"
        raise _refusal(path, f"it holds {half}") from None
    return write_bytes(path, content)


def write_bytes(path: Path, content: bytes) -> WrittenFile:
    """Write bytes into a file, whole or not at all, and return what the file is now.

    Writes through links, and keeps the file's mode and, where permitted, its owner.

    Raises:
        SaveError: it could not be written, with the reason.
    """
    try:
        target = real_path(path)
        old = _old_status(target)
        sweep(target)
        return _write(target, content, old, _replace)
    except (OSError, ValueError) as error:
        raise refusal(path, error) from error


def real_path(path: Path) -> Path:
    """Return where a path leads to through all links; also where there is no file yet.

    Raises:
        OSError: a link cannot be read, or the links lead in a circle. Taken for no link, it would
            be replaced by a file.
    """
    try:
        return Path(os.path.realpath(path, strict=True))
    except (FileNotFoundError, NotADirectoryError):
        return Path(os.path.realpath(path))


def refusal(path: Path, error: OSError | ValueError) -> SaveError:
    """Say in words why a file was not written."""
    return _refusal(path, _reason(error))


def write_new(path: Path, content: bytes) -> None:
    """Write bytes into a file that is not there yet, whole or not at all.

    Raises:
        FileExistsError: there is something of that name, a link that leads nowhere included.
        OSError, ValueError: it could not be written; no file of that name is there.
        SaveError: it was written, but may not outlast a power cut.
    """
    if os.path.lexists(path):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST))
    _write(path, content, None, _name_new)


def _refusal(path: Path, reason: str) -> SaveError:
    refused = SaveError(f"{visible(path.name) or path} was not written: {reason}")
    refused.reason = reason.partition(": ")[0].partition("; ")[0]
    return refused


def sweep(path: Path) -> None:
    """Clear away what crashed saves of this file left in its folder more than a day ago."""
    _sweep(path.parent, re.compile(re.escape(_prefix(path)) + r"[0-9a-f]{16}\.tmp"))


def sweep_folder(folder: Path) -> None:
    """Clear away what crashed saves of any file left in a folder that is the program's own."""
    _sweep(folder, _SECOND)


def _sweep(folder: Path, names: re.Pattern[str]) -> None:
    """Remove the old files of some names; what cannot be removed now is left for the next time."""
    limit = time.time() - STALE_SECONDS
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            with contextlib.suppress(OSError):
                if names.fullmatch(entry.name) and entry.stat().st_mtime < limit:
                    os.unlink(entry.path)


def _prefix(path: Path) -> str:
    name = path.name.encode("utf-8", "surrogateescape")[:_NAME_BYTES]
    return f".{name.decode('utf-8', 'ignore')}."


def _old_status(target: Path) -> os.stat_result | None:
    """What the file is now, or None if there is none.

    Raises:
        SaveError: it is something that may not be replaced.
    """
    try:
        status = target.stat()
    except FileNotFoundError:
        return None
    if stat.S_ISDIR(status.st_mode):
        raise _refusal(target, "it is a folder; choose a file name")
    if not stat.S_ISREG(status.st_mode):
        raise _refusal(target, "it is not an ordinary file")
    # Replacing needs no right to the file itself, but a file set read-only is meant to stay.
    # Root may always write, so the mode is asked as well.
    may_write = os.access(target, os.W_OK)
    if not may_write and _disk_is_read_only(target):
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))
    if not status.st_mode & 0o222 or not may_write:
        raise _refusal(
            target, "the file is read-only; allow writing to it, or save under another name"
        )
    return status


def _disk_is_read_only(path: Path) -> bool:
    if not hasattr(os, "statvfs"):  # Windows, whose `access` looks at the file alone
        return False
    return bool(os.statvfs(path).f_flag & os.ST_RDONLY)


def _write(
    target: Path,
    content: bytes,
    old: os.stat_result | None,
    give_name: Callable[[Path, Path], None],
) -> WrittenFile:
    second = target.parent / f"{_prefix(target)}{secrets.token_hex(8)}.tmp"
    # For a new file the system applies the umask; one that may be private has to start private.
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    handle = os.open(second, flags, 0o666 if old is None else 0o600)
    try:
        try:
            left = memoryview(content)
            while left:
                left = left[os.write(handle, left) :]
            if old is not None:
                _keep_owner_and_mode(handle, old)
            _to_disk(handle)
            status = os.fstat(handle)
        finally:
            os.close(handle)
        give_name(second, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(second)
        raise
    _folder_to_disk(target)
    return WrittenFile(fingerprint_of(status, content), _changed_mode(old, status))


def _keep_owner_and_mode(handle: int, old: os.stat_result) -> None:
    """Make the second file as much like the old one as the system permits; it began private."""
    mine = os.fstat(handle)
    # Only root may give files away, and some disks know no modes: that is no reason not to save.
    if mine.st_gid != old.st_gid:
        with contextlib.suppress(OSError):
            os.fchown(handle, -1, old.st_gid)
    if mine.st_uid != old.st_uid:
        with contextlib.suppress(OSError):
            os.fchown(handle, old.st_uid, -1)
    if hasattr(os, "fchmod"):  # last, because a change of owner can clear bits of the mode
        with contextlib.suppress(OSError):
            os.fchmod(handle, stat.S_IMODE(old.st_mode))


def _changed_mode(old: os.stat_result | None, new: os.stat_result) -> str | None:
    """What to say where the file may be used by others than before; None if it is as it was."""
    if old is None or not hasattr(os, "fchmod"):
        return None
    before, now = stat.S_IMODE(old.st_mode), stat.S_IMODE(new.st_mode)
    if before == now:
        return None
    return f"its permissions are now {now:04o} instead of {before:04o}: the system changed them"


def _to_disk(handle: int) -> None:
    full_sync = getattr(fcntl, "F_FULLFSYNC", None)  # macOS: fsync alone leaves the drive's cache
    if full_sync is None:
        os.fsync(handle)
    else:
        fcntl.fcntl(handle, full_sync)


def _replace(second: Path, target: Path) -> None:
    """Give the second file the name."""
    for seconds in _WAITS:
        try:
            os.replace(second, target)
        except PermissionError:
            time.sleep(seconds)
        else:
            return
    os.replace(second, target)


def _name_new(second: Path, target: Path) -> None:
    """Give the second file a name that nothing has; the system itself refuses where one has it."""
    try:
        os.link(second, target)
    except FileExistsError:
        raise
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        if os.path.lexists(target):
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST)) from None
        os.rename(second, target)
    else:
        with contextlib.suppress(OSError):
            os.unlink(second)


def _folder_to_disk(target: Path) -> None:
    """Make the new name last through a power cut, where the system can."""
    try:
        handle = os.open(target.parent, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        if error.errno not in _NO_FOLDER_SYNC:
            reason = _reason(error)
            unsure = SaveError(
                f"{visible(target.name)} was written, but a power cut could still lose it: {reason}"
            )
            unsure.reason, unsure.landed = reason.partition(": ")[0], True
            raise unsure from error


def _reason(error: OSError | ValueError) -> str:
    if not isinstance(error, OSError):
        return "the name has a character that no file name can have"
    return _REASONS.get(error.errno or 0) or str(error.strerror or error).lower()
