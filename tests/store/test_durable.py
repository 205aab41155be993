"""What is written lasts: content before name, and the folder after it, for every kind of write."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from rigs_made import make_data, make_rig
from store.system import needs_proc

from rigtui.store.atomic import SaveError, write_atomic, write_bytes, write_new
from rigtui.store.fresh import write_fresh
from rigtui.store.in_place import restore, write_in_place
from rigtui.store.load import load
from rigtui.store.outputs import write_output
from rigtui.store.recovery import Journal
from rigtui.store.save import save
from rigtui.store.sheet_files import write_sheet
from rigtui.store.splice import dump
from rigtui.store.starter import write_starter
from rigtui.store.versions import keep

Write = Callable[[Path], object]


def save_loaded(file: Path) -> None:
    """Save a rig over the file that it came from."""
    file.write_text(dump(make_data(name="Before")))
    save(make_rig(name="After"), file, load(file)[0])


WRITES: dict[str, Write] = {
    "text": lambda file: write_atomic(file, "a = 1\n"),
    "bytes": lambda file: write_bytes(file, b"a = 1\n"),
    "a new file": lambda file: write_new(file, b"a = 1\n"),
    "a new rig": lambda file: write_fresh(file, "a = 1\n"),
    "the starter rig": write_starter,
    "a rig in place": lambda file: write_in_place(file, "a = 1\n", "a = 0\n"),
    "a restore": lambda file: restore(file, "a = 1\n"),
    "a save": save_loaded,
    "an output": lambda file: write_output(file, b"MThd", "a MIDI file", bool),
    "a sheet": lambda file: write_sheet(file.with_suffix(".md"), b"A sheet", replace=True),
    "a restore point": lambda file: keep(file, "a = 1\n"),
    "a journal": lambda file: Journal(file).write(make_rig(), None),
}


@needs_proc
def test_a_folder_that_could_not_be_synced_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The error says that the new content is there all the same; of the file's own it does not."""
    file = tmp_path / "rig.toml"
    sync = os.fsync

    def failing(of_folder: bool) -> Callable[[int], None]:
        def fsync(handle: int) -> None:
            if Path(os.readlink(f"/proc/self/fd/{handle}")).is_dir() == of_folder:
                raise OSError(errno.EIO, "Input/output error")
            sync(handle)

        return fsync

    for of_folder, text in ((False, None), (True, "a = 1\n")):
        with monkeypatch.context() as patch:
            patch.setattr(os, "fsync", failing(of_folder))
            with pytest.raises(SaveError) as error:
                write_atomic(file, "a = 1\n")
        assert error.value.landed is of_folder
        assert error.value.why == "the disk reports a fault"
        assert (file.read_text() if file.exists() else None) == text


@needs_proc
@pytest.mark.parametrize("write", WRITES.values(), ids=WRITES)
def test_content_then_name_then_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, write: Write
) -> None:
    """Each reaches the disk in this order, so that a power cut leaves the old or the new.

    Source: man 2 fsync: syncing a file does not sync the folder that names it.
    """
    steps: list[tuple[str, Path]] = []
    calls = {name: getattr(os, name) for name in ("fsync", "replace", "link")}

    def fsync(handle: int) -> None:
        steps.append(("synced", Path(os.readlink(f"/proc/self/fd/{handle}"))))
        calls["fsync"](handle)

    def naming(name: str) -> Callable[[Path, Path], None]:
        def named(second: Path, target: Path) -> None:
            assert ("synced", Path(second)) in steps, "named before its content was on the disk"
            steps.append(("named", Path(target)))
            calls[name](second, target)

        return named

    monkeypatch.setattr(os, "fsync", fsync)
    for name in ("replace", "link"):
        monkeypatch.setattr(os, name, naming(name))
    write(tmp_path / "rig.toml")
    names = [at for at, (what, _) in enumerate(steps) if what == "named"]
    assert names
    for at in names:
        assert steps[at + 1 : at + 2] == [("synced", steps[at][1].parent)]
