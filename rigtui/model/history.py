"""Undo and redo: a list of rigs with what was done to get from each to the next."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigtui.model.rig import Rig


@dataclass(frozen=True)
class History:
    """The rig as it is now, how it came to be, and what was undone. A value, never changed."""

    rig: Rig
    past: tuple[tuple[str, Rig], ...] = ()
    """What was done, and the rig before it; the latest last."""
    future: tuple[tuple[str, Rig], ...] = ()
    """What was undone, and the rig after it; the next to redo last."""

    def done(self, label: str, rig: Rig) -> History:
        """Return the history after an edit; an edit that changes nothing leaves no step."""
        if rig == self.rig:
            return self
        return History(rig, (*self.past, (label, self.rig)))

    def undone(self) -> History:
        """Return the history one step back; the same if there is none."""
        if not self.past:
            return self
        label, before = self.past[-1]
        return replace(
            self,
            rig=before,
            past=self.past[:-1],
            future=(*self.future, (label, self.rig)),
        )

    def redone(self) -> History:
        """Return the history one step on again; the same if nothing was undone."""
        if not self.future:
            return self
        label, after = self.future[-1]
        return replace(
            self,
            rig=after,
            past=(*self.past, (label, self.rig)),
            future=self.future[:-1],
        )

    @property
    def undo_label(self) -> str | None:
        """What undo would take back."""
        return self.past[-1][0] if self.past else None

    @property
    def redo_label(self) -> str | None:
        """What redo would do again."""
        return self.future[-1][0] if self.future else None
