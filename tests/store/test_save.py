"""Saving a rig: never over what another program wrote, and never what could not be read."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from rigs_made import make_data, song
from store.system import in_own_mounts

from rigtui.model import edits
from rigtui.store import load as loading
from rigtui.store import save as saving
from rigtui.store import splice
from rigtui.store.atomic import SaveError
from rigtui.store.load import load
from rigtui.store.save import ChangedOnDiskError, GoneError, is_gone, save
from rigtui.store.splice import dump
from rigtui.store.versions import versions


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A rig file."""
    path = tmp_path / "rig.toml"
    path.write_text(dump(make_data(songs=[song("a", tempo=60)])), encoding="utf-8")
    return path


def test_what_another_program_wrote_is_not_written_over(file: Path) -> None:
    """It is told apart by content: also where size and time are the same."""
    source, rig = load(file)
    theirs = file.read_text().replace("60", "61")
    file.write_text(theirs)
    with pytest.raises(ChangedOnDiskError, match=r"another program changed rig.toml"):
        save(edits.set_song(rig, "a", tempo=99), file, source)
    assert file.read_text() == theirs


def test_a_file_that_is_gone_is_not_written_anew_unasked(file: Path, tmp_path: Path) -> None:
    """Deleted, moved, or its folder with it: each in its words; on purpose it is written."""
    source, rig = load(file)
    rig = edits.set_song(rig, "a", tempo=99)
    file.unlink()
    assert is_gone(source) == "rig.toml is gone: it was deleted, moved or renamed"
    with pytest.raises(GoneError, match=r"^rig.toml is gone"):
        save(rig, file, source)
    assert not file.exists()
    save(rig, file, source, overwrite=True, seen=source.print)
    assert load(file)[1] == rig
    assert is_gone(load(file)[0]) is None
    gone = replace(source, path=tmp_path / "stick" / "rig.toml")
    assert is_gone(gone) == ("the folder of rig.toml, or its drive, is gone")
    with pytest.raises(SaveError, match="the folder doesn't exist: make it, or save under another"):
        save(rig, gone.path, gone)


def test_a_file_that_came_back_otherwise_is_not_written_over(file: Path) -> None:
    """The player said to write it anew while it was gone, and somebody was quicker."""
    source, rig = load(file)
    theirs = file.read_text().replace("60", "61")
    file.write_text(theirs)
    with pytest.raises(ChangedOnDiskError, match="again meanwhile"):
        save(rig, file, source, overwrite=True, seen=source.print)
    assert file.read_text() == theirs


def test_a_drive_that_was_unplugged_is_told_from_a_deleted_file(tmp_path: Path) -> None:
    """The empty folder that it leaves is on another disk, and nothing is written there."""
    shown = in_own_mounts("""
    from dataclasses import replace
    from pathlib import Path
    import subprocess, sys
    from rigtui.store.load import load
    from rigtui.store.save import GoneError, save
    from rigtui.store.starter import write_starter
    stick = Path(sys.argv[1]) / "stick"
    stick.mkdir()
    subprocess.run(["mount", "-t", "tmpfs", "none", str(stick)], check=True)
    write_starter(stick / "rig.toml")
    source, rig = load(stick / "rig.toml")
    subprocess.run(["umount", str(stick)], check=True)
    try:
        save(rig, stick / "rig.toml", source)
    except GoneError as error:
        print(error)
    print(list(stick.iterdir()))
    """, tmp_path)  # fmt: skip
    assert shown.splitlines() == [
        "the drive with rig.toml is gone",
        "[]",
    ]


def test_what_is_written_over_on_purpose_is_kept_first(file: Path) -> None:
    """As a restore point of that file; also where it is no rig at all."""
    source, rig = load(file)
    for theirs in (file.read_text().replace("60", "61"), "no rig\n"):
        file.write_text(theirs)
        source, _ = save(edits.set_song(rig, "a", tempo=99), file, source, overwrite=True)
        assert theirs in [version.text for version in versions(file)]
    assert "tempo = 99" in file.read_text()


def test_another_file_is_not_written_over(file: Path) -> None:
    """Saving under a name that is taken asks first; what was there is kept when it is let go."""
    source, rig = load(file)
    other = file.with_name("other.toml")
    other.write_text("precious\n")
    for came_from in (source, None):
        with pytest.raises(ChangedOnDiskError, match=r"other.toml already exists"):
            save(rig, other, came_from)
    assert other.read_text() == "precious\n"
    save(rig, other, source, overwrite=True)
    assert [version.text for version in versions(other)] == [other.read_text(), "precious\n"]


def test_a_drive_that_went_away_is_told(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever is asked about its files answers with a fault; the player hears one sentence."""
    source, rig = load(file)

    def gone(*_: object, **__: object) -> None:
        raise OSError(112, "Host is down")

    monkeypatch.setattr("os.stat", gone)
    with pytest.raises(SaveError, match=r"rig.toml was not written: host is down"):
        save(edits.set_song(rig, "a", tempo=99), file, source)
    assert is_gone(source) == "rig.toml is out of reach: host is down"


@pytest.mark.parametrize("spoiled", ['name = "other"\n', "= no TOML"])
def test_what_is_written_afresh_is_read_back(
    file: Path, monkeypatch: pytest.MonkeyPatch, spoiled: str
) -> None:
    """Of a new file, and of one that cannot be edited in place: a wrong text is never written."""
    source, rig = load(file)
    before = file.read_text()
    rig = edits.set_song(rig, "a", tempo=99)
    monkeypatch.setattr(splice, "TableEditor", None)
    monkeypatch.setattr(splice, "dump", lambda *_: spoiled)
    monkeypatch.setattr(saving, "dump", lambda *_: spoiled)
    for path, came_from in ((file, source), (file.with_name("new.toml"), None)):
        with pytest.raises(SaveError, match="would not read back the same"):
            save(rig, path, came_from)
    assert file.read_text() == before
    assert [path.name for path in file.parent.iterdir()] == ["rig.toml"]


def test_a_rig_that_could_not_be_read_again_is_not_written(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where it breaks a limit the message says which."""
    source, rig = load(file)
    before = file.read_text()
    grown = rig.model_copy(update={"songs": rig.songs * 2})
    with pytest.raises(SaveError, match=r'was not written: songs.a.id: id "a" is used twice'):
        save(grown, file, source)
    for module in (loading, saving):
        monkeypatch.setattr(module, "MAX_BYTES", 100)
    with pytest.raises(SaveError, match="more than rigtui reads, so it was not written"):
        save(rig.model_copy(update={"note": "x" * 101}), file, source)
    assert file.read_text() == before
