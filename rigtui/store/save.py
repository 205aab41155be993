"""Writing a rig: into the file that it came from, or into a new one."""

from __future__ import annotations

import os
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rigtui.model.errors import BadRigError
from rigtui.model.rig import Rig
from rigtui.model.validate import rig_from_data, rig_to_data
from rigtui.store.align import same
from rigtui.store.atomic import SaveError, real_path, refusal
from rigtui.store.fingerprint import Fingerprint, changed_since
from rigtui.store.fresh import write_fresh
from rigtui.store.in_place import write_in_place
from rigtui.store.load import BOM, MAX_BYTES, Source
from rigtui.store.migrate import is_older
from rigtui.store.splice import dump, rewrite


class ChangedOnDiskError(SaveError):
    """Another program has changed the file since it was read."""


class GoneError(ChangedOnDiskError):
    """The file that was read is not there any more, or the disk that it was on is not."""


@dataclass(frozen=True)
class RigText:
    """A rig as the text of a file.

    Attributes:
        text: The file's text.
        data: What the text means, as plain data.
        rewritten: Tables that had to be written afresh, so that comments in them are lost;
            normally none.
    """

    text: str
    data: dict[str, Any]
    rewritten: tuple[str, ...] = ()

    @property
    def notes(self) -> tuple[str, ...]:
        """What to tell the player who writes it; normally nothing."""
        if not self.rewritten:
            return ()
        return (f"comments in {', '.join(self.rewritten)} could not be kept",)


def rig_text(rig: Rig, source: Source | None) -> RigText:
    """Return the text that a save would write, checked to read back as this very rig.

    Args:
        rig: What to write.
        source: The file it came from, whose comments and layout are kept; None writes afresh.

    Raises:
        SaveError: the text would not read back as the rig (nothing is written then).
    """
    data = rig_to_data(rig)
    if source is None:
        made = RigText(dump(data), data)
    else:
        plain, mark = source.text.removeprefix(BOM), BOM * source.text.startswith(BOM)
        new = rewrite(plain, data, source.data)
        made = RigText(mark + new.text, data, new.rewritten)
    if len(made.text) > MAX_BYTES // 4 and len(made.text.encode("utf-8", "replace")) > MAX_BYTES:
        raise SaveError(
            f"the file would be over {MAX_BYTES // 1024 // 1024} MB, more than rigtui "
            "reads, so it was not written"
        )
    why = ""
    try:
        # What keeps a file's comments has been read back already; what is written afresh has not.
        careful = source is not None and not made.rewritten
        reads_back = careful or same(tomllib.loads(made.text.removeprefix(BOM)), data)
        if reads_back and rig_from_data(data) == rig:
            return made
    except tomllib.TOMLDecodeError as error:
        why = f": {error}"
    except BadRigError as error:
        why = f": {error.problems[0].text()}"
    raise SaveError(f"the file would not read back the same, so it was not written{why}")


def save(
    rig: Rig,
    path: Path,
    source: Source | None,
    overwrite: bool = False,
    seen: Fingerprint | None = None,
) -> tuple[Source, tuple[str, ...]]:
    """Write a rig, whole or not at all.

    Args:
        rig: What to write.
        path: Where to.
        source: The file it came from, whose comments and layout are kept; None writes afresh.
        overwrite: Write even where the file is not as `source` was read, or is gone.
        seen: What the file was like when the player said that it may be written over; a file that
            has changed once more since is not.

    Returns:
        The file as it now is, and what to tell the player although it is saved: normally nothing.

    Raises:
        GoneError: the file that was read is gone, and `overwrite` is false.
        ChangedOnDiskError: there is another file than the one read, and `overwrite` is false, or
            it is not the one that the player has `seen`.
        SaveError: it could not be written; what was there is still there. Also where a file of an
            older format, which is written anew, could not be kept as a restore point first.
    """
    made = rig_text(rig, source)

    def look() -> None:
        if not overwrite:
            _check_unchanged(path, source)
        elif seen is not None and os.path.exists(path) and changed_since(path, seen):
            raise ChangedOnDiskError(f"another program changed {path.name} again meanwhile")

    look()
    read = source.text if source is not None and _is_file_of(path, source) else None
    older = source is not None and is_older(source.data)
    # A second look last of all: keeping restore points takes time, in which others may write.
    mark, notes = write_in_place(path, made.text, read, must_keep=older, last_look=look)
    return Source(path, made.text, made.data, mark), (*notes, *made.notes)


def save_new(rig: Rig, path: Path, source: Source) -> tuple[str, ...]:
    """Write a rig into a file that is not there yet, and return what to tell the player.

    Args:
        rig: What to write.
        path: Where to; never over anything.
        source: The file whose comments and layout it gets.

    Raises:
        SaveError: something is there already, or it could not be written; without the file's name.
    """
    made = rig_text(rig, source)
    write_fresh(path, made.text)
    return made.notes


def _is_file_of(path: Path, source: Source) -> bool:
    """Whether a path leads to the file that was read.

    Raises:
        SaveError: that cannot be told.
    """
    try:
        return real_path(path) == real_path(source.path)
    except (OSError, ValueError) as error:
        raise refusal(path, error) from error


def is_gone(source: Source) -> str | None:
    """Say that a file which was read is not there, or not within reach; None if it is there.

    A folder that a drive leaves behind when it is unplugged looks empty, and takes files: only
    its number tells it from the drive's own.
    """
    name = source.path.name
    try:
        source.path.stat()
    except (FileNotFoundError, NotADirectoryError):
        pass
    except (OSError, ValueError) as error:
        return f"{name} is out of reach: {refusal(source.path, error).reason}"
    else:
        return None
    try:
        other_disk = real_path(source.path).parent.stat().st_dev != source.print.device
    except OSError:
        return f"the folder of {name}, or its drive, is gone"
    if other_disk:
        return f"the drive with {name} is gone"
    return f"{name} is gone: it was deleted, moved or renamed"


def _check_unchanged(path: Path, source: Source | None) -> None:
    its_own = source is not None and _is_file_of(path, source)
    if not os.path.exists(path):  # also where it cannot be told; writing it will then say why
        if source is not None and its_own and os.path.isdir(real_path(path).parent):
            raise GoneError(is_gone(source))
        return
    if source is None or not its_own:
        raise ChangedOnDiskError(f"{path.name} already exists")
    if changed_since(path, source.print):
        raise ChangedOnDiskError(f"another program changed {path.name} meanwhile")
