"""A file that is no rig gives exit status 2 and clear messages, and is left as it was."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from cli.conftest import Done, Run

HEAD = 'format = 1\nname = "x"\n'
SWITCHER = "[switcher]\nmemories = 8\nbank_size = 4\n"

# name: (content of the file, what the message must say)
BAD: dict[str, tuple[bytes, list[str]]] = {
    "empty": (b"", ["is empty"]),
    "blank": (b" \n\t\n", ["is empty"]),
    "no-toml": (b"format = 1\nname = = 2\n", ["line 2, column 8: ", "is not TOML"]),
    "unclosed": (b'format = 1\nname = "x\n', ["line 2", "is not TOML"]),
    "key-twice": (b"format = 1\nformat = 1\n", ["line 2", "is not TOML"]),
    "not-utf-8": (b'format = 1\nname = "x\xff"\n', ["line 2: ", "UTF-8"]),
    "utf-16": ('format = 1\nname = "x"\n'.encode("utf-16"), ["line 1: ", "UTF-8"]),
    "nul": (b"\0" * 64, ["is not TOML"]),
    "png": (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), ["UTF-8"]),
    "deep": (b"a = " + b"[" * 5000, ["is nested too deeply"]),
    "huge-number": (b"format = " + b"9" * 10_000, ["is not TOML"]),
    "json": (b'{"format": 1}', ["line 1, column 1", "is not TOML"]),
    "missing-name": (b"format = 1\n", ["name: ", "missing"]),
    "missing-id": (
        (HEAD + '[[presets]]\nname = "Lead"\n').encode(),
        ["line 3: presets.0.id: ", "missing"],
    ),
    "wrong-type": (
        (HEAD + SWITCHER.replace("8", '"eight"')).encode(),
        ["line 4: switcher.memories: ", "must be a whole number", "eight"],
    ),
    "wrong-key": (
        (HEAD + SWITCHER + "memorys = 8\n").encode(),
        ["line 6: ", "unknown key", "did you mean memories?"],
    ),
    "wrong-table": (b'format = 1\nname = "x"\npedals = 3\n', ["line 3: pedals: ", "list"]),
    "id-twice": ((HEAD + '[[presets]]\nid = "a"\n' * 2).encode(), ["presets", '"a"']),
    "out-of-range": ((HEAD + SWITCHER.replace("8", "200")).encode(), ["1 to 128", "200"]),
    "newer": (b'format = 2\nname = "x"\n', ["format: ", "newer"]),
}


def _expect_refused(done: Done, file: Path, words: list[str]) -> None:
    assert (done.status, done.out) == (2, "")
    assert "Traceback" not in done.err
    assert all(line.startswith(f"{file}: ") for line in done.err.splitlines())
    assert [word for word in words if word not in done.err] == []


@pytest.mark.parametrize("name", BAD)
def test_a_bad_file_is_refused_with_its_place(run: Run, tmp_path: Path, name: str) -> None:
    """Each kind of fault is named, with its line where there is one, and the file is untouched."""
    content, words = BAD[name]
    file = tmp_path / f"{name}.toml"
    file.write_bytes(content)
    _expect_refused(run("report", file), file, words)
    assert file.read_bytes() == content


def test_all_faults_are_listed_together(run: Run, tmp_path: Path) -> None:
    """One run shows everything that is to be mended, in the order of the file."""
    file = tmp_path / "rig.toml"
    file.write_text(
        HEAD + SWITCHER.replace("4", "true") + "colour = 1\n"
        '[[songs]]\nid = "Low Fen"\ntempo = 0\n[[pedals]]\nid = "wah"\nside = "front"\n'
    )
    done = run("report", file)
    _expect_refused(done, file, [])
    places = [line.removeprefix(f"{file}: ").split(": ")[:2] for line in done.err.splitlines()]
    assert [line for line, _ in places] == [
        "line 5",
        "line 6",
        "line 8",
        "line 9",
        "line 10",
    ]
    assert [where.rpartition(".")[2] for _, where in places] == [
        "bank_size",
        "colour",
        "id",
        "tempo",
        "kind",
    ]


@pytest.mark.parametrize("command", [(), ("report",)], ids=["open", "report"])
def test_opening_and_reporting_refuse_alike(
    run: Run, tmp_path: Path, command: tuple[str, ...]
) -> None:
    """Opening a bad file names its faults, with or without a terminal to show screens on."""
    file = tmp_path / "rig.toml"
    file.write_text("format = 1\n")
    _expect_refused(run(*command, file), file, ["name: ", "missing"])


def test_a_folder_is_refused(run: Run, tmp_path: Path) -> None:
    """A folder is no rig."""
    _expect_refused(run("report", tmp_path), tmp_path, ["is a folder, not a rig file"])


def test_a_file_that_is_not_there_is_refused(run: Run, tmp_path: Path) -> None:
    """The message says how to begin a rig."""
    file = tmp_path / "gone.toml"
    _expect_refused(run("report", file), file, ["does not exist", "rigtui new"])
    assert list(tmp_path.iterdir()) == []


def test_a_name_that_no_file_can_have_is_refused(run: Run) -> None:
    """A name with a NUL, or far too long, is a bad file like any other."""
    for name in ("a\0b", "x" * 5000):
        done = run("report", name)
        assert (done.status, done.out) == (2, "")
        assert "can't be read" in done.err


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes here")
def test_a_named_pipe_is_refused_at_once(run: Run, tmp_path: Path) -> None:
    """Nothing waits for a pipe that nobody writes to."""
    file = tmp_path / "pipe.toml"
    os.mkfifo(file)
    _expect_refused(run("report", file), file, ["is not an ordinary file"])


def test_a_mountain_of_junk_is_refused_unread(run: Run, tmp_path: Path) -> None:
    """Ten megabytes are no rig, whatever stands in them."""
    file = tmp_path / "junk.toml"
    file.write_bytes(b"\xfe" * 10_000_000)
    _expect_refused(run("report", file), file, ["at most 8 MB"])
    assert file.stat().st_size == 10_000_000


def _may_read_all() -> bool:
    return not hasattr(os, "geteuid") or os.geteuid() == 0


@pytest.mark.skipif(_may_read_all(), reason="this user may read everything")
def test_a_file_without_permission_is_refused(run: Run, tmp_path: Path) -> None:
    """A file that may not be read says so."""
    file = tmp_path / "rig.toml"
    file.write_text(HEAD)
    file.chmod(0)
    _expect_refused(run("report", file), file, ["can't be read: ask its owner"])


def test_a_read_that_is_forbidden_is_refused(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same for a system that says no only when the file is read."""

    def forbidden(path: Path, mode: str) -> None:
        raise PermissionError(13, "Permission denied")

    file = tmp_path / "rig.toml"
    file.write_text(HEAD)
    monkeypatch.setattr(Path, "open", forbidden)
    _expect_refused(run("report", file), file, ["can't be read: ask its owner"])
