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
from rigtui.store.atomic import SaveError, write_atomic
from rigtui.store.fingerprint import changed_since
from rigtui.store.load import BOM, Source
from rigtui.store.splice import dump, rewrite


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
    try:
        if reads_back and rig_from_data(data) == rig:
            return made
    except BadRigError:
        pass
    raise SaveError("the file would not read back as it is here, so it was not written")


def save(
    rig: Rig, path: Path, source: Source | None, overwrite: bool = False
) -> tuple[Source, tuple[str, ...]]:
    """Write a rig, whole or not at all.

    Args:
        rig: What to write.
        path: Where to.
        source: The file it came from, whose comments and layout are kept; None writes afresh.
        overwrite: Write even over a file that is not as `source` was read.

    Returns:
        The file as it now is, and the tables whose comments could not be kept (normally none).

    Raises:
        ChangedOnDiskError: there is another file than the one read, and `overwrite` is false.
        SaveError: it could not be written; what was there is still there.
    """
    made = draft(rig, source)
    if not overwrite:
        _check_unchanged(path, source)
    mark = write_atomic(path, made.text)
    return Source(path, made.text, made.data, mark), made.rewritten


def _check_unchanged(path: Path, source: Source | None) -> None:
    if not path.exists():
        return
    if source is None or os.path.realpath(path) != os.path.realpath(source.path):
        raise ChangedOnDiskError(f"{path.name} exists already")
    if changed_since(path, source.print):
        raise ChangedOnDiskError(f"{path.name} was changed by another program meanwhile")
