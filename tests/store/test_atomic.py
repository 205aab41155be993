"""Saving: what a file keeps, and what is refused in which words."""

from __future__ import annotations

import os
import stat
import time
from pathlib import Path

import pytest

from rigtui.store import atomic
from rigtui.store.atomic import SaveError, changed_since, fingerprint, sweep, write_atomic

posix = pytest.mark.skipif(os.name != "posix", reason="modes and links of this kind are POSIX's")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A file with old content."""
    path = tmp_path / "rig.toml"
    path.write_text("old = 1\n", encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "text", ["new = 2\n", "", "a = 1\r\nb = 2\n", "\ufeffa = 1", "ü\U0001f3b8\x00"]
)
def test_the_file_holds_exactly_the_text(file: Path, text: str) -> None:
    """As UTF-8, line ends untouched, and nothing else is left in the folder."""
    mark = write_atomic(file, text).print
    assert file.read_bytes() == text.encode()
    assert os.listdir(file.parent) == ["rig.toml"]
    assert mark == fingerprint(file)


@posix
@pytest.mark.parametrize(("umask", "mode"), [(0o022, 0o644), (0o077, 0o600), (0o002, 0o664)])
def test_a_new_file_gets_the_usual_mode(tmp_path: Path, umask: int, mode: int) -> None:
    """Read and write for all, less what the user's umask withholds."""
    before = os.umask(umask)
    try:
        write_atomic(tmp_path / "new.toml", "")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "new.toml").stat().st_mode) == mode


@posix
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o777, 0o200])
def test_an_old_file_keeps_its_mode(file: Path, mode: int) -> None:
    """Whatever the umask."""
    file.chmod(mode)
    write_atomic(file, "new = 2\n")
    assert stat.S_IMODE(file.stat().st_mode) == mode


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root may give files away"
)
def test_root_leaves_a_file_to_its_owner(file: Path) -> None:
    """Owner and group are as before."""
    os.chown(file, 1234, 4321)
    write_atomic(file, "new = 2\n")
    assert (file.stat().st_uid, file.stat().st_gid) == (1234, 4321)


@posix
def test_links_are_written_through(file: Path) -> None:
    """Links stay links, over several steps and also where they led nowhere yet."""
    folder = file.parent / "links"
    folder.mkdir()
    (folder / "two").symlink_to("../rig.toml")
    (folder / "one").symlink_to(folder / "two")
    (folder / "none").symlink_to("../later.toml")
    write_atomic(folder / "one", "new = 2\n")
    write_atomic(folder / "none", "later = 3\n")
    assert all((folder / name).is_symlink() for name in ("one", "two", "none"))
    assert file.read_text() == "new = 2\n"
    assert (file.parent / "later.toml").read_text() == "later = 3\n"


def test_short_writes_are_gone_on_with(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system may take less at once than it is given."""
    write = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: write(handle, data[:7]))
    write_atomic(file, "new = 2\n" * 50)
    monkeypatch.undo()
    assert file.read_text() == "new = 2\n" * 50


def test_half_a_character_is_refused_before_anything_is_opened(file: Path) -> None:
    """A lone surrogate, which UTF-8 cannot hold, is named by its number."""
    with pytest.raises(SaveError, match=r"rig.toml was not written: it holds .*U\+D800"):
        write_atomic(file, "a = '\ud800'")
    assert file.read_text() == "old = 1\n"


def test_places_that_cannot_be_written_are_refused_in_clear_words(file: Path) -> None:
    """Each says what is in the way, and leaves it as it was."""
    folder = file.parent
    cases = {
        folder: "it is a folder; choose a file name",
        folder / "gone" / "a.toml": "the folder doesn't exist: make it",
        file / "a.toml": "a file has the name of its folder",
        folder / ("x" * 300): "the name is too long",
        folder / "a\0b": "a character that no file name can have",
    }
    if os.name == "posix":
        os.mkfifo(folder / "pipe")
        (folder / "circle").symlink_to("circle")
        cases |= {
            folder / "pipe": "it is not an ordinary file",
            folder / "circle": "its links lead in a circle",
        }
    before = sorted(os.listdir(folder))
    for path, reason in cases.items():
        with pytest.raises(SaveError, match=f" was not written: .*{reason}"):
            write_atomic(path, "new = 2\n")
    assert sorted(os.listdir(folder)) == before
    assert file.read_text() == "old = 1\n"


def test_a_name_is_shown_without_its_control_characters(tmp_path: Path) -> None:
    """A file name could otherwise act on the terminal that the message is shown on."""
    (tmp_path / "a\x1b[2J").mkdir()
    with pytest.raises(SaveError, match=r"^a\u241b\[2J was not written"):
        write_atomic(tmp_path / "a\x1b[2J", "")


@posix
def test_a_read_only_file_is_not_replaced(file: Path) -> None:
    """Not even by root, who could, and though the folder would let anyone."""
    file.chmod(0o444)
    with pytest.raises(SaveError, match="the file is read-only; allow writing to it"):
        write_atomic(file, "new = 2\n")
    assert file.read_text() == "old = 1\n"


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write in any folder"
)
def test_a_read_only_folder_is_named_as_such(file: Path) -> None:
    """The file in it could be written, but not replaced as a whole."""
    file.parent.chmod(0o555)
    try:
        with pytest.raises(SaveError, match="you may not write in this folder"):
            write_atomic(file, "new = 2\n")
    finally:
        file.parent.chmod(0o755)
    assert file.read_text() == "old = 1\n"


@pytest.mark.parametrize("name", ["ü" * 125 + ".toml", "x" * 255, ".rig", "a [1]*.toml"])
def test_names_at_the_limit_can_be_saved(tmp_path: Path, name: str) -> None:
    """The second file's name is longer than the file's own, and must still fit."""
    write_atomic(tmp_path / name, "new = 2\n")
    assert os.listdir(tmp_path) == [name]


def test_what_old_crashes_left_is_cleared_away(file: Path) -> None:
    """A day after; what belongs to others, or to a save that may be running, stays."""
    old = time.time() - 2 * atomic.STALE_SECONDS
    token = "0123456789abcdef"
    names = {
        f".rig.toml.{token}.tmp": True,
        f".rig.toml.bak.{token}.tmp": False,
        f".other.toml.{token}.tmp": False,
        ".rig.toml.swp": False,
        f"rig.toml.{token}.tmp": False,
    }
    for name in names:
        (file.parent / name).touch()
        os.utime(file.parent / name, (old, old))
    fresh = f".rig.toml.{token[::-1]}.tmp"
    (file.parent / fresh).touch()
    sweep(file)
    stay = {name for name, goes in names.items() if not goes} | {fresh, "rig.toml"}
    assert set(os.listdir(file.parent)) == stay


def test_a_short_look_by_another_program_is_waited_out(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on Windows, where a file that somebody reads cannot be replaced just then."""
    replace, tries = os.replace, []

    def busy(second: Path, target: Path) -> None:
        tries.append(second)
        if len(tries) < 3:
            raise PermissionError
        replace(second, target)

    monkeypatch.setattr(atomic, "_WAITS", (0, 0, 0))
    monkeypatch.setattr(os, "replace", busy)
    write_atomic(file, "new = 2\n")
    assert file.read_text() == "new = 2\n"
    assert len(tries) == 3


def test_a_change_by_another_program_is_noticed(file: Path) -> None:
    """Other content counts, whatever the clock says; a mere touch or the same content does not."""
    seen = fingerprint(file)
    assert not changed_since(file, seen)
    os.utime(file, (1, 1))
    assert not changed_since(file, seen)
    file.write_text("old = 2\n")
    assert changed_since(file, seen)
    write_atomic(file, "old = 1\n")
    assert not changed_since(file, seen)
    file.unlink()
    assert changed_since(file, seen)


def test_a_file_that_looks_the_same_is_not_read(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Time, size and inode are asked first; they answer on every return to the program."""
    seen = fingerprint(file)
    monkeypatch.setattr("builtins.open", None)
    assert not changed_since(file, seen)
