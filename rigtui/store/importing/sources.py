"""Read a file to take songs from: find out its kind and return its content, within limits."""

from __future__ import annotations

import codecs
import stat
from pathlib import Path

from rigtui.model.text import visible
from rigtui.store.importing.draft import Draft, ImportFault, Kind

MAX_TEXT_BYTES = 8 * 1024 * 1024
MAX_MIDI_BYTES = 2 * 1024 * 1024
_ENDINGS: dict[str, Kind] = {
    ".cho": "chordpro", ".chopro": "chordpro", ".chordpro": "chordpro", ".crd": "chordpro",
    ".pro": "chordpro", ".mid": "midi", ".midi": "midi", ".smf": "midi", ".kar": "midi",
    ".csv": "csv", ".tsv": "csv", ".toml": "rig", ".txt": "list", ".list": "list",
}  # fmt: skip
_MARKS = (
    (codecs.BOM_UTF32_LE, "utf-32"),  # before UTF-16, whose mark it begins with
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def read_source(path: Path, kind: Kind | None = None) -> Draft:
    """Read songs out of a file.

    Args:
        path: The file.
        kind: What it is; by its name's ending if left out.

    Raises:
        ImportFault: it cannot be read, or is not what it should be.
        BadRigError: it is a rig file with faults.
    """
    kind = kind or kind_of(path)
    if kind == "rig":
        return _rig(path)
    content = _content(path, MAX_MIDI_BYTES if kind == "midi" else MAX_TEXT_BYTES)
    return read_content(content, kind, visible(path.stem)[:200] or "song")


def read_content(content: bytes, kind: Kind, name: str) -> Draft:
    """Read songs out of what stood in a file, or came down a pipe.

    Args:
        content: The whole of it.
        kind: What it is; not another rig, which is a file.
        name: What a song without a title is called.

    Raises:
        ImportFault: it is not what it should be.
    """
    if len(content) > (MAX_MIDI_BYTES if kind == "midi" else MAX_TEXT_BYTES):
        raise ImportFault("it is too large")
    if kind == "midi":
        from rigtui.store.importing.smf import read_smf

        return read_smf(content, name)
    text = text_of(content)
    if kind == "list":
        from rigtui.store.importing.title_list import read_list

        return read_list(text)
    if kind == "csv":
        from rigtui.store.importing.csv_songs import read_csv

        return read_csv(text)
    from rigtui.store.importing.chordpro import read_chordpro

    return read_chordpro(text, name)


def kind_of(path: Path) -> Kind:
    """Tell what a file is by its name.

    Raises:
        ImportFault: its name does not say it.
    """
    kind = _ENDINGS.get(path.suffix.lower())
    if kind is None:
        raise ImportFault(
            "its name doesn't say what it is: add --as chordpro, midi, csv, rig or "
            f"list (known endings: {', '.join(_ENDINGS)})"
        )
    return kind


def text_of(content: bytes) -> str:
    """Decode text: by its byte order mark, else UTF-8, else Latin-1.

    Source: the ChordPro pages name ASCII, ISO 8859-1, UTF-8, UTF-16 and UTF-32.

    Raises:
        ImportFault: the bytes are no text.
    """
    encoding = next((name for mark, name in _MARKS if content.startswith(mark)), None)
    try:
        text = content.decode(encoding or "utf-8")
    except UnicodeDecodeError:
        if encoding is not None:
            raise ImportFault("it is not text: its bytes are damaged") from None
        text = content.decode("latin-1")
    if any(char in text for char in "\0\x01\x02\x03\x04\x05\x06\x07"):
        raise ImportFault("it is not text: it has bytes that text never has")
    if not text.strip():
        raise ImportFault("it is empty")
    return text


def _rig(path: Path) -> Draft:
    from rigtui.store.importing.rig_songs import rig_draft
    from rigtui.store.load import load

    return rig_draft(load(path)[1])


def _content(path: Path, limit: int) -> bytes:
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise ImportFault("it is a folder")
        if not stat.S_ISREG(status.st_mode):
            raise ImportFault("it is not an ordinary file")
        with path.open("rb") as file:
            content = file.read(limit + 1)
    except FileNotFoundError:
        raise ImportFault("it does not exist") from None
    except PermissionError:
        raise ImportFault("it can't be read: ask its owner for read permission") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise ImportFault(f"it can't be read: {reason}") from None
    if len(content) > limit:
        raise ImportFault(f"it is too large: the most is {limit // 1024 // 1024} MB")
    if not content:
        raise ImportFault("it is empty")
    return content
