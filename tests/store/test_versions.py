"""Restore points: what is kept of a file, for how long, and how it comes back."""

from __future__ import annotations

import os
from itertools import pairwise
from pathlib import Path

import pytest
from store.rig_texts import text

from rigtui.store.state import file_key, state_folder
from rigtui.store.versions import (
    KEPT,
    NAMED_KEPT,
    keep,
    versions,
)


def test_each_version_is_kept_once(file: Path) -> None:
    """The latest comes first; the same text again is no new version, an older text is."""
    for tempo in (60, 61, 61, 60):
        keep(file, text(tempo))
    assert [version.text for version in versions(file)] == [text(60), text(61), text(60)]
    assert versions(file.with_name("other.toml")) == []


def test_versions_say_what_changed(file: Path) -> None:
    """From one to the next, in the player's words; also where one cannot be read."""
    for content in (text(60), text(61), "no rig = [", text(61)):
        keep(file, content)
    points = [*versions(file), None]
    said = [point.changes_since(before) for point, before in pairwise(points) if point]
    assert said == [
        "can't be compared",
        "can't be compared",
        "song low-fen: tempo 60 -> 61",
        "first version kept",
    ]


def test_the_last_twenty_stay_and_those_with_a_name(file: Path) -> None:
    """A name given to what is there already makes no second version of it."""
    keep(file, text(60))
    keep(file, text(60), "before the gig")
    for tempo in range(61, 100):
        keep(file, text(tempo))
    points = versions(file)
    assert [point.text for point in points] == [text(n) for n in (*range(99, 99 - KEPT, -1), 60)]
    assert [point.name for point in points if point.name] == ["before the gig"]
    assert len(os.listdir(state_folder("versions", file_key(file)))) == KEPT + 1


def test_names_do_not_fill_the_disk(file: Path) -> None:
    """Of those with a name a hundred stay."""
    for tempo in range(60, 60 + NAMED_KEPT + 30):
        keep(file, text(tempo), f"take {tempo}")
    points = versions(file)
    assert len(points) == NAMED_KEPT + KEPT
    assert points[0].name == f"take {60 + NAMED_KEPT + 29}"


def test_a_clock_set_back_does_not_mix_them_up(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was kept later counts as later, whatever the clock says."""
    for seconds, tempo in ((3_000, 60), (1_000, 61), (2_000, 62)):
        monkeypatch.setattr("time.time_ns", lambda seconds=seconds: seconds * 10**9)
        keep(file, text(tempo))
    assert [version.text for version in versions(file)] == [text(62), text(61), text(60)]


GARBLED = {
    "nothing": b"",
    "no JSON": b"{",
    "no text": b"\xff",
    "no object": b"[]",
    "no rig": b'{"name": ""}',
    "a number": b'{"name": "", "text": 7}',
    "depths": b"[" * 100_000,
}


@pytest.mark.parametrize("content", GARBLED.values(), ids=GARBLED)
def test_a_garbled_version_is_passed_over(file: Path, content: bytes) -> None:
    """The others are there, and new ones can be kept."""
    keep(file, text(60))
    folder = state_folder("versions", file_key(file))
    (folder / f"{1:016d}-{'0' * 12}.json").write_bytes(content)
    (folder / "notes.txt").write_bytes(content)
    keep(file, text(61))
    assert [version.text for version in versions(file)] == [text(61), text(60)]


def test_a_file_called_by_another_path_is_the_same_file(file: Path) -> None:
    """A link to it has its versions."""
    keep(file, text(60))
    link = file.with_name("link.toml")
    link.symlink_to(file)
    assert [version.text for version in versions(link)] == [text(60)]
