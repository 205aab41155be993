"""The text of a journal: only what changed since the last time is written out again.

On a rig of 500 songs that is the difference between half a millisecond and thirty, during which
the screens could take no key.
"""

from __future__ import annotations

import json
import threading
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rigtui.model.base import RigTable
    from rigtui.model.rig import Rig


class JournalText:
    """Makes the texts of one journal, and remembers those of the last rig's tables."""

    def __init__(self) -> None:
        self._guard = threading.Lock()
        self._base: tuple[str | None, str] = (None, "null")
        self._tables: dict[int, tuple[RigTable, str]] = {}

    def of(self, path: str | None, base: str | None, seconds: float, rig: Rig) -> str:
        """Return the journal as JSON.

        Args:
            path: The rig's file; None while it has none.
            base: What that file held when the edits began.
            seconds: The moment, in seconds since 1970.
            rig: The rig as it is now.
        """
        with self._guard:
            if self._base[0] is not base:
                self._base = (base, _json(base))
            old, self._tables = self._tables, {}
            fields = {
                "path": _json(path),
                "base": self._base[1],
                "seconds": _json(seconds),
                "rig": self._rig(rig, old),
            }
        return _object(fields)

    def _rig(self, rig: Rig, old: dict[int, tuple[RigTable, str]]) -> str:
        """The rig's fields as `rig_to_data` gives them, table by table."""
        given = ((key, getattr(rig, key)) for key in type(rig).model_fields)
        return _object(
            {
                key: self._field(value, old)
                for key, value in given
                if key in rig.model_fields_set and value is not None
            }
        )

    def _field(self, value: Any, old: dict[int, tuple[RigTable, str]]) -> str:
        if isinstance(value, tuple):
            return f"[{', '.join(self._table(row, old) for row in value)}]"
        return _json(value) if isinstance(value, str | int) else self._table(value, old)

    def _table(self, table: RigTable, old: dict[int, tuple[RigTable, str]]) -> str:
        from rigtui.model.validate import rig_to_data

        known = old.get(id(table))  # kept with its text, so that no other can have its place
        if known is None:
            known = (table, _json(rig_to_data(table)))
        self._tables[id(table)] = known
        return known[1]


def _object(fields: dict[str, str]) -> str:
    return f"{{{', '.join(f'{_json(key)}: {text}' for key, text in fields.items())}}}"


def _json(value: Any) -> str:
    return json.dumps(value, default=_date_text)


def _date_text(value: Any) -> Any:
    return {"date": value.isoformat()}
