"""Rigs as lines of JSON, for a process that works beside the screen.

Of a rig that came of another one stands what differs: `same` names what is equal, `new` holds the
rest; in its lists of rows, a number stands for the equal row at that place (from 0) of the old
list.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from typing import Any

from pydantic import BaseModel

from rigtui.model.rig import Rig

_DATE = "a date"


def difference(new: Rig, old: Rig) -> dict[str, Any]:
    """What of a rig differs from another."""
    same: list[str] = []
    rest: dict[str, Any] = {}
    for name in sorted(new.model_fields_set):
        its = getattr(new, name)
        known = name in old.model_fields_set
        was = getattr(old, name) if known else ()
        if known and its is was:
            same.append(name)
        elif isinstance(its, tuple):
            rows = [
                at if at < len(was) and (row is was[at] or _dumped(row) == _dumped(was[at]))
                else _dumped(row)
                for at, row in enumerate(its)
            ]  # fmt: skip
            if known and rows == list(range(len(was))):
                same.append(name)
            else:
                rest[name] = rows
        else:
            rest[name] = _dumped(its) if isinstance(its, BaseModel) else its
    return {"same": same, "new": rest}


def _dumped(row: BaseModel) -> dict[str, Any]:
    return row.model_dump(exclude_unset=True)


def changed_by(data: Mapping[str, Any], old: Rig) -> Rig:
    """A rig of what differs from another; what is equal are the other's very rows and tables."""
    same = {name: getattr(old, name) for name in data["same"]}
    rest = {
        name: [getattr(old, name)[row] if isinstance(row, int) else row for row in value]
        if isinstance(value, list)
        else value
        for name, value in data["new"].items()
    }
    return Rig.model_validate({**same, **rest}).model_copy(update=same)


def rig_data(rig: Rig) -> dict[str, Any]:
    """A rig as plain data, what its file leaves out left out."""
    return rig.model_dump(exclude_unset=True)


def line_of(data: Mapping[str, Any]) -> str:
    """Write an object as one line, its line end included."""
    # ASCII, so that neither side depends on the encoding of the other.
    return json.dumps(data, ensure_ascii=True, separators=(",", ":"), default=_spelled) + "\n"


def _spelled(value: Any) -> Any:
    """JSON knows no dates; only the setlists and the printed sheets of a rig have any."""
    if isinstance(value, date):
        return {_DATE: value.isoformat()}
    raise TypeError(f"{type(value).__name__} can't be sent between processes")


def read_line(line: str) -> Any:
    """Read a line that `line_of` wrote."""

    def hook(value: dict[str, Any]) -> Any:
        return date.fromisoformat(value[_DATE]) if value.keys() == {_DATE} else value

    return json.loads(line, object_hook=hook)
