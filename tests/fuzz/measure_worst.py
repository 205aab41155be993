"""What the worst rigs that a file may hold cost, step by step: python tests/fuzz/measure_worst.py

Give words of a rig's name to measure only those, `--size 0.1` for less of it. Each step has
`--patience` seconds (60), and is then said to take longer.
"""

from __future__ import annotations

import argparse
import asyncio
import contextlib
import io
import sys
import tempfile
import time
from collections.abc import Iterator
from multiprocessing import get_context
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from fuzz.worst_rigs import WORST

STEPS = ("load", "report", "json", "counts", "checks", "open", "key", "presets", "setlist",
         "report tab", "plan", "save")  # fmt: skip


@contextlib.contextmanager
def _timed(tell: Any, step: str) -> Iterator[None]:
    begun = time.process_time()
    yield
    tell.send((step, time.process_time() - begun))


def _measure(name: str, size: float, tell: Any) -> None:
    from rigtui.store.toml_write import dump

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "rig.toml"
        path.write_text(dump(WORST[name](size)), encoding="utf-8")
        tell.send(("size", path.stat().st_size / 1e6))
        _steps(path, tell)


def _steps(path: Path, tell: Any) -> None:
    from rigtui.checks import check
    from rigtui.cli import main
    from rigtui.model import edits
    from rigtui.moves import count_setlist, count_song
    from rigtui.store.load import load
    from rigtui.store.save import rig_text

    for step, more in (("report", []), ("json", ["--json"])):
        with _timed(tell, step), contextlib.redirect_stdout(io.StringIO()):
            main(["report", str(path), *more])
    with _timed(tell, "load"):
        source, rig = load(path)
    with _timed(tell, "counts"):
        for one in rig.songs:
            count_song(rig, one)
        for evening in rig.setlists:
            count_setlist(rig, evening)
    with _timed(tell, "checks"):
        check(rig)
    asyncio.run(_screens(path, tell))
    with _timed(tell, "save"):
        rig_text(edits.set_amp(rig, name="Edited"), source)


async def _screens(path: Path, tell: Any) -> None:
    from rigtui.store.load import read_plain
    from rigtui.tui.app import RigApp

    begun = time.process_time()
    app = RigApp(read_plain(path))
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        tell.send(("open", time.process_time() - begun))
        for step, key in (("key", "down"), ("setlist", "2"), ("report tab", "3"), ("plan", "4"),
                          ("presets", "1")):  # fmt: skip
            with _timed(tell, step):
                await pilot.press(key)
                await pilot.pause()


def measured(name: str, size: float, patience: float) -> dict[str, float]:
    """Seconds by step of one rig, in a process of its own."""
    context = get_context("spawn")
    here, there = context.Pipe(duplex=False)
    process = context.Process(target=_measure, args=(name, size, there))
    process.start()
    there.close()
    found: dict[str, float] = {}
    with contextlib.suppress(EOFError):
        while here.poll(patience):
            step, seconds = here.recv()
            found[step] = seconds
    if process.is_alive():
        process.terminate()
    process.join()
    return found


def main() -> None:
    """Measure and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("words", nargs="*")
    parser.add_argument("--size", type=float, default=1.0)
    parser.add_argument("--patience", type=float, default=60)
    asked = parser.parse_args()
    print(f"{'rig':36}{'MB':>5}" + "".join(f"{step:>8.8}" for step in STEPS))
    for name in WORST:
        if all(word in name for word in asked.words):
            found = measured(name, asked.size, asked.patience)
            cells = [f"{found[step]:8.2f}" if step in found else "       -" for step in STEPS]
            print(f"{name:36.36}{found.get('size', 0):5.1f}" + "".join(cells), flush=True)


if __name__ == "__main__":
    main()
