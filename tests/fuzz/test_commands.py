"""Odd files put to every command: plans, sheets, MIDI, tables, restore points, songs taken in."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from fuzz.commands import imported, odd_songs, plans, refused, written
from fuzz.near_valid import DEMOS, mutated, near_valid
from fuzz.pipeline import counts, through

Record = Callable[[str, object], None]


def _put_to_all(folder: Path, seeds: range, planned: int) -> int:
    """Put odd files to all commands; of the good ones each so many-th to the planners.

    Returns:
        How many were good.
    """
    spot, out, good = folder / "in" / "rig.toml", folder / "out", 0
    spot.parent.mkdir()
    for seed in seeds:
        rng = Random(seed)
        rig = through(spot, rng.choice((near_valid, near_valid, mutated))(rng))
        spot.with_name("copy.toml").unlink(missing_ok=True)
        if rig is None:
            if seed % 4 == 0:
                refused(spot)
            continue
        written(spot, rig, out)
        shutil.rmtree(out)
        good += 1
        if good % planned == 0:
            plans(spot)
    return good


def test_odd_files_put_to_every_command(tmp_path: Path) -> None:
    """Whatever is read is written in every form, planned, or refused in one message."""
    assert _put_to_all(tmp_path, range(1000, 1012), 5) >= 5


def test_odd_files_that_songs_are_taken_from(tmp_path: Path) -> None:
    """Nearly good ChordPro, CSV and MIDI."""
    _take_songs(tmp_path, range(60))


def _take_songs(folder: Path, seeds: range) -> None:
    rig = folder / "rig.toml"
    rig.write_bytes(DEMOS[0])
    for seed in seeds:
        ending, content = odd_songs(Random(seed))
        other = folder / f"odd.{ending}"
        other.write_bytes(content)
        imported(rig, other)
        counts[f"import of .{ending}"] += 1
        other.unlink()


@pytest.mark.long
@pytest.mark.parametrize("part", range(6))
def test_many_odd_files_put_to_every_command(
    tmp_path: Path, part: int, record_property: Record
) -> None:
    """Some hundred good ones of them written in every form, and a share of them planned."""
    counts.clear()
    _put_to_all(tmp_path, range(part * 120, (part + 1) * 120), 12)
    record_property("counts", dict(counts))
    assert counts["sheet: done"] > 100
    assert counts["plan: done"] > 2


@pytest.mark.long
@pytest.mark.parametrize("part", range(4))
def test_many_odd_files_that_songs_are_taken_from(
    tmp_path: Path, part: int, record_property: Record
) -> None:
    """Thousands of them."""
    counts.clear()
    _take_songs(tmp_path, range(part * 1_000, (part + 1) * 1_000))
    record_property("counts", dict(counts))
