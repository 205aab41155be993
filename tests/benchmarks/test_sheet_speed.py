"""How long sheets take; not in the default run.

The pack is of an evening of 60 songs with nine sections each, of a file of 500 songs. Target: a
deputy pack of 60 songs as PDF in under 3 seconds.
"""

from __future__ import annotations

import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from benchmarks.rigs import big_data
from pytest_benchmark.fixture import BenchmarkFixture

from rigtui.checks import Finding, check
from rigtui.model import Rig, rig_from_data
from rigtui.model.edits import record_printed, set_song
from rigtui.paper import setlist_for
from rigtui.sheets.formats import FORMATS
from rigtui.sheets.make import make_sheet, render
from rigtui.store.toml_write import dump

TARGET_SECONDS = 3.0
DAY = date(2027, 3, 1)


@pytest.fixture(scope="module")
def rig() -> Rig:
    """500 songs, of which 60 make an evening."""
    return rig_from_data(big_data())


@pytest.fixture(scope="module")
def findings(rig: Rig) -> tuple[Finding, ...]:
    """What the rules find in it."""
    return check(rig)


@pytest.mark.parametrize("format", FORMATS)
def test_deputy_pack_of_60_songs(
    benchmark: BenchmarkFixture, rig: Rig, findings: tuple[Finding, ...], format: str
) -> None:
    """Described and written, the findings being known."""
    setlist = setlist_for(rig, "deputy", "night-1")

    def made() -> bytes:
        return render(make_sheet(rig, "deputy", setlist, findings, DAY), format).content

    assert len(benchmark.pedantic(made, rounds=3)) > 50_000
    assert benchmark.stats.stats.max < TARGET_SECONDS


def test_deputy_pack_as_a_whole_process(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """From the command line: start, a rig of 60 songs read and checked, the PDF written."""
    data = big_data(songs=60)
    data["setlists"] = data["setlists"][:1]
    file, out = tmp_path / "rig.toml", tmp_path / "pack.pdf"
    file.write_text(dump(data), encoding="utf-8")
    command = [sys.executable, "-m", "rigtui", "sheet", "deputy", str(file), "-o", str(out),
               "--force"]  # fmt: skip

    def run() -> int:
        return subprocess.run(command, capture_output=True, check=True).returncode

    assert benchmark.pedantic(run, rounds=3) == 0
    assert benchmark.stats.stats.max < TARGET_SECONDS


def test_checking_three_printed_sheets(benchmark: BenchmarkFixture, rig: Rig) -> None:
    """What a record of floor sheet, deputy pack and wiring costs after each edit of a song."""
    noted = rig
    for kind in ("floor", "deputy", "wiring"):
        of = None if kind == "wiring" else "night-1"
        noted = record_printed(noted, kind, of, "0000000", DAY)  # type: ignore[arg-type]
    check(noted)
    song = noted.setlists[0].song_ids[0]
    tempos = iter(range(80, 200))

    def edited_and_checked() -> int:
        return len(check(set_song(noted, song, tempo=next(tempos))))

    assert benchmark.pedantic(edited_and_checked, rounds=10) > 3
