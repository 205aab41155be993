"""Keys while the planner works beside the screen, and how soon stopping takes effect.

Run with: python -m pytest tests/benchmarks -o addopts= --import-mode=importlib -p no:xdist -s
Targets: a key to the first change 8 ms at the median and 16 ms at the 95th percentile, as with
nothing running; the best so far on the screen within 100 ms of the key that stops the planner.
"""

from __future__ import annotations

import time
from pathlib import Path

from benchmarks.terminal import Terminal
from benchmarks.test_screen_speed import TOTALS, big, rigtui, told

__all__ = ["big"]
PEDALS = 10


def plan_view(program: Terminal) -> None:
    """Go to the plan, and to the pedals in it."""
    program.wait_for(TOTALS)
    program.settle(2.5)
    program.press(b"5", b"May change")
    program.settle(0.5)
    for _ in range(8):
        program.press(b"\x1b[B")
        program.settle(0.1)


def walk(program: Terminal) -> list[float]:
    """Walk over the pedals, each key timed until the row that it leads to is painted."""
    seconds = []
    for at in (*range(1, PEDALS + 1), *range(PEDALS - 1, 0, -1)):
        key = b"\x1b[B" if len(seconds) < PEDALS else b"\x1b[A"
        seconds.append(program.press(key, rb"pedal-%d\b" % at))
        time.sleep(0.02)  # faster than anybody presses, and slow enough to be single keys
    return seconds


def test_keys_beside_the_planner(big: Path, tmp_path: Path) -> None:
    """Moving the cursor while a rig of 500 songs is planned, against the same with none running."""
    idle, busy = [], []
    with rigtui(big, tmp_path) as program:
        plan_view(program)
        for _ in range(3):
            idle += walk(program)
            program.press(b"\x1b[A")
            program.settle(0.3)
            program.press(b"p", rb"\d+ %")
            busy += walk(program)
            program.press(b"\x1b[A")
            program.settle(3)
    told("move a cursor, nothing running", idle)
    told("move a cursor, planner at work", busy)


def test_stopping(big: Path, tmp_path: Path) -> None:
    """From the key that stops the planner to the end of its run on the screen."""
    seconds = []
    with rigtui(big, tmp_path) as program:
        plan_view(program)
        for wait in (0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0):
            program.press(b"p", rb"\d+ %")
            time.sleep(wait)
            seconds.append(program.press(b"c", rb"not proved|Proved|No plan|broke off"))
            program.settle(3)
    told("stop", seconds)
