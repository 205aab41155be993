"""Files that the program makes for others: written over only by one of their own kind."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from rigtui.store.atomic import SaveError, write_bytes

_LOOKED_AT = 4096


def write_output(path: Path, content: bytes, kind: str, is_kind: Callable[[bytes], bool]) -> None:
    """Write a file that was made out of a rig.

    A slip of the fingers must not cost a rig or a holiday picture: a file that is there already
    is replaced only if it is of the kind that is written.

    Args:
        path: Where to.
        content: The whole file.
        kind: What it is, for the message: "a MIDI file".
        is_kind: Whether the first 4096 bytes of a file are those of one of this kind.

    Raises:
        SaveError: another kind of file is there, or it could not be written.
    """
    try:
        with path.open("rb") as file:
            there = file.read(_LOOKED_AT)
    except FileNotFoundError:
        pass
    except IsADirectoryError:
        raise SaveError(f"{path} is a folder: give the file a name") from None
    except (OSError, ValueError) as error:
        raise SaveError(f"{path} cannot be looked at: {_reason(error)}") from None
    else:
        if there and not is_kind(there):
            raise SaveError(f"{path} is there already and is not {kind}: choose another name")
    write_bytes(path, content)


def _reason(error: OSError | ValueError) -> str:
    return error.strerror if isinstance(error, OSError) and error.strerror else str(error)
