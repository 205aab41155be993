"""Random keys and mouse over all views: the program does not end or hang, and loses nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from fuzz.gestures import played, stays_in

Record = Callable[[str, object], None]


@pytest.mark.parametrize("seed", range(2))
async def test_some_hundred_events(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    """No gesture ends the program, and after each hundred events file and journal are right."""
    stays_in(tmp_path, monkeypatch)
    counts: Counter[str] = Counter()
    await played(seed, 300, tmp_path, counts)
    assert counts["keys"] > 100
    assert counts["events of the mouse"] > 50


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 150))
async def test_a_hundred_thousand_events(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int, record_property: Record
) -> None:
    """The same for 100,000 events, in parts; how many of each kind there were is counted."""
    stays_in(tmp_path, monkeypatch)
    counts: Counter[str] = Counter()
    await played(seed, 2_000, tmp_path, counts)
    record_property("counts", dict(counts))
