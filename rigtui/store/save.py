"""Writing a rig: into the file that it came from, or into a new one."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

from rigtui.model.errors import BadRigError
from rigtui.model.rig import Rig
from rigtui.model.validate import rig_from_data, rig_to_data
from rigtui.store.atomic import SaveError, write_atomic
from rigtui.store.fingerprint import changed_since
from rigtui.store.load import BOM, Source
from rigtui.store.splice import dump, rewrite


class ChangedOnDiskError(SaveError):
    """Another program has changed the file since it was read."""


def text_of(rig: Rig, source: Source | None) -> str:
    """Return the text that a save would write, checked to read back as this very rig.

    Args:
        rig: What to write.
        source: The file it came from, whose comments and layout are kept; None writes afresh.

    Raises:
        SaveError: the text would not read back as the rig (nothing is written then).
    """
    data = rig_to_data(rig)
    mark = BOM if source and source.text.startswith(BOM) else ""
    text = mark + (rewrite(source.text.removeprefix(BOM), data).text if source else dump(data))
    try:
        if rig_from_data(tomllib.loads(text.removeprefix(BOM))) == rig:
            return text
    except (tomllib.TOMLDecodeError, BadRigError):
        pass
    raise SaveError("the file would not read back as it is here, so it was not written")


def save(rig: Rig, path: Path, source: Source | None, overwrite: bool = False) -> Source:
    """Write a rig, whole or not at all, and return the file as it now is.

    Args:
        rig: What to write.
        path: Where to.
        source: The file it came from, whose comments and layout are kept; None writes afresh.
        overwrite: Write even over a file that is not as `source` was read.

    Raises:
        ChangedOnDiskError: there is another file than the one read, and `overwrite` is false.
        SaveError: it could not be written; what was there is still there.
    """
    text = text_of(rig, source)
    if not overwrite:
        _check_unchanged(path, source)
    mark = write_atomic(path, text)
    return Source(path, text, tomllib.loads(text.removeprefix(BOM)), mark)


def _check_unchanged(path: Path, source: Source | None) -> None:
    if not path.exists():
        return
    if source is None or os.path.realpath(path) != os.path.realpath(source.path):
        raise ChangedOnDiskError(f"{path.name} exists already")
    if changed_since(path, source.print):
        raise ChangedOnDiskError(f"{path.name} was changed by another program meanwhile")
