"""Restore points: what is kept of a file, for how long, and how it comes back."""

from __future__ import annotations

import errno
import os
from itertools import pairwise
from pathlib import Path

import pytest
from rigs_made import make_data, song

from rigtui.store.atomic import SaveError
from rigtui.store.splice import dump
from rigtui.store.state import file_key, state_folder
from rigtui.store.versions import (
    KEPT,
    NAMED_KEPT,
    keep,
    keep_quietly,
    keep_what_is_there,
    restore,
    versions,
)


def text(tempo: int) -> str:
    """A rig file that differs from the others in the tempo of its song."""
    return "# mine\r\n" + dump(make_data(songs=[song("low-fen", tempo=tempo)]))


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A rig file."""
    path = tmp_path / "rig.toml"
    path.write_bytes(text(60).encode())
    return path


def test_each_version_is_kept_once(file: Path) -> None:
    """The latest comes first; the same text again is no new version, an older text is."""
    for tempo in (60, 61, 61, 60):
        keep(file, text(tempo))
    assert [one.text for one in versions(file)] == [text(60), text(61), text(60)]
    assert versions(file.with_name("other.toml")) == []


def test_versions_say_what_changed(file: Path) -> None:
    """From one to the next, in the player's words; also where one cannot be read."""
    for content in (text(60), text(61), "no rig = [", text(61)):
        keep(file, content)
    found = [*versions(file), None]
    said = [one.changes_since(before) for one, before in pairwise(found) if one]
    assert said == [
        "cannot be compared",
        "cannot be compared",
        "song low-fen: tempo 60 -> 61",
        "first version kept",
    ]


def test_the_last_twenty_stay_and_those_with_a_name(file: Path) -> None:
    """A name given to what is there already makes no second version of it."""
    keep(file, text(60))
    keep(file, text(60), "before the gig")
    for tempo in range(61, 100):
        keep(file, text(tempo))
    found = versions(file)
    assert [one.text for one in found] == [text(n) for n in (*range(99, 99 - KEPT, -1), 60)]
    assert [one.name for one in found if one.name] == ["before the gig"]
    assert len(os.listdir(state_folder("versions", file_key(file)))) == KEPT + 1


def test_names_do_not_fill_the_disk(file: Path) -> None:
    """Of those with a name a hundred stay."""
    for tempo in range(60, 60 + NAMED_KEPT + 30):
        keep(file, text(tempo), f"take {tempo}")
    found = versions(file)
    assert len(found) <= NAMED_KEPT + KEPT
    assert found[0].name == f"take {60 + NAMED_KEPT + 29}"


def test_a_clock_set_back_does_not_mix_them_up(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was kept later counts as later, whatever the clock says."""
    for seconds, tempo in ((3_000, 60), (1_000, 61), (2_000, 62)):
        monkeypatch.setattr("time.time_ns", lambda seconds=seconds: seconds * 10**9)
        keep(file, text(tempo))
    assert [one.text for one in versions(file)] == [text(62), text(61), text(60)]


def test_a_version_comes_back_to_the_last_byte(file: Path) -> None:
    """Mark of the order of bytes, line ends and comments; what was there is a version then."""
    old = "\ufeff# mine\r\n" + text(50)
    keep(file, old)
    restore(file, versions(file)[0].text)
    assert file.read_bytes() == old.encode()
    assert [one.text for one in versions(file)] == [old, text(60), old]
    restore(file, versions(file)[1].text)
    assert file.read_bytes() == text(60).encode()


@pytest.mark.parametrize("content", ["", "no TOML = [", "format = 99\n", "\0" * 100])
def test_what_is_no_rig_is_kept_all_the_same(file: Path, content: str) -> None:
    """A file spoiled in an editor, or by a power cut, may hold what its owner wants back."""
    file.write_text(content)
    keep(file, text(61))
    restore(file, text(61))
    assert content in [one.text for one in versions(file)]
    assert file.read_bytes() == text(61).encode()


def test_what_cannot_be_kept_is_not_overwritten(file: Path) -> None:
    """A text in another encoding is refused with a reason, and stays."""
    file.write_bytes(b"caf\xe9 = 1\n")
    with pytest.raises(SaveError, match="holds now is no UTF-8 text"):
        restore(file, text(61))
    assert file.read_bytes() == b"caf\xe9 = 1\n"


def test_a_file_that_is_gone_is_written_again(file: Path) -> None:
    """Its versions are kept elsewhere; there is nothing to keep first."""
    keep(file, text(61))
    file.unlink()
    keep_what_is_there(file)
    restore(file, versions(file)[0].text)
    assert file.read_bytes() == text(61).encode()
    assert len(versions(file)) == 1


def test_a_full_disk_refuses_to_restore_and_never_to_have_saved(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without room for what is there now it is not overwritten; beside a save it is only told."""
    keep(file, text(61))

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "write", full)
        with pytest.raises(SaveError, match="the disk is full"):
            restore(file, text(61))
        assert "saved, but no restore point could be kept" in (keep_quietly(file, text(62)) or "")
    assert file.read_bytes() == text(60).encode()
    assert keep_quietly(file, text(62)) is None


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
    assert [one.text for one in versions(file)] == [text(61), text(60)]


def test_a_file_called_by_another_path_is_the_same_file(file: Path) -> None:
    """A link to it has its versions."""
    keep(file, text(60))
    link = file.with_name("link.toml")
    link.symlink_to(file)
    assert [one.text for one in versions(link)] == [text(60)]
