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

Outcome = dict[str, Any]


def tried(folder: Path, step: int, *wanted: str) -> dict[str, list[Outcome]]:
    """What came of each "SCENE:KIND", with KIND done to every `step`-th call of the scene."""
    run = subprocess.run(
        [sys.executable, str(HARNESS), str(folder), str(step), *wanted],
        capture_output=True, text=True, check=False,
        env={**os.environ, "PYTHONPATH": f"{TESTS}:{TESTS.parent}"},
    )  # fmt: skip
    assert run.returncode == 0, run.stderr[-2000:]
    outcomes: dict[str, list[Outcome]] = {}
    for line in run.stdout.splitlines():
        outcome = json.loads(line)
        name = f"{outcome['scene']}:{outcome['kind']}"
        if name not in outcomes:
            assert outcome["faults"] == []
            assert {"write", "fsync"} <= set(outcome["calls"])
            outcomes[name] = []
        else:
            outcomes[name].append(outcome)
    assert set(outcomes) == set(wanted)
    assert all(outcomes.values()), "no call was tampered with"
    return outcomes


def check_killed(outcomes: list[Outcome]) -> None:
    """Old or new, never again old once it is new; nothing else is wrong either."""
    for outcome in outcomes:
        assert (outcome["status"], outcome["hit"]) == (-9, True), outcome
        assert outcome["faults"] == [], outcome
        assert len(outcome["strays"]) <= 1, outcome
    seen = [outcome["content"] for outcome in outcomes]
    assert seen == sorted(seen, reverse=True), "once the new content is there, it stays"


def check_refused(outcomes: list[Outcome]) -> None:
    """Saved all the same, or told why not: then the document is unsaved, and still at hand."""
    for outcome in outcomes:
        told = outcome["told"]
        words = " ".join((*told.get("said", ()), *told.get("asked", ())))
        assert (outcome["status"], outcome["hit"]) == (0, True), outcome
        assert "raised" not in told, outcome
        assert "Traceback" not in words, outcome
        assert "[Errno" not in words, outcome
        assert outcome["strays"] == [] or outcome["call"] == "unlink", outcome
        if outcome["content"] == "old" or told["dirty"]:
            assert told["dirty"], outcome
            assert words or outcome["journal"] == ["Edited twice"], outcome
        if told["dirty"] and outcome["content"] == "new":
            assert "a power cut could still lose it" in words, outcome
        excused = UNKEPT if "kept" in words else set()
        assert set(outcome["faults"]) <= excused, outcome


def counted(kind: str, outcomes: list[Outcome]) -> dict[str, int]:
    """Counts for the report."""
    ends = Counter(outcome["content"] for outcome in outcomes)
    return {
        f"{kind}: calls tried": len(outcomes),
        **{f"{kind}: {k}": ends[k] for k in sorted(ends)},
    }


def check(outcomes_of: dict[str, list[Outcome]]) -> None:
    """Look at all of it."""
    for name, outcomes in outcomes_of.items():
        (check_killed if name.endswith(":KILL") else check_refused)(outcomes)


def test_a_save_at_some_calls(tmp_path: Path) -> None:
    """A few calls of each scene, some more of a plain save; killed, or the disk is full or sick."""
    short = ("journal", "new", "sheet")
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
    outcomes_of = tried(tmp_path, 1, f"{scene}:{kind}")
    (outcomes,) = outcomes_of.values()
    record_property("counts", counted("killed" if kind == "KILL" else kind, outcomes))
    check(outcomes_of)
    if kind == "KILL" and scene != "journal":
        assert {outcome["content"] for outcome in outcomes} == {"old", "new"}
