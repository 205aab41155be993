"""Files made for others replace only files of their own kind."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigtui.store.atomic import SaveError
from rigtui.store.outputs import write_output


def is_midi(head: bytes) -> bool:
    """Whether a file begins like a MIDI file."""
    return head.startswith(b"MThd")


@pytest.mark.parametrize("there", [None, b"", b"MThd older"])
def test_written_where_nothing_is_lost(tmp_path: Path, there: bytes | None) -> None:
    """A new name, an empty file and an older file of the kind are written."""
    path = tmp_path / "a.mid"
    if there is not None:
        path.write_bytes(there)
    write_output(path, b"MThd new", "a MIDI file", is_midi)
    assert path.read_bytes() == b"MThd new"


def test_another_kind_of_file_is_left_alone(tmp_path: Path) -> None:
    """A rig named by mistake is still the rig afterwards."""
    path = tmp_path / "rig.toml"
    path.write_bytes(b"format = 1")
    with pytest.raises(SaveError, match=r"rig\.toml is there already and is not a MIDI file"):
        write_output(path, b"MThd new", "a MIDI file", is_midi)
    assert path.read_bytes() == b"format = 1"


@pytest.mark.parametrize(
    ("name", "says"),
    [(".", "is a folder"), ("no/such/a.mid", "folder is not there"), ("a\0b", "cannot be")],
)
def test_places_that_take_no_file(tmp_path: Path, name: str, says: str) -> None:
    """A folder, a missing folder and a name that cannot be are refused with the reason."""
    with pytest.raises(SaveError, match=says):
        write_output(tmp_path / name, b"MThd", "a MIDI file", is_midi)
    assert list(tmp_path.iterdir()) == []
