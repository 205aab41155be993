"""What a `kill -9` in the middle of fast typing takes along: how old the oldest lost key is.

Run with: python -m pytest tests/benchmarks/test_typing_killed.py -o addopts=
--import-mode=importlib -p no:xdist -s (KILLS=200 for as many rounds of each; 10 if left out).
Target: no lost key is older than a second, on 60 songs at 80 keys a second and on 500 songs in one
setlist at 20 keys a second, in the matrix of presets (each edit touches songs all over the list)
and in the sections of a song.
"""

from __future__ import annotations

import os
import random
import shutil
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest
from benchmarks.rigs import one_long_evening
from benchmarks.terminal import Terminal
from benchmarks.test_screen_speed import TOTALS, told

from rigtui.model import Rig, rig_from_data
from rigtui.store.load import load
from rigtui.store.recovery import recovered
from rigtui.store.save import save

ROUNDS = int(os.environ.get("KILLS", "10"))
RIGHT, LEFT, DOWN = b"\x1b[C", b"\x1b[D", b"\x1b[B"


class Key(NamedTuple):
    """A key, and the cell (row and column) that it edits, if it does."""

    key: bytes
    cell: tuple[int, int] | None = None


def there_and_back(rows: int, columns: int) -> Iterator[Key]:
    """Edit each cell of a table once, row by row, walking to and fro."""
    for row in range(rows):
        forward = row % 2 == 0
        for step in range(columns):
            yield Key(b" ", (row, step if forward else columns - 1 - step))
            yield Key(DOWN if step == columns - 1 else RIGHT if forward else LEFT)


def kept_of_presets(rig: Rig, then: Rig, cells: list[tuple[int, int]]) -> int:
    """How many of the edits, from the first on, a rig has; each toggles another loop."""
    for kept, (row, column) in enumerate(cells):
        number = rig.loops[column].number
        if (number in rig.presets[row].loops) == (number in then.presets[row].loops):
            return kept
    return len(cells)


def kept_of_sections(rig: Rig, then: Rig, cells: list[tuple[int, int]]) -> int:
    """How many of the edits a rig has; each maps a section to another preset, or unmaps it."""
    sections = [section.preset for section in rig.songs[0].sections]
    wanted = [section.preset for section in then.songs[0].sections]
    kept = 0
    for at, (row, column) in enumerate(cells, 1):
        preset = rig.presets[column].id
        sections[row] = None if sections[row] == preset else preset
        kept = at if sections == wanted else kept
    return kept


def typed(program: Terminal, keys: list[Key], rate: float, seconds: float) -> list[float]:
    """Type keys at a steady rate for so long, whatever the program does; when each was sent."""
    begin, sent = time.monotonic(), []
    for at, key in enumerate(keys):
        due = begin + at / rate
        if due > begin + seconds:
            break
        time.sleep(max(0.0, due - time.monotonic()))
        os.write(program.handle, key.key)
        sent.append(time.monotonic())
    time.sleep(max(0.0, begin + seconds - time.monotonic()))
    return sent


def read_on(program: Terminal) -> threading.Thread:
    """Take what the program draws, so that it never waits for the terminal."""

    def read() -> None:
        try:
            while os.read(program.handle, 65536):
                pass
        except OSError:  # the program is gone
            return

    reader = threading.Thread(target=read, daemon=True)
    reader.start()
    return reader


@pytest.mark.parametrize("place", ["presets", "sections"])
@pytest.mark.parametrize(("songs", "rate"), [(60, 80.0), (500, 20.0)])
def test_age_of_the_oldest_lost_key(
    songs: int, rate: float, place: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed at a moment drawn between 1.5 and 4.5 seconds of typing."""
    original = tmp_path / "original.toml"
    save(rig_from_data(one_long_evening(songs)), original, None)
    rig, chance, ages = load(original)[1], random.Random(songs), []
    rows = len(rig.presets) if place == "presets" else len(rig.songs[0].sections)
    columns = len(rig.loops) if place == "presets" else len(rig.presets)
    keys = list(there_and_back(rows, columns))
    kept_of = kept_of_presets if place == "presets" else kept_of_sections
    for _ in range(ROUNDS):
        folder = tmp_path / "round"
        file = folder / "rig.toml"
        monkeypatch.setenv("XDG_STATE_HOME", str(folder / "state"))
        folder.mkdir()
        shutil.copy(original, file)
        with Terminal([sys.executable, "-m", "rigtui", str(file)]) as program:
            program.wait_for(TOTALS)
            program.settle(1.5)
            for key in (b"3", b"\t", b"\x1b[1~") if place == "sections" else (b"\x1b[1~",):
                os.write(program.handle, key)
                program.settle(1.0)
            reader = read_on(program)
            sent = typed(program, keys, rate, chance.uniform(1.5, 4.5))
            killed = time.monotonic()
        reader.join(5)
        edits = [(moment, key.cell) for moment, key in zip(sent, keys) if key.cell is not None]
        left = recovered(file)
        then = left[0].rig if left else rig
        kept = kept_of(rig, then, [cell for _, cell in edits])
        ages.append(killed - edits[kept][0] if kept < len(edits) else 0.0)
        shutil.rmtree(folder)
    told(f"oldest lost key, {songs} songs at {rate:.0f} keys a second, {place}", ages)
    print(f"worst {max(ages):.2f} s; over a second: {sum(age > 1 for age in ages)} of {len(ages)}")
