"""Saves again and again, and at the n-th call that a save makes of the kernel something fails.

Run as a program of its own, because it forks: `syscall_harness.py FOLDER STEP SCENE:KIND ...`.
It loads everything once and counts the calls of one undisturbed save. Then, for every STEP-th of
them, a fresh child comes to the same point, `strace` takes hold of it, and KIND is done to it at
that call: KILL ends the child as the call is entered, before anything of it is done (so that
"killed after call n" is "killed at call n + 1"); the name of an error has the kernel refuse the
call. What is on the disk afterwards is looked at from outside, by a program that was never
disturbed, and printed as one JSON object a line; for each scene the first line lists the calls.

Source: man 1 strace, "Tampering"; `when=` counts each call's own name, from when strace takes hold.
"""

from __future__ import annotations

import errno
import gc
import json
import os
import re
import select
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from store.save_scenes import SCENES, Scene

BEGIN, END = "/the-save-begins", "/the-save-ends"
_NAME = re.compile(r"(\w+)\(")
# What the allocator and the threads ask for differs from run to run, and is not about the disk: a
# child that is killed there leaves what one leaves that is killed at the next call.
NOT_OURS = {
    "brk", "mmap", "munmap", "mremap", "madvise", "mprotect", "futex", "rt_sigaction",
    "rt_sigprocmask", "getpid", "gettid",
}  # fmt: skip


def why_not() -> str | None:
    """Why no calls can be tampered with here; None if they can."""
    if shutil.which("strace") is None:
        return "strace is not installed"
    words = ["strace", "-qq", "-o", os.devnull, "-e", "inject=close:error=EIO:when=9999", "true"]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    return f"strace may not trace here: {done.stderr.strip()}" if done.returncode else None


def traced(scene: Scene, home: Path, tamper: str | None) -> tuple[int, list[str], dict[str, Any]]:
    """Run a scene in a child; return its exit status, the calls of the save and its report."""
    ready, at_hand = os.pipe()
    go, say_go = os.pipe()
    reading, report = os.pipe()
    child = os.fork()
    if child == 0:
        status = 1
        try:
            scene.begin()
            os.write(at_hand, b"1")
            select.select([go], [], [])
            os.access(BEGIN, os.F_OK)
            try:
                scene.act()
            except BaseException as error:
                scene.told["raised"] = repr(error)
            os.access(END, os.F_OK)
            scene.finish()
            os.write(report, json.dumps(scene.told).encode())
            status = 0
        finally:
            os._exit(status)
    for end in (at_hand, go, report):
        os.close(end)
    assert os.read(ready, 1) == b"1", "the child did not come to its save"
    log = home / "calls"
    words = ["strace", "-s0", "-o", str(log), *(["-e", tamper] if tamper else [])]
    tracer = subprocess.Popen([*words, "-p", str(child)], stderr=subprocess.PIPE)
    assert tracer.stderr is not None
    # Only once strace says so is the child sure to stop before it does anything more.
    said = tracer.stderr.readline()
    assert b"attached" in said, said
    os.write(say_go, b"1")
    told = b""
    while more := os.read(reading, 65536):
        told += more
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    tracer.communicate()
    for end in (ready, say_go, reading):
        os.close(end)
    return status, _calls(log), json.loads(told) if told else {}


def _calls(log: Path) -> list[str]:
    """Names of the calls between the two marks."""
    lines = log.read_text(encoding="utf-8", errors="replace").splitlines()
    start = next(at for at, line in enumerate(lines) if BEGIN in line)
    names = []
    for line in lines[start + 1 :]:
        if "access(" in line and END in line:
            break
        if (match := _NAME.match(line)) and match[1] not in NOT_OURS:
            names.append(match[1])
    return names


def disturbed(
    make: type[Scene], folder: Path, calls: list[str], kind: str, step: int
) -> Iterator[dict[str, Any]]:
    """Tamper with every `step`-th call and say what came of it."""
    seen: Counter[str] = Counter()
    for at, name in enumerate(calls):
        seen[name] += 1
        if (at + 1) % step:
            continue
        home = folder / str(at)
        scene = make(home)
        # The mark itself is an `access`.
        count = seen[name] + (name == "access")
        what = "signal=KILL" if kind == "KILL" else f"error={kind}"
        status, made, told = traced(scene, home, f"inject={name}:{what}:when={count}")
        outcome = {"at": at, "call": name, "status": status, "told": told}
        if kind == "KILL":
            outcome["hit"] = status == -9 and len(made) == at + 1 and made[-1] == name
        else:
            outcome["hit"] = made[: at + 1] == calls[: at + 1]
        outcome |= scene.found()
        shutil.rmtree(home)
        yield outcome


def run(folder: Path, name: str, kind: str, step: int) -> Iterator[dict[str, Any]]:
    """Try the calls of one scene."""
    assert kind == "KILL" or hasattr(errno, kind)
    make = SCENES[name]
    warm = make(folder / "warm")  # loads all that is loaded late
    warm.begin()
    warm.act()
    warm.finish()
    after = warm.found()
    assert after["faults"] == [], after
    gc.collect()
    gc.freeze()
    gc.disable()
    lists = []
    for at in range(2):
        scene = make(folder / f"count-{at}")
        status, calls, told = traced(scene, scene.home, None)
        assert status == 0, told
        lists.append(calls)
    assert lists[0] == lists[1], "a save does not make the same calls each time"
    yield {"calls": lists[0], "told": told, **scene.found()}
    yield from disturbed(make, folder, lists[0], kind, step)
    gc.enable()


def main(folder: Path, step: int, *wanted: str) -> None:
    """Try what is wanted, and print what came of it."""
    for at, scene_kind in enumerate(wanted):
        name, _, kind = scene_kind.partition(":")
        for outcome in run(folder / f"scene-{at}", name, kind, step):
            print(json.dumps({"scene": name, "kind": kind, **outcome}), flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), *sys.argv[3:])
