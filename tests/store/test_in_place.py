"""The one door to a rig file that is there: what it held is kept, or the player is told."""

from __future__ import annotations

import ast
import errno
import os
from pathlib import Path

import pytest
from store.rig_texts import text
from store.system import needs_proc

import rigtui
from rigtui.store.atomic import SaveError
from rigtui.store.in_place import restore, write_in_place
from rigtui.store.versions import keep, keep_what_is_there, versions


def kept(file: Path) -> list[str]:
    """The texts of its restore points, the latest first."""
    return [version.text for version in versions(file)]


@pytest.fixture
def no_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk of the user's own folder is full; the disk of the rig file is not."""
    write_really = os.write
    state = os.environ["XDG_STATE_HOME"]

    def write(handle: int, content: bytes) -> int:
        if os.readlink(f"/proc/self/fd/{handle}").startswith(state):
            raise OSError(errno.ENOSPC, "No space left on device")
        return write_really(handle, content)

    monkeypatch.setattr(os, "write", write)


def test_before_and_after_are_kept(file: Path) -> None:
    """Both to the last byte, and once; a save of the same text keeps nothing more."""
    for _ in range(2):
        mark, notes = write_in_place(file, text(61), text(60))
        assert notes == ()
        assert mark.size == len(text(61))
    assert file.read_bytes() == text(61).encode()
    assert kept(file)[:2] == [text(61), text(60)]


def test_a_file_that_is_new_is_kept_too(file: Path) -> None:
    """There is nothing before it."""
    file.unlink()
    assert write_in_place(file, text(61))[1] == ()
    assert kept(file) == [text(61)]


def test_what_another_program_wrote_is_kept_and_what_was_read(file: Path) -> None:
    """In the order in which the file held them."""
    write_in_place(file, text(62), text(59))
    assert kept(file) == [text(62), text(60), text(59)]


@needs_proc
@pytest.mark.usefixtures("no_room")
def test_what_cannot_be_kept_is_told(file: Path) -> None:
    """It is saved all the same, and the words name no file that the player does not know."""
    notes = write_in_place(file, text(61), text(60))[1]
    assert notes == ("the earlier version of rig.toml could not be kept: the disk is full",)
    assert file.read_bytes() == text(61).encode()
    file.unlink()
    assert write_in_place(file, text(62))[1] == (
        "no restore point could be kept: the disk is full",
    )


@needs_proc
@pytest.mark.usefixtures("no_room")
def test_what_must_be_kept_is_not_written_over(file: Path) -> None:
    """As in restoring: without room for what is there now nothing is put in its place."""
    for refused in (
        lambda: restore(file, text(61)),
        lambda: write_in_place(file, text(61), must_keep=True),
    ):
        with pytest.raises(SaveError, match=r"^no restore point could be kept: the disk is full$"):
            refused()
    assert file.read_bytes() == text(60).encode()


def test_a_text_that_nobody_can_keep_is_named(file: Path) -> None:
    """Where the player said to write over what is no text, its loss is told."""
    file.write_bytes(b"caf\xe9 = 1\n")
    notes = write_in_place(file, text(61))[1]
    assert notes == ("the earlier version of rig.toml could not be kept: it is not UTF-8 text",)


def test_the_last_look_comes_after_the_keeping(file: Path) -> None:
    """Keeping takes time in which another program may write; then nothing is written over."""

    def look() -> None:
        assert kept(file) == [text(60)]
        raise SaveError("somebody was quicker")

    with pytest.raises(SaveError, match="somebody was quicker"):
        write_in_place(file, text(61), text(60), last_look=look)
    assert file.read_bytes() == text(60).encode()


def test_permissions_that_could_not_stay_are_told(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that refuses them narrows a file that others could read."""
    file.chmod(0o640)
    with monkeypatch.context() as patch:

        def refused(*_: object) -> None:
            raise PermissionError(errno.EPERM, "Operation not permitted")

        patch.setattr(os, "fchmod", refused)
        notes = write_in_place(file, text(61))[1]
    assert file.stat().st_mode & 0o777 == 0o600
    assert notes == ("its permissions are now 0600 instead of 0640: the system changed them",)
    assert write_in_place(file, text(62))[1] == ()


# These write what is no rig file of the player's: the program's own files, and those it makes.
OTHERS = {"atomic", "faults", "in_place", "kept", "outputs", "recovery", "sheet_files", "versions"}


def test_no_other_way_leads_to_a_rig_file() -> None:
    """Whoever else can write over a file writes none of those."""
    home = Path(rigtui.__file__).parent
    writers = set()
    for source in home.rglob("*.py"):
        for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
            if _writes(node):
                writers.add(source.relative_to(home).with_suffix("").as_posix())
    assert writers == {f"store/{name}" for name in OTHERS}


def _writes(node: ast.AST) -> bool:
    """Whether a piece of a program can write over a file."""
    if isinstance(node, ast.Name):
        return node.id in ("write_atomic", "write_bytes")
    if isinstance(node, ast.Attribute):
        moves = ast.unparse(node) in ("os.replace", "os.rename", "os.truncate")
        return moves or node.attr in ("write_text", "write_bytes")
    if isinstance(node, ast.Call) and ast.unparse(node.func).split(".")[-1] == "open":
        modes = [word.value for word in node.args if isinstance(word, ast.Constant)]
        return any(set(mode) & set("wax+") for mode in modes if isinstance(mode, str))
    return False


# Restoring


def test_a_version_comes_back_to_the_last_byte(file: Path) -> None:
    """Mark of the order of bytes, line ends and comments; what was there is a version then."""
    old = "\ufeff# mine\r\n" + text(50)
    keep(file, old)
    restore(file, versions(file)[0].text)
    assert file.read_bytes() == old.encode()
    assert kept(file) == [old, text(60), old]
    restore(file, versions(file)[1].text)
    assert file.read_bytes() == text(60).encode()


@pytest.mark.parametrize("content", ["", "no TOML = [", "format = 99\n", "\0" * 100])
def test_what_is_no_rig_is_kept_all_the_same(file: Path, content: str) -> None:
    """A file spoiled in an editor, or by a power cut, may hold what its owner wants back."""
    file.write_text(content)
    keep(file, text(61))
    restore(file, text(61))
    assert content in kept(file)
    assert file.read_bytes() == text(61).encode()


def test_what_cannot_be_kept_is_not_overwritten(file: Path) -> None:
    """A text in another encoding is refused with a reason, and stays."""
    file.write_bytes(b"caf\xe9 = 1\n")
    with pytest.raises(SaveError, match="as it is now is not UTF-8 text"):
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
