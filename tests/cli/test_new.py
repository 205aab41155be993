"""`rigtui new` writes a rig to start from, and harms nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli.conftest import Run

from rigtui.store.starter import starter_text


def test_new_writes_the_starter_rig(run: Run, tmp_path: Path) -> None:
    """The file is there, whole, and the player is told what to do with it."""
    file = tmp_path / "my rig.toml"
    done = run("new", file)
    assert (done.status, done.err) == (0, "")
    assert f"rigtui report {file}" in done.out
    assert file.read_text(encoding="utf-8") == starter_text()
    assert list(tmp_path.iterdir()) == [file]
    assert run("report", file).status == 0


@pytest.mark.parametrize("content", [b"", b"precious"])
def test_new_leaves_a_file_as_it_is(run: Run, tmp_path: Path, content: bytes) -> None:
    """What is there already is kept, and the message says so."""
    file = tmp_path / "rig.toml"
    file.write_bytes(content)
    done = run("new", file)
    assert done == (2, "", f"{file}: already exists, and is unchanged; choose another name\n")
    assert file.read_bytes() == content


@pytest.mark.parametrize(
    ("name", "message"),
    [
        (".", "is a folder; choose another name"),
        ("no/such/rig.toml", "there is no folder no/such; make it first"),
        ("a\x1b[31m/rig.toml", "there is no folder a␛[31m; make it first"),
        ("rig.toml/inside.toml", "can't be written there: Not a directory"),
    ],
)
def test_new_says_why_it_cannot(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, message: str
) -> None:
    """A place where no file can be is named, and nothing is left behind."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "rig.toml").write_bytes(b"")
    done = run("new", name)
    assert (done.status, done.out) == (2, "")
    assert message in done.err
    assert [file.name for file in tmp_path.iterdir()] == ["rig.toml"]


def test_new_wants_one_name(run: Run) -> None:
    """Without a name nothing is written, and the help is pointed to."""
    done = run("new")
    assert (done.status, done.out) == (2, "")
    assert "`rigtui new --help` explains it" in done.err
