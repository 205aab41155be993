"""Keys while the planner works beside the screen, and how soon stopping takes effect.

Run with: python -m pytest tests/benchmarks -o addopts= --import-mode=importlib -p no:xdist -s
Targets: a key to the first change 8 ms at the median and 16 ms at the 95th percentile, as with
nothing running; the best so far on the screen within 100 ms of the key that stops.
"""

from __future__ import annotations

from pathlib import Path

from benchmarks.test_screen_speed import TOTALS, big, rigtui, told

__all__ = ["big"]
KEYS = 10


def walk(program: object, name: str) -> list[float]:
    """Walk down the pedals of the wishes, each key until the row that it leads to is repainted."""
    seconds = []
    for at in range(1, KEYS + 1):
        seconds.append(program.press(b"\x1b[B", f"pedal-{at}\\b".encode()))  # type: ignore[attr-defined]
    for _ in range(KEYS):
        program.press(b"\x1b[A")  # type: ignore[attr-defined]
    told(name, seconds)
    return seconds


def test_keys_beside_the_planner(big: Path, tmp_path: Path) -> None:
    """Moving the cursor while a rig of 500 songs is planned, against the same with none running."""
    with rigtui(big, tmp_path) as program:
        program.wait_for(TOTALS)
        program.settle(2.5)
        program.press(b"5", b"May change")
        program.settle(0.5)
        for _ in range(7):
            program.press(b"\x1b[B")
            program.settle(0.1)
        walk(program, "move a cursor, nothing running")
        program.settle(0.5)
        program.press(b"p", b"Planning")
        walk(program, "move a cursor, planner at work")


def test_stopping(big: Path, tmp_path: Path) -> None:
    """From the key that stops the planner to the plan that it had by then."""
    seconds = []
    with rigtui(big, tmp_path) as program:
        program.wait_for(TOTALS)
        program.settle(2.5)
        program.press(b"5", b"May change")
        program.settle(0.5)
        for _ in range(5):
            program.press(b"p", b"nothing found|Nothing found|Best so far")
            seconds.append(program.press(b"c", b"Stopping|Stopped early|Proved|proved"))
            program.settle(3)
    told("stop", seconds)
