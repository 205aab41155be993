"""The starter rig teaches, loads without errors, and never takes the place of a file."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from rigtui.checks import check
from rigtui.store.atomic import SaveError
from rigtui.store.load import load
from rigtui.store.starter import starter_text, write_starter


def test_the_starter_rig_loads_without_errors(tmp_path: Path) -> None:
    """A new player is not greeted by errors or warnings, and has something to look at."""
    path = tmp_path / "my-rig.toml"
    write_starter(path)
    _, rig = load(path)
    heavy = [finding for finding in check(rig) if finding.severity != "advice"]
    assert heavy == []
    assert len(rig.loops) == 4
    assert rig.presets
    assert all(song.sections for song in rig.songs)
    assert rig.setlists


def test_the_starter_rig_explains_itself() -> None:
    """Every kind of table comes with a comment."""
    text = starter_text()
    assert text.count("#") > 20
    assert max(map(len, text.splitlines())) <= 100


@pytest.mark.parametrize("content", [b"", b"precious"])
def test_a_file_is_never_written_over(tmp_path: Path, content: bytes) -> None:
    """Whatever is there, an empty file too, stays byte for byte."""
    path = tmp_path / "my-rig.toml"
    path.write_bytes(content)
    with pytest.raises(SaveError, match="already exists"):
        write_starter(path)
    assert path.read_bytes() == content


def test_a_link_that_leads_nowhere_is_left_alone(tmp_path: Path) -> None:
    """A name that is taken by a broken link is taken."""
    link = tmp_path / "link.toml"
    try:
        link.symlink_to(tmp_path / "gone.toml")
    except OSError:
        pytest.skip("no symbolic links here")
    with pytest.raises(SaveError, match="already exists"):
        write_starter(link)
    assert not (tmp_path / "gone.toml").exists()


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("", "is a folder"),
        ("no/such/folder.toml", "there is no folder"),
        ("bad\0name", "can't be written there"),
        ("x" * 5000, "can't be written there"),
    ],
)
def test_a_place_that_cannot_be_says_why(tmp_path: Path, name: str, message: str) -> None:
    """The message says what stands in the way."""
    with pytest.raises(SaveError, match=message):
        write_starter(tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_failed_write_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that is full leaves no half file behind."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(SaveError, match="No space left"):
        write_starter(tmp_path / "my-rig.toml")
    assert list(tmp_path.iterdir()) == []
