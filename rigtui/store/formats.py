"""Files of other format versions: older ones are brought up to date, newer ones only looked at."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from rigtui.model.errors import BadRigError
from rigtui.store.load import Source, rig_of

if TYPE_CHECKING:
    from rigtui.model.rig import Rig


def is_newer(data: Mapping[str, Any]) -> bool:
    """Whether plain data says that it is of a format that this program does not know yet."""
    from rigtui.model.rig import FORMAT

    version = data.get("format")
    return isinstance(version, int) and not isinstance(version, bool) and version > FORMAT


def rig_to_look_at(source: Source) -> tuple[Rig, str | None]:
    """Make the Rig of a file, also of one in a newer format.

    Returns:
        The rig, and why it may only be looked at; None where it may be edited and saved.

    Raises:
        BadRigError: everything that is wrong with it, with lines.
    """
    if not is_newer(source.data):
        return rig_of(source), None
    try:
        rig = _understood(source.data)
    except BadRigError:
        rig_of(source)  # raises the same with lines, and with the newer format named
        raise
    reason = (
        f"{source.path.name} has format {source.data['format']}, which is newer than "
        "this program: you can look, but not edit. Update rigtui to edit it"
    )
    return rig, reason


def _understood(data: Mapping[str, Any]) -> Rig:
    """Make a Rig of what this program knows, leaving out the keys that it does not."""
    from pydantic import ValidationError

    from rigtui.model.rig import FORMAT, Rig
    from rigtui.model.validate import rig_from_data

    known = copy.deepcopy(dict(data)) | {"format": FORMAT}
    try:
        Rig.model_validate(known)
    except ValidationError as error:
        for fault in error.errors(include_url=False):
            if fault["type"] == "extra_forbidden":
                _drop(known, fault["loc"])
    return rig_from_data(known)


def _drop(data: Any, path: tuple[int | str, ...]) -> None:
    for step in path[:-1]:
        data = data[step]
    data.pop(path[-1], None)
