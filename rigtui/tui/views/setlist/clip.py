"""Songs or sections that were copied in the setlist, to paste elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigtui.model.rig import Section


class Clip:
    """The rows copied last; both panes look at the same ones."""

    def __init__(self) -> None:
        self.song_ids: tuple[str, ...] = ()
        self.sections: tuple[Section, ...] = ()
