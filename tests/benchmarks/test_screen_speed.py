"""How soon the screens are there and how soon they answer, timed in a pseudo-terminal.

Run with: python -m pytest tests/benchmarks -o addopts= --import-mode=importlib -p no:xdist -s
Targets: first paint with the rig's data within 1.35 of a bare frame program in the same run; a key
to the first change on the screen 8 ms at the median and 16 ms at the 95th percentile on 12 loops by
20 presets; new totals after one section is mapped on 500 songs within 50 ms at the median, after a
preset that is used everywhere is changed within 300 ms.
"""

from __future__ import annotations

import statistics
import sys
from pathlib import Path

import pytest
from benchmarks.rigs import big_data, one_long_evening
from benchmarks.terminal import Terminal

from rigtui.model import rig_from_data
from rigtui.store.save import save

HERE = Path(__file__).parent
DEMO = HERE.parents[1] / "rigs" / "quay-street.toml"
TOTALS = rb"(\d+) moves"


def rigtui(path: Path, state: Path) -> Terminal:
    command = [sys.executable, "-m", "rigtui", str(path)]
    return Terminal(command, extra={"XDG_STATE_HOME": str(state)})


@pytest.fixture
def evening(tmp_path: Path) -> Path:
    """A file of 60 songs, a long evening's, on the same board of 12 loops and 20 presets."""
    path = tmp_path / "evening.toml"
    save(rig_from_data(big_data(60)), path, None)
    return path


@pytest.fixture
def big(tmp_path: Path) -> Path:
    """A file of 500 songs with one setlist that plays them all."""
    path = tmp_path / "big.toml"
    save(rig_from_data(one_long_evening()), path, None)
    return path


def told(name: str, seconds: list[float]) -> float:
    """Print the median and the 95th percentile; return the median."""
    ranked = sorted(seconds)
    middle, high = statistics.median(ranked), ranked[min(len(ranked) - 1, len(ranked) * 95 // 100)]
    print(f"\n{name}: median {middle * 1000:.1f} ms, 95th percentile {high * 1000:.1f} ms")
    return middle


def test_first_paint(tmp_path: Path) -> None:
    """The first paint with the rig's data, against a bare frame, turn by turn."""
    frames, paints = [], []
    for _ in range(9):
        with Terminal([sys.executable, str(HERE / "frame.py")]) as bare:
            bare.wait_for(b"nothing but")
            frames.append(bare.seconds)
        with rigtui(DEMO, tmp_path) as program:
            program.wait_for(b"Shimmer")
            paints.append(program.seconds)
    told("bare frame", frames)
    told("rigtui", paints)
    ratio = statistics.median(paint / frame for paint, frame in zip(paints, frames))
    print(f"ratio, turn by turn: {ratio:.2f} (target 1.35)")


@pytest.mark.parametrize("rig", ["evening", "big"])
def test_keys_on_twelve_by_twenty(rig: str, request: pytest.FixtureRequest, tmp_path: Path) -> None:
    """A key in the matrix to the first change on the screen, moving and toggling."""
    with rigtui(request.getfixturevalue(rig), tmp_path) as program:
        program.wait_for(TOTALS)
        program.settle(1.5)
        moves, toggles = [], []
        for at in range(40):
            moves.append(program.press(b"\x1b[B" if at % 20 < 10 else b"\x1b[A"))
            program.settle(0.05)
        for _ in range(20):
            toggles.append(program.press(b" "))
            program.settle(1.5)
    told(f"move the cursor ({rig})", moves)
    told(f"toggle a loop ({rig})", toggles)


AFTER_EDITS = {
    "presets": (b"", b" ", (b"\x1b[B", b"\x1b[A")),
    "setlist, a song": (b"3\t", b" ", (b"\x1b[B", b"\x1b[A")),
    "setlist, a preset": (b" 3", b"u", (b"\x1b[B", b"\x1b[A")),
    "report, a preset": (b" 4", b"u", (b"\x1b[B", b"\x1b[A")),
}
"""Keys to go to a view, a key that edits there, and two that only move the cursor."""


@pytest.mark.parametrize("place", AFTER_EDITS)
@pytest.mark.parametrize("rig", ["evening", "big"])
def test_keys_right_after_an_edit(
    rig: str, place: str, request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    """While all is counted and checked again: each key to the first change on the screen."""
    there, edit, moves = AFTER_EDITS[place]
    with rigtui(request.getfixturevalue(rig), tmp_path) as program:
        program.wait_for(TOTALS)
        program.settle(2.5)
        for key in there:
            program.press(bytes([key]))
            program.settle(1.5)
        edits, keys = [], []
        for at in range(12):
            # What is undone is done again: u and r in turn.
            edits.append(program.press(b"r" if edit == b"u" and at % 2 else edit))
            for turn in range(10):
                program.quiet(0.03)
                keys.append(program.press(moves[turn % 2]))
            program.settle(1.5)
    told(f"the edit ({rig}, {place})", edits)
    told(f"keys in the second after it ({rig}, {place})", keys)


def test_totals_after_an_edit_of_500_songs(big: Path, tmp_path: Path) -> None:
    """New totals after one section is mapped, and after a preset that all songs use is changed."""
    with rigtui(big, tmp_path) as program:
        program.wait_for(TOTALS)
        program.settle(2.5)
        presets = []
        for _ in range(9):
            presets.append(program.press(b" ", TOTALS))
            program.settle(2.5)
        program.press(b"3", b"Intro")
        program.settle(2.5)
        program.press(b"\t")
        program.settle(0.5)
        sections = []
        for at in range(12):
            program.press(b"\x1b[C" if at % 2 == 0 else b"\x1b[D")
            program.settle(0.3)
            sections.append(program.press(b" ", TOTALS))
            program.settle(2.5)
    told("one section mapped, totals", sections)
    told("a preset changed, totals", presets)
