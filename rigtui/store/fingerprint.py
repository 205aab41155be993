"""Noticing that another program has changed a file."""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Fingerprint:
    """What a file was like at one moment; equal content has an equal `sha256`."""

    mtime_ns: int
    size: int
    inode: int
    sha256: str
    device: int = 0
    """The disk that it is on, as the system numbers them while they are there; 0 for no file."""


def fingerprint(path: Path) -> Fingerprint:
    """Take the fingerprint of a file.

    Raises:
        OSError: the file cannot be read.
    """
    with open(path, "rb") as file:
        return fingerprint_of(os.fstat(file.fileno()), file.read())


def seen_at(path: Path) -> Fingerprint | None:
    """Take the fingerprint of a file for a question about it; None if it cannot be read."""
    try:
        return fingerprint(path)
    except (OSError, ValueError):
        return None


def fingerprint_of(status: os.stat_result, content: bytes) -> Fingerprint:
    """Make a fingerprint of a file's status and its content."""
    digest = hashlib.sha256(content).hexdigest()
    return Fingerprint(status.st_mtime_ns, status.st_size, status.st_ino, digest, status.st_dev)


def changed_since(path: Path, seen: Fingerprint) -> bool:
    """Whether a file has other content than when `seen` was taken; also if it is gone.

    Reads the file only if its time, size or inode is another.
    """
    try:
        now = path.stat()
        if (now.st_mtime_ns, now.st_size, now.st_ino) == (seen.mtime_ns, seen.size, seen.inode):
            return False
        return fingerprint(path).sha256 != seen.sha256
    except OSError:
        return True
