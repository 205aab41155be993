"""Reading a file to take songs from: its kind, its text, and what is no such file."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from rigtui.model.errors import BadRigError
from rigtui.store.importing.draft import ImportFault
from rigtui.store.importing.sources import MAX_MIDI_BYTES, kind_of, read_source, text_of


@pytest.mark.parametrize(
    ("name", "kind"),
    [("a.cho", "chordpro"), ("a.CRD", "chordpro"), ("a.pro", "chordpro"), ("a.mid", "midi"),
     ("a.MIDI", "midi"), ("a.csv", "csv"), ("a.tsv", "csv"), ("a.toml", "rig")],
)  # fmt: skip
def test_the_ending_tells_the_kind(name: str, kind: str) -> None:
    """Capitals do not matter."""
    assert kind_of(Path(name)) == kind


@pytest.mark.parametrize("name", ["a", "a.doc", ".mid"])
def test_another_ending_is_asked_about(name: str) -> None:
    """What it holds, nobody knows."""
    with pytest.raises(ImportFault, match="add --as chordpro, midi, csv, rig or list"):
        kind_of(Path(name))


# Source: the ChordPro cheat sheet names these encodings.
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-32", "latin-1"])
def test_encodings(encoding: str) -> None:
    """A byte order mark decides; without one, UTF-8 if it is that, else Latin-1."""
    assert text_of("{t: Größe}".encode(encoding)) == "{t: Größe}"


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"\0\1\2", "not text"),
        (b"\x89PNG\r\n\x1a\n\0\0", "not text"),
        (b"\xff\xfe\x00", "not text: its bytes are damaged"),
        (b"   \n", "empty"),
    ],
)
def test_what_is_no_text(content: bytes, says: str) -> None:
    """Bytes that no text has are refused."""
    with pytest.raises(ImportFault, match=says):
        text_of(content)


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    """Missing, empty, a folder, a pipe, too large: each in a sentence."""
    os.mkfifo(tmp_path / "pipe.mid")
    (tmp_path / "empty.cho").touch()
    with (tmp_path / "large.mid").open("wb") as file:
        file.truncate(MAX_MIDI_BYTES + 1)
    for name, says in {
        "gone.mid": "does not exist",
        "empty.cho": "is empty",
        "pipe.mid": "not an ordinary file",
        "large.mid": "too large: the most is 2 MB",
        "a\0.cho": "can't be read",
        "x" * 300 + ".cho": "can't be read: File name too long",
    }.items():
        with pytest.raises(ImportFault, match=says):
            read_source(tmp_path / name)
    with pytest.raises(ImportFault, match="is a folder"):
        read_source(tmp_path, "csv")


def test_a_bad_rig_lists_its_faults(tmp_path: Path) -> None:
    """As it does everywhere else."""
    path = tmp_path / "bad.toml"
    path.write_text("format = 1\n")
    with pytest.raises(BadRigError, match="name: is missing"):
        read_source(path)


def test_a_song_without_title_is_called_after_its_file(tmp_path: Path) -> None:
    """With what would act on a terminal made visible."""
    path = tmp_path / "low\x1bfen.cho"
    path.write_text("{sov}\nla\n{eov}\n")
    assert read_source(path).songs[0].title == "low␛fen"


def test_text_may_be_as_large_as_eight_megabytes(tmp_path: Path) -> None:
    """No file of songs comes near; a byte more is refused before it is read as songs."""
    path = tmp_path / "songs.cho"
    text = b"{title: Low Fen}\n{sov}\nla\n{eov}\n"
    path.write_bytes(text.ljust(8 * 1024 * 1024, b"\n"))
    assert [song.title for song in read_source(path).songs] == ["Low Fen"]
    with path.open("ab") as file:
        file.write(b"\n")
    with pytest.raises(ImportFault, match="too large: the most is 8 MB"):
        read_source(path)
