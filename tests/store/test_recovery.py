"""Unsaved edits outlive the program that they were made in, however it ends."""

from __future__ import annotations

import errno
import json
import os
import shutil
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from rigs_made import make_data, make_rig, setlist, song

from rigtui.model import edits
from rigtui.store.atomic import SaveError
from rigtui.store.load import load
from rigtui.store.recovery import Journal, forget, others_open, recovered
from rigtui.store.splice import dump
from rigtui.store.state import state_folder

SCRIPT = """
import sys
from pathlib import Path
from rigtui.model import edits
from rigtui.store.load import load
from rigtui.store.recovery import Journal
path = Path(sys.argv[1])
source, rig = load(path)
journal = Journal(path)
for tempo in range(60, 1000):
    rig = edits.set_song(rig, "low-fen", tempo=tempo)
    journal.write(rig, source)
    print(tempo, flush=True)
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A rig of one song, with a date, in a file."""
    path = tmp_path / "rig.toml"
    data = make_data(songs=[song("low-fen", "x", tempo=50)], setlists=[setlist("fri", "low-fen")])
    text = dump(data) + "date = 2027-03-05\n"
    path.write_text("# mine\n" + text, encoding="utf-8")
    return path


def die(journal: Journal) -> None:
    """What the system does when a program ends in whatever way: its locks are gone."""
    journal._lock.release()


def folder() -> list[str]:
    """The names of all that is kept."""
    return sorted(os.listdir(state_folder("recovery")))


@pytest.mark.skipif(os.name != "posix", reason="kill -9 is POSIX's")
def test_a_killed_program_leaves_its_edits(file: Path) -> None:
    """After SIGKILL the last rig that reached the journal is offered; the file is as it was."""
    before = file.read_bytes()
    with subprocess.Popen(
        [sys.executable, "-c", SCRIPT, str(file)], stdout=subprocess.PIPE, text=True
    ) as program:
        assert program.stdout is not None
        for _ in range(5):
            last = int(program.stdout.readline())
        assert recovered(file) == [], "it is alive, so these are its own"
        assert others_open(file) == 1
        program.send_signal(signal.SIGKILL)
        last = max([last, *(int(line) for line in program.stdout if line.endswith("\n"))])
    assert others_open(file) == 0
    (left,) = recovered(file)
    assert left.rig.songs[0].tempo in (last, last + 1)  # one may be kept and not yet told
    assert left.base is not None
    assert left.base.songs[0].tempo == 50
    assert file.read_bytes() == before == left.base_text.encode()  # type: ignore[union-attr]
    assert all(name.endswith((".json", ".lock", ".tmp")) for name in folder())


def test_what_was_kept_comes_back_whole(file: Path) -> None:
    """Dates, and characters that JSON escapes, are as they were; so is the text with comments."""
    source, rig = load(file)
    rig = edits.set_song(rig, "low-fen", title='\x1b "é\U0001f3b8', tempo=92.5)
    journal = Journal(file)
    journal.write(rig, source)
    die(journal)
    (left,) = recovered(file)
    assert left.rig == rig
    assert left.path == file
    assert left.text().startswith("# mine\n")
    assert "tempo = 92.5" in left.text()


def test_a_rig_without_a_file_is_kept_too(file: Path) -> None:
    """It belongs to no file, and no file is offered it."""
    journal = Journal(None)
    journal.write(make_rig(name="New one"), None)
    die(journal)
    assert recovered(file) == []
    (left,) = recovered(None)
    assert (left.path, left.base, left.rig.name) == (None, None, "New one")
    assert 'name = "New one"' in left.text()


def test_a_program_that_ends_in_good_order_leaves_nothing(file: Path) -> None:
    """Neither journal nor lock; and one that only looked leaves no journal."""
    source, rig = load(file)
    journal = Journal(file)
    journal.write(rig, source)
    journal.clear()
    journal.clear()
    assert recovered(file) == []
    journal.close()
    assert folder() == []


def test_the_latest_of_several_crashes_comes_first(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each has a journal of its own, and forgetting one leaves the others."""
    source, rig = load(file)
    for seconds in (200.0, 300.0, 100.0):
        monkeypatch.setattr("time.time", lambda seconds=seconds: seconds)
        journal = Journal(file)
        journal.write(edits.set_song(rig, "low-fen", tempo=seconds), source)
        die(journal)
    assert [left.rig.songs[0].tempo for left in recovered(file)] == [300, 200, 100]
    forget(recovered(file)[0])
    assert [left.rig.songs[0].tempo for left in recovered(file)] == [200, 100]


def test_two_programs_at_one_file_know_of_each_other(file: Path) -> None:
    """Also where one calls it by a link or by another spelling; other files do not count."""
    link = file.parent / "link.toml"
    link.symlink_to(file)
    first = Journal(file)
    assert others_open(file, first) == 0
    second = Journal(link)
    assert others_open(link, second) == others_open(file, first) == 1
    assert others_open(file) == 2
    assert others_open(file.parent / "." / "rig.toml", second) == 1
    assert others_open(file.parent / "other.toml") == 0
    first.write(load(file)[1], None)
    assert recovered(file) == []
    first.close()
    assert others_open(link, second) == 0
    second.close()


def test_a_rig_that_comes_late_does_not_replace_a_newer_one(file: Path) -> None:
    """Rigs are written by threads, and a slow disk may hold one of them up."""
    source, rig = load(file)
    journal = Journal(file)
    early, late = journal.turn(), journal.turn()
    newer = edits.set_song(rig, "low-fen", tempo=91)
    journal.write(newer, source, late)
    journal.write(edits.set_song(rig, "low-fen", tempo=90), source, early)
    stuck = journal.turn()
    die(journal)
    assert recovered(file)[0].rig == newer
    journal.clear()
    journal.write(rig, source, stuck)
    assert recovered(file) == [], "it was saved or thrown away meanwhile"
    after = journal.turn()
    journal.close()
    journal.write(rig, source, after)
    assert recovered(file) == []


GARBLED = {
    "nothing": b"",
    "no JSON": b'{"path": ',
    "no text": b"\xff\xfe\x00",
    "no object": b"[1, 2]",
    "no rig": b'{"path": null, "base": null, "seconds": 1}',
    "a rig of a number": b'{"path": null, "base": null, "seconds": 1, "rig": 7}',
    "a bad rig": b'{"path": null, "base": null, "seconds": 1, "rig": {"format": 1}}',
    "a base of a number": b'{"path": null, "base": 7, "seconds": 1, "rig": {"name": "x"}}',
    "no time": b'{"path": null, "base": null, "seconds": "x", "rig": {"format": 1, "name": ""}}',
    "depths": b"[" * 100_000,
    "zeros after a power cut": b"\0" * 4096,
}


@pytest.mark.parametrize("content", GARBLED.values(), ids=GARBLED)
def test_a_garbled_journal_is_passed_over_and_left(file: Path, content: bytes) -> None:
    """Others are still found, and what cannot be read now may be read by somebody later."""
    source, rig = load(file)
    journal = Journal(file)
    journal.write(rig, source)
    die(journal)
    spoiled = journal._file.with_name(journal._file.name.replace("-", "-0", 1))
    spoiled.write_bytes(content)
    assert len(recovered(file)) == 1
    assert spoiled.read_bytes() == content


@pytest.mark.parametrize("seconds", ["NaN", "-5", "1e300", "Infinity"])
def test_an_odd_moment_does_not_hide_edits(file: Path, seconds: str) -> None:
    """What a sick clock has written is brought to a moment that a calendar can say."""
    source, rig = load(file)
    journal = Journal(file)
    journal.write(rig, source)
    die(journal)
    content = json.loads(journal._file.read_text())
    content["seconds"] = 77
    journal._file.write_text(json.dumps(content).replace('"seconds": 77', f'"seconds": {seconds}'))
    (left,) = recovered(file)
    assert 0 <= left.seconds <= 1e10


@pytest.mark.parametrize("call", ["open", "write", "fsync", "replace"])
def test_a_full_disk_is_told_and_keeps_the_rig_before(
    file: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    """The journal is written whole or not at all, like any file."""
    source, rig = load(file)
    journal = Journal(file)
    journal.write(rig, source)
    with monkeypatch.context() as patch:

        def full(*_: object) -> None:
            raise OSError(errno.ENOSPC, "No space left on device")

        patch.setattr(os, call, full)
        with pytest.raises(SaveError, match="the disk is full"):
            journal.write(edits.set_song(rig, "low-fen", tempo=99), source)
    die(journal)
    assert recovered(file)[0].rig == rig


def test_a_folder_cleared_away_meanwhile_is_made_anew(file: Path) -> None:
    """By whoever frees room: the next edit is kept again, and is not taken for a dead program's."""
    source, rig = load(file)
    journal = Journal(file)
    journal.write(rig, source)
    shutil.rmtree(state_folder("recovery").parent)
    newer = edits.set_song(rig, "low-fen", tempo=99)
    writer = threading.Thread(target=journal.write, args=(newer, source))
    writer.start()
    writer.join()
    assert recovered(file) == [], "it is alive, so these are its own"
    assert others_open(file) == 1
    die(journal)
    assert [left.rig for left in recovered(file)] == [newer]


def test_a_program_that_made_its_lock_anew_leaves_nothing(file: Path) -> None:
    """Neither journal nor lock, whichever thread took it."""
    source, rig = load(file)
    journal = Journal(file)
    shutil.rmtree(state_folder("recovery"))
    writer = threading.Thread(target=journal.write, args=(rig, source))
    writer.start()
    writer.join()
    journal.close()
    assert folder() == []
    assert others_open(file) == 0


def test_no_message_names_a_file_that_nobody_knows(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What went wrong is said; the journal's own name is left out."""
    source, rig = load(file)
    journal = Journal(file)

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(SaveError, match=r"^the disk is full$"):
        journal.write(rig, source)


def test_a_state_folder_that_cannot_be_made_is_told(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a sentence, for the screens to show; the program goes on."""
    monkeypatch.setenv("XDG_STATE_HOME", str(file))
    with pytest.raises(SaveError, match="can't be made: Not a directory"):
        Journal(file)


def test_a_disk_without_locks_is_told(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on some network drives."""
    import filelock

    def no_locks(*_: object, **__: object) -> None:
        raise NotImplementedError("FileSystem does not appear to support flock")

    monkeypatch.setattr(filelock.FileLock, "acquire", no_locks)
    with pytest.raises(SaveError, match="their folder can't be written: FileSystem"):
        Journal(file)


@pytest.mark.skipif(os.name != "posix", reason="modes are POSIX's")
def test_other_users_cannot_read_what_is_kept(file: Path) -> None:
    """The folder is closed to them, whatever the umask."""
    Journal(file).close()
    assert state_folder("recovery").stat().st_mode & 0o077 == 0


def test_edits_of_an_older_format_are_still_offered(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A program brought up to date after the crash brings what the old one kept up to date too."""
    from rigtui.store import migrate

    source, rig = load(file)
    journal = Journal(file)
    journal.write(edits.set_song(rig, "low-fen", tempo=77), source)
    die(journal)
    content = json.loads(journal._file.read_text())
    content["rig"]["format"] = 0
    content["base"] = content["base"].replace("format = 1", "format = 0")
    journal._file.write_text(json.dumps(content))
    assert recovered(file) == []
    monkeypatch.setitem(migrate.STEPS, 0, lambda data: dict(data))
    (left,) = recovered(file)
    assert left.rig.songs[0].tempo == 77
