"""Saves a file again and again, and at the n-th call of the system something goes wrong.

Run as a program of its own, because it forks: `crash_harness.py FOLDER KIND`. For n = 1, 2, ... it
puts the old file in place, lets a child process save over it with the n-th call spoiled in the way
of KIND, and prints what is in the folder afterwards, as one JSON object a line. It ends with the
first n that the save does not reach.
"""

from __future__ import annotations

import contextlib
import errno
import json
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from rigtui.store.atomic import SaveError, write_atomic

OLD, NEW = "old = 1\n" * 500, "new = 2\n" * 700
CALLS = (
    "stat",
    "scandir",
    "open",
    "write",
    "fstat",
    "fchmod",
    "fsync",
    "close",
    "replace",
    "unlink",
)
DIED, SAVED, REFUSED, STOPPED = 9, 0, 1, 2


def spoil(kind: str, at: int) -> Callable[[], str]:
    """Make the `at`-th call of the system fail; return a way to ask which call it was."""
    count, hit = 0, ""

    def wrap(name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        def spoiled(*arguments: Any, **more: Any) -> Any:
            nonlocal count, hit
            count += 1
            if count != at:
                return call(*arguments, **more)
            hit = name
            if kind == "dies before":
                os._exit(DIED)
            if kind == "dies halfway" and name == "write":
                call(arguments[0], bytes(arguments[1])[: len(arguments[1]) // 2])
                os._exit(DIED)
            if kind == "dies after":
                call(*arguments, **more)
                os._exit(DIED)
            if kind == "is stopped":
                raise KeyboardInterrupt
            if kind.isupper():
                raise OSError(getattr(errno, kind), "spoiled")
            return call(*arguments, **more)

        return spoiled

    for name in CALLS:
        setattr(os, name, wrap(name, getattr(os, name)))
    return lambda: hit


def child(link: Path, kind: str, at: int, report: int) -> int:
    """Save with one call spoiled; the exit status tells how it went."""
    write = os.write
    hit = spoil(kind, at)
    status = SAVED
    try:
        write_atomic(link, NEW)
    except SaveError:
        status = REFUSED
    except KeyboardInterrupt:
        status = STOPPED
    write(report, hit().encode())
    return status


def main(folder: Path, kind: str) -> None:
    """Try every n."""
    for at in range(1, 100):
        home = folder / str(at)
        (home / "real").mkdir(parents=True)
        target, link = home / "real" / "rig.toml", home / "link.toml"
        target.write_text(OLD)
        target.chmod(0o640)
        link.symlink_to("real/rig.toml")
        reading, writing = os.pipe()
        process = os.fork()
        if process == 0:
            os._exit(child(link, kind, at, writing))
        os.close(writing)
        status = os.waitstatus_to_exitcode(os.waitpid(process, 0)[1])
        hit = os.read(reading, 100).decode()
        os.close(reading)
        text = None
        with contextlib.suppress(OSError):
            text = target.read_text()
        outcome = {
            "at": at,
            "call": hit,
            "status": status,
            "content": {OLD: "old", NEW: "new"}.get(text or "", "torn"),
            "mode": oct(target.stat().st_mode & 0o7777),
            "linked": link.is_symlink() and os.readlink(link) == "real/rig.toml",
            "files": sorted(os.listdir(target.parent)),
        }
        print(json.dumps(outcome))
        if not hit and status != DIED:
            return


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
