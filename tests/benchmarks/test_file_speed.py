"""How long files take, in the process that has them open; not in the default run.

Run with: pytest tests/benchmarks --override-ini addopts= -q
"""

from __future__ import annotations

from itertools import count
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from benchmarks.rigs import big_data
from pytest_benchmark.fixture import BenchmarkFixture

from rigtui.model import edits
from rigtui.model.merge import merge
from rigtui.store.load import load
from rigtui.store.recovery import Journal
from rigtui.store.save import save
from rigtui.store.toml_write import dump
from rigtui.store.versions import keep


@pytest.fixture
def big_rig(tmp_path: Path) -> Path:
    """A file of 500 songs of nine sections, a comment above each song."""
    path = tmp_path / "big.toml"
    text = dump(big_data()).replace("[[songs]]", "# one of mine\n[[songs]]")
    path.write_text(text, encoding="utf-8")
    return path


def test_a_save_of_a_big_rig(benchmark: BenchmarkFixture, big_rig: Path) -> None:
    """One song edited, comments kept, read back, on the disk; target 300 ms."""
    source, rig = load(big_rig)
    tempos = count(60)

    def edit() -> tuple[Any, dict[str, Any]]:
        return (edits.set_song(rig, "song-250", tempo=next(tempos)), big_rig, source, True), {}

    benchmark.pedantic(save, setup=edit, rounds=10)
    assert big_rig.read_text(encoding="utf-8").count("# one of mine") == 500


def test_the_style_preserving_library(benchmark: BenchmarkFixture, big_rig: Path) -> None:
    """What tomlkit takes to read that file, before anything is edited or written, to compare."""
    text = big_rig.read_text(encoding="utf-8")
    assert benchmark.pedantic(tomlkit.parse, (text,), rounds=1)


def test_reading_a_big_rig(benchmark: BenchmarkFixture, big_rig: Path) -> None:
    """From the file to the rig."""
    benchmark.pedantic(load, (big_rig,), rounds=5)


def test_the_journal_of_a_big_rig(benchmark: BenchmarkFixture, big_rig: Path) -> None:
    """What a thread does at most twice a second while there are unsaved edits."""
    source, rig = load(big_rig)
    journal = Journal(big_rig)
    benchmark.pedantic(journal.write, (rig, source), rounds=5)
    journal.close()


def test_a_restore_point_of_a_big_rig(benchmark: BenchmarkFixture, big_rig: Path) -> None:
    """What a save adds to itself, twice at most."""
    text = big_rig.read_text(encoding="utf-8")
    numbers = count()
    benchmark.pedantic(keep, setup=lambda: ((big_rig, f"{text}# {next(numbers)}\n"), {}), rounds=5)


def test_a_merge_of_big_rigs(benchmark: BenchmarkFixture, big_rig: Path) -> None:
    """Two sides that edited a song each."""
    _, rig = load(big_rig)
    mine = edits.set_song(rig, "song-1", tempo=61)
    theirs = edits.set_section(rig, "song-2", 3, bars=5)
    assert benchmark.pedantic(merge, (rig, mine, theirs), rounds=3).rig
