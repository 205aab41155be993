"""What the worst rigs that a file may hold cost, step by step: python tests/fuzz/measure_worst.py

Give words of a rig's name to measure only those, `--size 0.1` for less of it. Each step has
`--patience` seconds (60), and is then said to take longer. The first four are commands, each in a
process of its own, with the most megabytes that it had; `--commands` measures only these.
"""

from __future__ import annotations

import argparse
import asyncio
import contextlib
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from multiprocessing import get_context
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from fuzz.worst_rigs import WORST

COMMANDS = {
    "report": ["report", "rig.toml"],
    "json": ["report", "rig.toml", "--json"],
    "midi": ["midi", "rig.toml", "-o", "midi"],
    "rehearse": ["sheet", "rehearsal", "rig.toml", "-o", "sheet.pdf"],
}
STEPS = ("load", "counts", "checks", "open", "key", "presets", "setlist",
         "report tab", "plan", "save")  # fmt: skip


@contextlib.contextmanager
def _timed(tell: Any, step: str) -> Iterator[None]:
    begun = time.process_time()
    yield
    tell.send((step, time.process_time() - begun))


def _measure(name: str, size: float, only_commands: bool, tell: Any) -> None:
    from rigtui.store.toml_write import dump

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "rig.toml"
        path.write_text(dump(WORST[name](size)), encoding="utf-8")
        tell.send(("size", path.stat().st_size / 1e6))
        for command, arguments in COMMANDS.items():
            seconds, megabytes = _run(path.parent, arguments)
            tell.send((command, seconds))
            tell.send((f"{command} MB", megabytes))
        if not only_commands:
            _steps(path, tell)


def _steps(path: Path, tell: Any) -> None:
    from rigtui.checks import check
    from rigtui.model import edits
    from rigtui.moves import count_setlist, count_song
    from rigtui.store.load import load
    from rigtui.store.save import rig_text

    with _timed(tell, "load"):
        source, rig = load(path)
    with _timed(tell, "counts"):
        for song in rig.songs:
            count_song(rig, song)
        for evening in rig.setlists:
            count_setlist(rig, evening)
    with _timed(tell, "checks"):
        check(rig)
    asyncio.run(_screens(path, tell))
    with _timed(tell, "save"):
        rig_text(edits.set_amp(rig, name="Edited"), source)


def _run(folder: Path, arguments: list[str]) -> tuple[float, float]:
    """Seconds and megabytes of a command."""
    with open(os.devnull, "w") as nowhere:
        process = subprocess.Popen(
            [sys.executable, "-m", "rigtui", *arguments], cwd=folder, stdout=nowhere, stderr=nowhere
        )
        _, _, used = os.wait4(process.pid, 0)
    process.returncode = 0  # waited for already
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


async def _screens(path: Path, tell: Any) -> None:
    from rigtui.store.load import read_plain
    from rigtui.tui.app import RigApp

    begun = time.process_time()
    app = RigApp(read_plain(path))
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        tell.send(("open", time.process_time() - begun))
        for step, key in (("key", "down"), ("setlist", "3"), ("report tab", "4"), ("plan", "5"),
                          ("presets", "2")):  # fmt: skip
            with _timed(tell, step):
                await pilot.press(key)
                await pilot.pause()


def measured(name: str, size: float, patience: float, only_commands: bool) -> dict[str, float]:
    """Seconds by step of one rig, in a process of its own; megabytes of each command."""
    context = get_context("spawn")
    here, there = context.Pipe(duplex=False)
    process = context.Process(target=_measure, args=(name, size, only_commands, there))
    process.start()
    there.close()
    measures: dict[str, float] = {}
    with contextlib.suppress(EOFError):
        while here.poll(patience):
            step, measure = here.recv()
            measures[step] = measure
    if process.is_alive():
        process.terminate()
    process.join()
    return measures


def main() -> None:
    """Measure and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("words", nargs="*")
    parser.add_argument("--size", type=float, default=1.0)
    parser.add_argument("--patience", type=float, default=60)
    parser.add_argument("--commands", action="store_true")
    asked = parser.parse_args()
    steps = [column for command in COMMANDS for column in (command, f"{command} MB")]
    steps += () if asked.commands else STEPS
    print(f"{'rig':28}{'MB':>5}" + "".join(f"{step:>12}" for step in steps))
    for name in WORST:
        if all(word in name for word in asked.words):
            measures = measured(name, asked.size, asked.patience, asked.commands)
            cells = [
                f"{measures[step]:12.2f}" if step in measures else "           -" for step in steps
            ]
            print(f"{name:28.28}{measures.get('size', 0):5.1f}" + "".join(cells), flush=True)


if __name__ == "__main__":
    main()
