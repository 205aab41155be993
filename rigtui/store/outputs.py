"""Files that the program writes for others: their names, and what they may replace."""

from __future__ import annotations

import contextlib
import os
import re
import stat
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from rigtui.store.atomic import SaveError, write_bytes

_LOOKED_AT = 4096
NAME_BYTES = 255
"""The longest name that common file systems take, in bytes of UTF-8."""
_BARRED = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f-\x9f\ud800-\udfff]')
# Names of devices on Windows, whatever ending follows; the digits also raised.
_DEVICE = re.compile(r"(?:con|prn|aux|nul|(?:com|lpt)[1-9\u00b9\u00b2\u00b3])", re.IGNORECASE)


def file_names(names: Iterable[str], ending: str) -> list[str]:
    """Return a name of a file for each name: in its own folder, and fit for every system.

    A name that is fit already stays. No two come out the same, also where capitals and accents
    written in two ways count as the same. A device's name gets a dash before its ending.

    Args:
        names: What the files are about.
        ending: What comes after, with its full stop; at most 32 bytes.

    Source: Microsoft, "Naming Files, Paths, and Namespaces" (characters and devices, no full stop
    or blank at the end); The Unicode Standard, 3.13, D145 (canonical caseless matching).
    """
    made: list[str] = []
    taken: set[str] = set()
    for name in names:
        stem, number = _fit(name, ending), 1
        fit = stem + ending
        while _folded(fit) in taken:
            number += 1
            more = f"-{number}"
            fit = _fit(stem, more + ending) + more + ending
        taken.add(_folded(fit))
        made.append(fit)
    return made


def _fit(name: str, ending: str) -> str:
    """Make a name fit to stand before an ending."""
    stem = _BARRED.sub("-", unicodedata.normalize("NFC", name)).strip(". ")
    room = NAME_BYTES - len(ending.encode()) - 1  # one for the dash
    stem = stem.encode()[:room].decode(errors="ignore").rstrip(". ") or "unnamed"
    device, dot, rest = stem.partition(".")
    return f"{device.rstrip()}-{dot}{rest}" if _DEVICE.fullmatch(device.rstrip()) else stem


def _folded(name: str) -> str:
    """The same text for names that some file system takes for the same."""
    plain = unicodedata.normalize("NFD", name).upper().casefold()
    return unicodedata.normalize("NFD", plain)


def write_output(
    path: Path, content: bytes, kind: str, is_kind: Callable[[bytes], bool]
) -> str | None:
    """Write a file that was made out of a rig.

    A slip of the fingers must not cost a rig or a holiday picture: a file that is there already
    is replaced only if it is of the kind that is written.

    Args:
        path: Where to.
        content: The whole file.
        kind: What it is, for the message: "a MIDI file".
        is_kind: Whether the first 4096 bytes of a file are those of one of this kind.

    Returns:
        What to tell the player although it is written; normally nothing.

    Raises:
        SaveError: another kind of file is there, or it could not be written.
    """
    if takes_a_file(path):
        try:
            with path.open("rb") as file:
                there = file.read(_LOOKED_AT)
        except (OSError, ValueError) as error:
            raise SaveError(f"{path} can't be read: {_reason(error)}") from None
        if there and not is_kind(there):
            raise SaveError(f"{path} already exists and is not {kind}: choose another name")
    return write_bytes(path, content).note


def takes_a_file(path: Path) -> bool:
    """Whether a file is there already, where one may be written; links are followed.

    A pipe must not even be opened to find out: that would wait for whoever is at its other end.

    Raises:
        SaveError: something is there that is no file, or that cannot be told.
    """
    try:
        mode = path.stat().st_mode
    except FileNotFoundError:
        return False
    except (OSError, ValueError) as error:
        raise SaveError(f"{path} can't be read: {_reason(error)}") from None
    if stat.S_ISDIR(mode):
        raise SaveError(f"{path} is a folder: give the file a name")
    if not stat.S_ISREG(mode):
        raise SaveError(
            f"{path} is a pipe or a device, not a file: name a file, or - for standard output"
        )
    return True


@contextlib.contextmanager
def made_folder(folder: Path) -> Iterator[None]:
    """Make a folder for files, and take it away again if none comes into it.

    Raises:
        SaveError: it cannot be made.
    """
    there = os.path.lexists(folder)
    try:
        folder.mkdir(exist_ok=True)
    except FileExistsError:
        raise SaveError(f"{folder} is not a folder: choose another name") from None
    except NotADirectoryError:
        raise SaveError(f"{folder.parent} is not a folder: choose another one") from None
    except FileNotFoundError:
        raise SaveError(f"there is no folder {folder.parent}; make it first") from None
    except (OSError, ValueError) as error:
        raise SaveError(f"the folder {folder} can't be made: {_reason(error)}") from None
    try:
        yield
    finally:
        if not there:
            with contextlib.suppress(OSError):  # it is not empty
                folder.rmdir()


def _reason(error: OSError | ValueError) -> str:
    return error.strerror if isinstance(error, OSError) and error.strerror else str(error)
