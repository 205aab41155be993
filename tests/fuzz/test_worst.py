"""The worst rigs that a file may hold are counted and reported; the work on them is bounded."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from fuzz.pipeline import through
from fuzz.worst_rigs import WORST

from rigtui.model import rig_from_data
from rigtui.moves import board_of, count_song, least, least_wide
from rigtui.store.toml_write import dump

TOGGLING = [name for name in WORST if name.startswith(("toggling", "recall"))]


@pytest.mark.parametrize("name", WORST)
def test_a_little_of_each_goes_through(tmp_path: Path, name: str) -> None:
    """Read, reported and saved, a hundredth of what the limits allow."""
    assert through(tmp_path / "rig.toml", dump(WORST[name](0.01)).encode()) is not None


@pytest.mark.long
@pytest.mark.parametrize("name", WORST)
def test_all_of_each_goes_through(tmp_path: Path, name: str) -> None:
    """As much of each as the limits allow is no bad file, and comes to an end."""
    assert through(tmp_path / "rig.toml", dump(WORST[name](1.0)).encode()) is not None


@pytest.mark.parametrize("name", TOGGLING)
def test_the_work_of_counting_is_bounded(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A song is given up layer by layer in good time, and by stretches each loop is met once.

    Bounds: `PATIENCE` for the ways tried in layers; sections x presets x loops for the toggles
    counted in stretches (a stretch requires each loop for the first time once).
    """
    tried, counted = 0, 0
    layers, toggles = least._next_layer, least_wide._Walk._count_toggles

    def counting_layers(*given: Any) -> Any:
        nonlocal tried
        tried += len(given[1]) + len(given[-1]) * len(given[2])
        return layers(*given)

    def counting_toggles(self: Any, into: Any, *more: Any) -> None:
        nonlocal counted
        counted += into.size
        toggles(self, into, *more)

    monkeypatch.setattr(least, "_next_layer", counting_layers)
    monkeypatch.setattr(least_wide._Walk, "_count_toggles", counting_toggles)
    rig = rig_from_data(WORST[name](0.05))
    for song in rig.songs:
        tried = counted = 0
        count_song(rig, song)
        assert tried <= least.PATIENCE[0] + least.PATIENCE[1] * len(song.sections)
        most = len(song.sections) * len(rig.presets) * (len(rig.loops) + 1)
        assert counted <= most
    assert board_of(rig).crowded
