"""How soon the board answers: keys on the demo, and new findings on a rig of 500 songs.

Targets: a key to the first change 8 ms at the median and 16 ms at the 95th percentile, new totals
within 50 ms; on 500 songs a pedal moved along the chain shows new findings within 150 ms at the
median, and what putting it into a loop would bring is said within 300 ms. The last two are seconds
of the processor, with Python's search for garbage off, as it is while keys come.
"""

from __future__ import annotations

import gc
import statistics
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest
from benchmarks.rigs import one_long_evening
from benchmarks.test_screen_speed import DEMO, TOTALS, rigtui, told

from rigtui.checks import check
from rigtui.checks.consequences import burden_of, consequences
from rigtui.model import Rig, rig_from_data
from rigtui.model.edits import into_loop, move_along


@pytest.fixture
def rig() -> Iterator[Rig]:
    """A rig of 500 songs, counted and checked."""
    gc.disable()
    long = rig_from_data(one_long_evening())
    check(long)
    burden_of(long)
    yield long
    gc.enable()


def seconds_of(work: Callable[..., object], *given: object) -> float:
    """Seconds of the processor that some work takes."""
    begun = time.process_time()
    work(*given)
    return time.process_time() - begun


def test_findings_after_a_pedal_moved_along(rig: Rig) -> None:
    """The wah of every tenth section past its neighbours and back."""
    taken = []
    for at in range(12):
        rig = move_along(rig, "wah", 1 if at % 2 == 0 else -1)
        taken.append(seconds_of(check, rig))
    told("moved along the chain, findings (500 songs)", taken)
    assert statistics.median(taken) < 0.150


def test_consequences_of_a_pedal_put_into_a_loop(rig: Rig) -> None:
    """The wah into each of the loops in turn."""
    taken = [
        seconds_of(consequences, rig, partial(into_loop, pedal_id="wah", number=number))
        for number in range(1, 13)
    ]
    told("into a loop, what it would bring (500 songs)", taken)
    assert statistics.median(taken) < 0.300


def test_keys_on_the_board(tmp_path: Path) -> None:
    """Down and up through the signal, a sound lit, a pedal moved along, and new totals."""
    with rigtui(DEMO, tmp_path) as program:
        program.wait_for(TOTALS)
        program.settle(1.0)
        program.press(b"1", b"Guitar")
        program.settle(1.0)
        moves, lights, shifts, totals = [], [], [], []
        for at in range(40):
            moves.append(program.press(b"\x1b[B" if at % 20 < 10 else b"\x1b[A"))
            program.settle(0.05)
        for _ in range(12):
            lights.append(program.press(b"]"))
            program.settle(0.1)
        program.press(b"\x1b[B")
        for at in range(12):
            shifts.append(program.press(b"J" if at % 2 == 0 else b"K"))
            program.settle(0.6)
        for at in range(8):
            totals.append(program.press(b"u" if at % 2 == 0 else b"r", TOTALS))
            program.settle(0.6)
    told("move the cursor on the board", moves)
    told("light a sound", lights)
    told("move a pedal along", shifts)
    told("totals after undo and redo of that", totals)
