"""What views of one list share: keys go to the list, and words stand below it."""

from __future__ import annotations

from typing import ClassVar

from rigtui.tui.views.base import View
from rigtui.tui.widgets.grid import Grid


class ListedView(View):
    """A view of one list, with the row under the cursor in words below it."""

    LIST: ClassVar[str]
    """Id of the list."""

    @property
    def grid(self) -> Grid:
        """The list."""
        return self.query_one(f"#{self.LIST}", Grid)

    def take_focus(self) -> None:
        """The list takes the keys."""
        self.grid.focus()

    def describe(self) -> None:
        """Tell of the row under the cursor."""

    def on_resize(self) -> None:
        """Use the room that there is."""
        if self.rig is not None:
            self.show_rig(self.rig)

    def on_grid_cursor_moved(self) -> None:
        """Tell of the row that the cursor is on now."""
        self.describe()
