"""Saves that are killed, or refused, at each call that they make of the kernel.

One call after the other, and looked at from outside: the file holds the old text or the new one to
the last byte, unsaved edits are in the journal, and the next start opens, recovers and saves. The
short version takes a sample of the calls; `-m long` takes every one.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from store.save_scenes import SCENES
from store.syscall_harness import why_not

TESTS = Path(__file__).parents[1]
HARNESS = Path(__file__).with_name("syscall_harness.py")
ERRORS = ("ENOSPC", "EIO", "EACCES", "EINTR")
UNKEPT = {"what was there is kept nowhere", "restore points out of order"}
MISSING = why_not()
pytestmark = pytest.mark.skipif(MISSING is not None, reason=str(MISSING))

Found = dict[str, Any]


def tried(folder: Path, step: int, *wanted: str) -> dict[str, list[Found]]:
    """What came of each "SCENE:KIND", with KIND done to every `step`-th call of the scene."""
    run = subprocess.run(
        [sys.executable, str(HARNESS), str(folder), str(step), *wanted],
        capture_output=True, text=True, check=False,
        env={**os.environ, "PYTHONPATH": f"{TESTS}:{TESTS.parent}"},
    )  # fmt: skip
    assert run.returncode == 0, run.stderr[-2000:]
    found: dict[str, list[Found]] = {}
    for line in run.stdout.splitlines():
        one = json.loads(line)
        name = f"{one['scene']}:{one['kind']}"
        if name not in found:
            assert one["faults"] == []
            assert {"write", "fsync"} <= set(one["calls"])
            found[name] = []
        else:
            found[name].append(one)
    assert set(found) == set(wanted)
    assert all(found.values()), "no call was tampered with"
    return found


def check_killed(found: list[Found]) -> None:
    """Old or new, never again old once it is new; nothing else is wrong either."""
    for one in found:
        assert (one["status"], one["hit"]) == (-9, True), one
        assert one["faults"] == [], one
        assert len(one["strays"]) <= 1, one
    seen = [one["content"] for one in found]
    assert seen == sorted(seen, reverse=True), "once the new content is there, it stays"


def check_refused(found: list[Found]) -> None:
    """Saved all the same, or told why not: then the document is unsaved, and still at hand."""
    for one in found:
        told = one["told"]
        words = " ".join((*told.get("said", ()), *told.get("asked", ())))
        assert (one["status"], one["hit"]) == (0, True), one
        assert "raised" not in told, one
        assert "Traceback" not in words, one
        assert "[Errno" not in words, one
        assert one["strays"] == [] or one["call"] == "unlink", one
        if one["content"] == "old" or told["dirty"]:
            assert told["dirty"], one
            assert words or one["journal"] == ["Edited twice"], one
        if told["dirty"] and one["content"] == "new":
            assert "may not outlast a power cut" in words, one
        excused = UNKEPT if "kept" in words else set()
        assert set(one["faults"]) <= excused, one


def counted(kind: str, found: list[Found]) -> dict[str, int]:
    """Counts for the report."""
    ends = Counter(one["content"] for one in found)
    return {f"{kind}: calls tried": len(found), **{f"{kind}: {k}": ends[k] for k in sorted(ends)}}


def check(found: dict[str, list[Found]]) -> None:
    """Look at all of it."""
    for name, outcomes in found.items():
        (check_killed if name.endswith(":KILL") else check_refused)(outcomes)


def test_a_save_at_some_calls(tmp_path: Path) -> None:
    """A few calls of each scene, some more of a plain save; killed, or the disk is full or sick."""
    short = ("journal", "new")
    check(tried(tmp_path, 71, *(f"{scene}:KILL" for scene in SCENES if scene not in short)))
    more = (*(f"{scene}:KILL" for scene in short), "save:ENOSPC", "restore:EIO")
    check(tried(tmp_path / "more", 23, *more))


@pytest.mark.long
@pytest.mark.parametrize("scene", SCENES)
@pytest.mark.parametrize("kind", ["KILL", *ERRORS])
def test_a_save_at_every_call(
    tmp_path: Path, scene: str, kind: str, record_property: Callable[[str, object], None]
) -> None:
    """Each call of each scene; killed, or refused in each of the usual ways."""
    found = tried(tmp_path, 1, f"{scene}:{kind}")
    (outcomes,) = found.values()
    record_property("counts", counted("killed" if kind == "KILL" else kind, outcomes))
    check(found)
    if kind == "KILL" and scene != "journal":
        assert {one["content"] for one in outcomes} == {"old", "new"}
