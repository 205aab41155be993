"""Files of other format versions: newer ones are looked at only, older ones brought up to date."""

from __future__ import annotations

import errno
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from rigtui.model import edits
from rigtui.model.errors import BadRigError
from rigtui.store import migrate
from rigtui.store.atomic import SaveError
from rigtui.store.formats import is_newer, rig_to_look_at
from rigtui.store.load import load, read_plain
from rigtui.store.save import save
from rigtui.store.versions import versions

NEWER = """\
format = 2
name = "From the future"
colour = "red"
[amp]
name = "Combo"
watts = [1, { deep = [true] }]
[[songs]]
id = "low-fen"
tempo = 118
lights = { wash = 3 }
sections = [ { name = "Verse", bars = 8, mood = "low" }, { name = "Solo", bars = 4 } ]
[[setlists]]
id = "friday"
sets = [ { songs = ["low-fen"], doors = 19:30:00 } ]
[[machines]]
id = "fog"
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A file of a newer format."""
    path = tmp_path / "rig.toml"
    path.write_text(NEWER, encoding="utf-8")
    return path


def test_a_newer_file_is_shown_as_far_as_it_is_understood(file: Path) -> None:
    """Keys that this program does not know are left out, at any depth, and the reason is told."""
    rig, reason = rig_to_look_at(read_plain(file))
    assert reason is not None
    assert "rig.toml has format 2, which is newer than this program" in reason
    assert "Update rigtui" in reason
    assert [section.name for section in rig.songs[0].sections] == ["Verse", "Solo"]
    assert rig.setlists[0].song_ids == ("low-fen",)


def test_a_newer_file_cannot_be_read_as_ours(file: Path) -> None:
    """Reports and plans would be wrong about it: they refuse, and say what would read it."""
    with pytest.raises(
        BadRigError, match="line 1: format: must be 1, not 2: you need a newer rigtui"
    ):
        load(file)


def test_a_newer_file_that_is_not_understood_is_refused(file: Path) -> None:
    """Where a key has another meaning than it had, nothing is shown wrongly."""
    file.write_text(NEWER.replace("bars = 8", 'bars = "eight"'), encoding="utf-8")
    with pytest.raises(BadRigError) as error:
        rig_to_look_at(read_plain(file))
    assert 'songs.low-fen.sections.0.bars: must be a number, not "eight"' in str(error.value)
    assert "you need a newer rigtui to read it" in str(error.value)


@pytest.mark.parametrize(
    ("version", "newer"),
    [(1, False), (2, True), (10**30, True), (True, False), ("2", False), (2.0, False), (0, False)],
)
def test_only_a_greater_whole_number_is_newer(version: Any, newer: bool) -> None:
    """Anything else is a bad file, and told as one."""
    assert is_newer({"format": version}) is newer


def test_a_file_of_todays_format_is_as_ever(file: Path) -> None:
    """It may be edited, and unknown keys in it are faults."""
    file.write_text("format = 1\nname = 'x'\n", encoding="utf-8")
    rig, reason = rig_to_look_at(read_plain(file))
    assert (rig.name, reason) == ("x", None)
    file.write_text("format = 1\nname = 'x'\ncolour = 1\n", encoding="utf-8")
    with pytest.raises(BadRigError, match="unknown key"):
        rig_to_look_at(read_plain(file))


# No older format was ever published, so the way from one is put in for these tests.
OLDER = (
    "# kept\nformat = 0\ntitle = 'Old one' # as it was called\n\n[[songs]]\nid = 'a'\ntempo = 90\n"
)


def _step(data: Mapping[str, Any]) -> dict[str, Any]:
    """Format 0 called the name a title."""
    return {("name" if key == "title" else key): value for key, value in data.items()}


@pytest.fixture
def older(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A file of an older format, and the way on from it."""
    monkeypatch.setitem(migrate.STEPS, 0, _step)
    path = tmp_path / "rig.toml"
    path.write_text(OLDER, encoding="utf-8")
    return path


def test_an_older_file_is_read_and_left_as_it_is(older: Path) -> None:
    """Opening it changes nothing on disk."""
    source, rig = load(older)
    assert (rig.format, rig.name, rig_to_look_at(source)[1]) == (1, "Old one", None)
    assert older.read_text(encoding="utf-8") == OLDER
    assert versions(older) == []


def test_saving_an_older_file_keeps_the_old_text_first(older: Path) -> None:
    """The file is of today's format then, its comments kept where their lines still stand."""
    source, rig = load(older)
    save(edits.set_song(rig, "a", tempo=91), older, source)
    text = older.read_text(encoding="utf-8")
    assert text.startswith("# kept\nformat = 1\n")
    assert "tempo = 91" in text
    assert load(older)[1].name == "Old one"
    assert [version.text for version in versions(older)] == [text, OLDER]
    old = versions(older)[1].rig()
    assert old is not None
    assert old.songs[0].tempo == 90


def test_without_a_restore_point_an_older_file_is_not_written(
    older: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The way back is made before the way on."""
    source, rig = load(older)

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(SaveError, match="the disk is full"):
        save(rig, older, source)
    assert older.read_text(encoding="utf-8") == OLDER


def test_steps_follow_each_other(monkeypatch: pytest.MonkeyPatch) -> None:
    """From the oldest to the newest, one at a time; what has no step stays as it is."""
    for version in (-2, -1, 0):
        monkeypatch.setitem(
            migrate.STEPS,
            version,
            lambda data: {**data, "note": data["note"] + str(data["format"])},
        )
    data = migrate.up_to_date({"format": -2, "note": ""})
    assert data == {"format": 1, "note": "-2-10"}
    for odd in ({"format": 5}, {"format": False}, {"format": "0"}, {}):
        assert migrate.up_to_date(odd) is odd
