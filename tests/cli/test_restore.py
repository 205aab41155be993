"""`rigtui restore` lists what is kept of a file, and puts it back without losing what is there."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest
from cli.conftest import Run

from rigtui.model import edits
from rigtui.store.load import load
from rigtui.store.recovery import Journal
from rigtui.store.save import save
from rigtui.store.state import state_folder
from rigtui.store.versions import keep, versions


@pytest.fixture
def kept(rig_file: Path) -> Path:
    """A rig file of which three versions are kept, the second with a name."""
    keep(rig_file, rig_file.read_text())
    source, rig = load(rig_file)
    for tempo, name in ((90, "Before the gig"), (91, "")):
        source, _ = save(edits.set_song(rig, "low-fen", tempo=tempo), rig_file, source)
        keep(rig_file, source.text, name)
    return rig_file


def crash(file: Path, tempo: float) -> None:
    """Leave unsaved edits behind."""
    source, rig = load(file)
    journal = Journal(file)
    journal.write(edits.set_song(rig, "low-fen", tempo=tempo), source)
    journal._lock.release()


def test_the_list_says_what_changed(run: Run, kept: Path) -> None:
    """The latest first, with number, time, name and change; nothing is written."""
    before = kept.read_bytes()
    done = run("restore", kept)
    assert (done.status, done.err) == (0, "")
    lines = done.out.splitlines()
    assert lines[0] == f"{kept}: 3 restore points"
    assert lines[1].startswith("  1  today ")
    assert lines[1].endswith("song Low Fen: tempo 90 -> 91 (as the file is now)")
    assert '"Before the gig": song Low Fen: tempo 120 -> 90' in lines[2]
    assert lines[3].endswith("first version kept")
    assert f"rigtui restore {kept} 1" in lines[4]
    assert kept.read_bytes() == before
    assert len(versions(kept)) == 3


def test_the_list_as_json(run: Run, kept: Path) -> None:
    """One object, with times that other programs read."""
    crash(kept, 99)
    done = run("restore", kept, "--json")
    assert (done.status, done.err, done.out.count("\n")) == (0, "", 1)
    listed = json.loads(done.out)
    assert listed["file"] == str(kept)
    points = listed["restore_points"]
    assert [(point["number"], point["name"], point["current"]) for point in points] == [
        (1, None, True),
        (2, "Before the gig", False),
        (3, None, False),
    ]
    assert listed["unsaved"][0]["changes"] == "song Low Fen: tempo 91 -> 99"
    assert all(datetime.fromisoformat(point["kept"]).tzinfo for point in points)


@pytest.mark.parametrize(
    "which", [("2",), ("--name", "Before the gig"), ("--name", "before THE gig")]
)
def test_a_version_is_put_back(run: Run, kept: Path, which: tuple[str, ...]) -> None:
    """To the last byte, with what was there kept: the same command undoes it."""
    before, wanted = kept.read_text(), versions(kept)[1].text
    done = run("restore", kept, *which)
    assert (done.status, done.err) == (0, "")
    assert f"{kept} is back at restore point 2" in done.out
    assert kept.read_text() == wanted
    assert run("restore", kept, "2").status == 0
    assert kept.read_text() == before


def test_a_version_can_be_written_elsewhere(run: Run, kept: Path) -> None:
    """The file stays; a file that is there already is never written over."""
    before, new = kept.read_bytes(), kept.with_name("new.toml")
    done = run("restore", kept, "3", "--to", new)
    assert (done.status, done.err) == (0, "")
    assert new.read_text() == versions(kept)[2].text
    assert kept.read_bytes() == before
    again = run("restore", kept, "1", "--to", new)
    assert (again.status, again.out) == (2, "")
    assert f"{new} already exists, and is unchanged" in again.err
    assert new.read_text() == versions(kept)[2].text
    assert json.loads(run("restore", kept, "1", "--to", f"{new}2", "--json").out) == {
        "file": str(kept),
        "written": f"{new}2",
        "what": run("restore", kept, "1").out.split("back at ")[1].split(".\n")[0],
    }


def test_edits_that_a_crash_left_are_told_and_put_back(run: Run, kept: Path) -> None:
    """Also without the screens, for a file that they cannot open any more."""
    assert run("restore", kept, "--unsaved").err == (
        f"{kept}: no crash left unsaved edits of this file\n"
    )
    crash(kept, 99)
    out = run("restore", kept).out
    assert "Left unsaved by a crash today" in out
    assert "song Low Fen: tempo 91 -> 99" in out
    kept.write_text("spoiled = [")
    assert run("restore", kept).out.splitlines()[1].startswith("The file itself is gone or")
    done = run("restore", kept, "--unsaved")
    assert (done.status, done.err) == (0, "")
    assert load(kept)[1].songs[0].tempo == 99
    assert "spoiled = [" in [version.text for version in versions(kept)]


def test_a_file_that_is_gone_comes_back(run: Run, kept: Path) -> None:
    """Its versions are kept apart from it."""
    wanted = kept.read_text()
    kept.unlink()
    assert run("restore", kept).status == 0
    assert run("restore", kept, "1").status == 0
    assert kept.read_text() == wanted


def test_a_file_open_in_a_window_is_named_as_such(run: Run, kept: Path) -> None:
    """So that nobody wonders what its screens ask about."""
    journal = Journal(kept)
    assert "open in another window" in run("restore", kept, "2").out
    journal.close()
    assert "open in another window" not in run("restore", kept, "2").out


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("4",), "there is no restore point 4; there are 1 to 3"),
        (
            ("--name", "befor the gig"),
            'there is no restore point "befor the gig"; did you mean "Before the gig"?',
        ),
        (("--name", ""), 'there is no restore point ""'),
        (("--to", "x.toml"), "--to needs to know which version"),
        (("0",), '"0" must be a number from the list, 1 or more'),
        (("1", "--unsaved"), "not allowed with argument"),
    ],
)
def test_what_is_not_there_is_refused(
    run: Run, kept: Path, words: tuple[str, ...], message: str
) -> None:
    """With status 2 and a message that says what there is; nothing changes."""
    before = kept.read_bytes()
    done = run("restore", kept, *words)
    assert (done.status, done.out) == (2, "")
    assert message in done.err
    assert kept.read_bytes() == before
    assert len(versions(kept)) == 3


def test_a_file_that_never_was(run: Run, tmp_path: Path) -> None:
    """Is refused; one that is there but was never saved is told so, which is no fault."""
    done = run("restore", tmp_path / "none.toml")
    assert (done.status, done.out) == (2, "")
    assert "there is no such file, and no version of it is kept" in done.err
    (tmp_path / "new.toml").write_text("format = 1\nname = 'x'\n")
    done = run("restore", tmp_path / "new.toml")
    assert done.status == 0
    assert "no restore point yet; each save keeps one" in done.out
    assert run("restore", tmp_path / "new.toml", "1").status == 2


# Root may go anywhere, unless it gives that up.
WITHOUT_PRIVILEGE = (
    ["setpriv", "--bounding-set", "-dac_override,-dac_read_search"]
    if hasattr(os, "geteuid") and os.geteuid() == 0
    else []
)


@pytest.mark.skipif(
    os.name != "posix" or (WITHOUT_PRIVILEGE and shutil.which("setpriv") is None),
    reason="needs a folder that may not be searched",
)
def test_a_recovery_folder_that_may_not_be_searched(kept: Path) -> None:
    """Restore points are listed and put back all the same; what cannot be told is said."""
    Journal(kept)._lock.release()
    recovery = state_folder("recovery")

    def restored(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [*WITHOUT_PRIVILEGE, sys.executable, "-m", "rigtui", "restore", str(kept), *words],
            capture_output=True, text=True, check=False,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        )  # fmt: skip

    why = "left unsaved edits: their folder can't be read (permission denied)\n"
    recovery.chmod(0o600)
    try:
        listed, unsaved, back = restored(), restored("--unsaved"), restored("2")
    finally:
        recovery.chmod(0o700)
    assert (listed.returncode, listed.stdout.splitlines()[0]) == (0, f"{kept}: 3 restore points")
    assert listed.stderr.endswith(why)
    assert (unsaved.returncode, unsaved.stdout) == (2, "")
    assert unsaved.stderr.endswith(why)
    assert (back.returncode, back.stderr) == (0, "")


def test_names_from_a_file_do_not_reach_the_terminal(run: Run, kept: Path) -> None:
    """Control characters in names of songs and versions are made visible."""
    source, rig = load(kept)
    source, _ = save(edits.set_song(rig, "low-fen", title="\x1b[2J"), kept, source)
    keep(kept, source.text, "\x1b]0;x\x07")
    out = run("restore", kept).out
    assert "\x1b" not in out
    assert "\x07" not in out
    assert "␛[2J" in out
