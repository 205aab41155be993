"""How long the command line takes, as a whole process; not in the default run.

Run with: pytest tests/benchmarks --override-ini addopts= -q
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from benchmarks.rigs import big_data
from pytest_benchmark.fixture import BenchmarkFixture

from rigtui.store.toml_write import dump


@pytest.fixture(scope="module")
def big_rig(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file of 500 songs of nine sections."""
    path = tmp_path_factory.mktemp("big") / "big.toml"
    path.write_text(dump(big_data()), encoding="utf-8")
    return path


def _run(*arguments: str) -> int:
    done = subprocess.run([sys.executable, *arguments], capture_output=True, check=False)
    assert done.stderr == b""
    return done.returncode


@pytest.mark.parametrize(
    "form", [(), ("--json",), ("--song", "song-1")], ids=["text", "json", "song"]
)
def test_report_of_a_big_rig(
    benchmark: BenchmarkFixture, big_rig: Path, form: tuple[str, ...]
) -> None:
    """A report on 500 songs is written; target 1.5 seconds."""
    status = benchmark.pedantic(_run, ("-m", "rigtui", "report", str(big_rig), *form), rounds=3)
    assert status in (0, 1)


def test_bare_interpreter(benchmark: BenchmarkFixture) -> None:
    """What any Python program pays, to compare with."""
    assert benchmark.pedantic(_run, ("-c", "pass"), rounds=10) == 0


def test_help(benchmark: BenchmarkFixture) -> None:
    """Help is shown; target 80 ms more than a bare interpreter."""
    assert benchmark.pedantic(_run, ("-m", "rigtui", "--help"), rounds=10) == 0
