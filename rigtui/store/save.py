"""Writing a rig: into the file that it came from, or into a new one."""

from __future__ import annotations

import contextlib
import os
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rigtui.model.errors import BadRigError, RigError
from rigtui.model.rig import Rig
from rigtui.model.validate import rig_from_data, rig_to_data
from rigtui.store.atomic import SaveError, real_path, refusal, write_atomic
from rigtui.store.fingerprint import Fingerprint, changed_since
from rigtui.store.load import BOM, MAX_BYTES, Source
from rigtui.store.migrate import is_older
from rigtui.store.splice import dump, rewrite
from rigtui.store.versions import keep, keep_what_is_there


class ChangedOnDiskError(SaveError):
    """Another program has changed the file since it was read."""


@dataclass(frozen=True)
class Draft:
    """What a save would write.

    Attributes:
        text: The file's text.
        data: What the text means, as plain data.
        rewritten: Tables that had to be written afresh, so that comments in them are lost;
            normally none.
    """

    text: str
    data: dict[str, Any]
    rewritten: tuple[str, ...] = ()


def draft(rig: Rig, source: Source | None) -> Draft:
    """Return the text that a save would write, checked to read back as this very rig.

    Args:
        rig: What to write.
        source: The file it came from, whose comments and layout are kept; None writes afresh.

    Raises:
        SaveError: the text would not read back as the rig (nothing is written then).
    """
    data = rig_to_data(rig)
    if source is None:
        made = Draft(dump(data), data)
        reads_back = tomllib.loads(made.text) == data
    else:
        # `rewrite` has read its text back and compared it with the data.
        plain, mark = source.text.removeprefix(BOM), BOM * source.text.startswith(BOM)
        new = rewrite(plain, data, source.data)
        made = Draft(mark + new.text, data, new.rewritten)
        reads_back = True
    if len(made.text) > MAX_BYTES // 4 and len(made.text.encode("utf-8", "replace")) > MAX_BYTES:
        raise SaveError(
            f"the file would be over {MAX_BYTES // 1024 // 1024} MB, the most that is read, so it "
            "was not written"
        )
    why = ""
    try:
        if reads_back and rig_from_data(data) == rig:
            return made
    except BadRigError as error:
        why = f": {error.problems[0].text()}"
    raise SaveError(f"the file would not read back as it is here, so it was not written{why}")


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
        overwrite: Write even over a file that is not as `source` was read; what it holds is then
            kept as a restore point, where that can be done.
        seen: What the file was like when the player said that it may be written over; a file that
            has changed once more since is not.

    Returns:
        The file as it now is, and the tables whose comments could not be kept (normally none).

    Raises:
        ChangedOnDiskError: there is another file than the one read, and `overwrite` is false, or
            it is not the one that the player has `seen`.
        SaveError: it could not be written; what was there is still there. Also where a file of an
            older format, which is written anew, could not be kept as a restore point first.
    """
    made = draft(rig, source)
    if not overwrite:
        _check_unchanged(path, source)
    elif not _is_as_read(path, source):
        with contextlib.suppress(RigError, OSError):  # the player has said to write over it
            keep_what_is_there(path)
    if source is not None and is_older(source.data):
        keep(path, source.text)
    # Last of all, so that as little as can be happens between this look and the write.
    if overwrite and seen is not None and os.path.exists(path) and changed_since(path, seen):
        raise ChangedOnDiskError(f"{path.name} was changed once more by another program meanwhile")
    mark = write_atomic(path, made.text)
    return Source(path, made.text, made.data, mark), made.rewritten


def _is_as_read(path: Path, source: Source | None) -> bool:
    return (
        source is not None and _is_file_of(path, source) and not changed_since(path, source.print)
    )


def _is_file_of(path: Path, source: Source) -> bool:
    """Whether a path leads to the file that was read.

    Raises:
        SaveError: that cannot be told.
    """
    try:
        return real_path(path) == real_path(source.path)
    except (OSError, ValueError) as error:
        raise refusal(path, error) from error


def _check_unchanged(path: Path, source: Source | None) -> None:
    if not os.path.exists(path):  # also where it cannot be told; writing it will then say why
        return
    if source is None or not _is_file_of(path, source):
        raise ChangedOnDiskError(f"{path.name} exists already")
    if changed_since(path, source.print):
        raise ChangedOnDiskError(f"{path.name} was changed by another program meanwhile")
