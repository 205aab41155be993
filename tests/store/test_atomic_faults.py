"""Saves that go wrong at every possible call of the system, and on disks that refuse."""

from __future__ import annotations

import json
import os
import random
import re
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from store.crash_harness import DIED, REFUSED, SAVED, STOPPED
from store.system import in_own_mounts

HARNESS = Path(__file__).with_name("crash_harness.py")
SECOND = re.compile(r"\.rig\.toml\.[0-9a-f]{16}\.tmp")

PRELUDE = """
import os, subprocess, sys
from pathlib import Path
from rigtui.store.atomic import SaveError, write_atomic
folder = Path(sys.argv[1])
file = folder / "rig.toml"

def mount(*options):
    subprocess.run(["mount", *options], check=True)

def save(text):
    try:
        write_atomic(file, text)
    except SaveError as error:
        print(error)
    print(file.read_text().splitlines()[0], sorted(os.listdir(folder)))
"""

needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")


def outcomes(folder: Path, kind: str) -> list[dict[str, Any]]:
    """What each spoiled save left behind; the last one was not reached by the spoiling."""
    run = subprocess.run(
        [sys.executable, str(HARNESS), str(folder), kind],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    spoiled = [json.loads(line) for line in run.stdout.splitlines()]
    assert spoiled[-1]["status"] == SAVED
    assert spoiled[-1]["content"] == "new"
    assert len(spoiled) > 10, "the harness no longer reaches the calls of a save"
    return spoiled


@needs_fork
@pytest.mark.parametrize("kind", ["dies before", "dies halfway", "dies after"])
def test_a_save_that_dies_leaves_the_old_content_or_the_new(tmp_path: Path, kind: str) -> None:
    """Wherever the process is killed, the file is whole, and its link and mode are as before."""
    spoiled = outcomes(tmp_path, kind)
    assert {save["status"] for save in spoiled[:-1]} <= {DIED, SAVED}
    assert any(save["status"] == DIED for save in spoiled)
    seen = []
    for save in spoiled:
        assert save["content"] in ("old", "new")
        assert save["mode"] == "0o640"
        assert save["linked"]
        left = [name for name in save["files"] if name != "rig.toml"]
        assert len(left) <= 1
        assert all(SECOND.fullmatch(name) for name in left)
        seen.append(save["content"])
    assert set(seen) == {"old", "new"}
    if kind != "dies halfway":  # where only the call that writes dies
        assert seen == sorted(seen, reverse=True), "once the new content is there, it stays"


# Calls whose refusal is no reason not to save: housekeeping, and what some disks cannot do.
HARMLESS = {"scandir", "fchmod"}


@needs_fork
@pytest.mark.parametrize("kind", ["ENOSPC", "EIO", "EACCES", "is stopped"])
def test_a_refused_call_is_reported_and_leaves_nothing_behind(tmp_path: Path, kind: str) -> None:
    """The old content stays, no second file is left, and the caller is told."""
    for save in outcomes(tmp_path, kind)[:-1]:
        assert save["linked"]
        assert save["files"] == ["rig.toml"]
        if save["status"] == SAVED:
            assert save["content"] == "new"
            # A folder that may not be synced (EACCES) is no fault either.
            assert save["call"] in HARMLESS or kind == "EACCES"
        elif save["call"] in ("open", "fsync", "close") and save["content"] == "new":
            continue  # written, and said to be not yet safe from a power cut
        else:
            assert save["status"] == (STOPPED if kind == "is stopped" else REFUSED)
            assert save["content"] == "old"
        assert save["mode"] == "0o640" or save["call"] == "fchmod"


@pytest.mark.long
@needs_fork
@pytest.mark.parametrize("seed", range(40))
def test_a_killed_process_leaves_a_whole_file(tmp_path: Path, seed: int) -> None:
    """The real thing: SIGKILL at any moment while two contents are saved in turn."""
    file = tmp_path / "rig.toml"
    with subprocess.Popen(
        [sys.executable, "-c", PRELUDE + """
while True:
    for letter in "ab":
        write_atomic(file, letter * 500_000)
        print(letter, end="", flush=True)
""", str(tmp_path)],
        stdout=subprocess.PIPE,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        process.stdout.read(random.Random(seed).randrange(1, 200))
        process.send_signal(signal.SIGKILL)
    assert file.read_text() in ("a" * 500_000, "b" * 500_000)
    assert all(SECOND.fullmatch(name) for name in os.listdir(tmp_path) if name != "rig.toml")


def test_a_full_disk_keeps_the_old_file(tmp_path: Path) -> None:
    """On a real disk with no room the save is refused in clear words, and works once there is."""
    shown = in_own_mounts(PRELUDE + """
mount("-t", "tmpfs", "-o", "size=64k", "none", str(folder))
file.write_text("old = 1\\n")
save("big = 2\\n" * 10_000)
(folder / "hog").write_bytes(b"x" * 40_000)
save("new = 3\\n" * 3_000)
(folder / "hog").unlink()
save("new = 3\\n" * 3_000)
""", tmp_path)  # fmt: skip
    assert shown.splitlines() == [
        "rig.toml was not written: the disk is full: make room and save again",
        "old = 1 ['rig.toml']",
        "rig.toml was not written: the disk is full: make room and save again",
        "old = 1 ['hog', 'rig.toml']",
        "new = 3 ['rig.toml']",
    ]


def test_a_disk_that_is_read_only_is_named_as_such(tmp_path: Path) -> None:
    """Even root is told, and the file is as it was."""
    shown = in_own_mounts(PRELUDE + """
mount("-t", "tmpfs", "none", str(folder))
file.write_text("old = 1\\n")
mount("-o", "remount,ro", str(folder))
save("new = 3\\n")
""", tmp_path)  # fmt: skip
    assert shown.splitlines() == [
        "rig.toml was not written: the disk is read-only: save under another name elsewhere",
        "old = 1 ['rig.toml']",
    ]


@pytest.mark.skipif(sys.platform == "win32", reason="this system knows no limit of that kind")
def test_a_limit_on_file_sizes_keeps_the_old_file(tmp_path: Path) -> None:
    """The kernel stops the write in the middle; nothing of it is seen."""
    (tmp_path / "rig.toml").write_text("old = 1\n")
    run = subprocess.run(
        [sys.executable, "-c", PRELUDE + """
import resource
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
save("new = 3\\n" * 500)
""", str(tmp_path)],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert run.stdout.splitlines() == [
        "rig.toml was not written: the file would be larger than the disk allows",
        "old = 1 ['rig.toml']",
    ]
