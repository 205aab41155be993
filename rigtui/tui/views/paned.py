"""A view of several lists: one at a time, or all at once where there is room for them."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from rigtui.tui.views.base import View
from rigtui.tui.widgets.grid import Grid
from rigtui.tui.widgets.panes import PaneBar


class PanedView(View):
    """Lists with titles, one of which takes the keys."""

    PANES: ClassVar[tuple[str, ...]] = ()
    """Names of the lists in order."""
    GRID_ID: ClassVar[str] = "{}"
    """Id of a list's grid, with its name in it."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._pane = 0

    def compose_panes(self) -> ComposeResult:
        """Give each list its title and its grid."""
        for name in self.PANES:
            with Vertical(id=f"pane-{name}", classes="pane"):
                yield Static("", classes="pane--title", markup=False)
                yield Grid(id=self.GRID_ID.format(name))

    def pane_changed(self) -> None:
        """Another list takes the keys; also called once at the start."""

    def _grid(self, name: str) -> Grid:
        return self.query_one(f"#{self.GRID_ID.format(name)}", Grid)

    @property
    def pane(self) -> str:
        """Name of the list that takes the keys."""
        return self.PANES[self._pane]

    @property
    def grid(self) -> Grid:
        """The list that takes the keys."""
        return self._grid(self.pane)

    def take_focus(self) -> None:
        """The list at hand takes the keys."""
        self.query_one(f"#{self.GRID_ID.format(self.pane)}").focus()

    def on_mount(self) -> None:
        """Start with the first list."""
        self._mark_pane()

    def _mark_pane(self) -> None:
        for name in self.PANES:
            self.query_one(f"#pane-{name}").set_class(name == self.pane, "-here")
        self.query_one(PaneBar).here = self._pane
        self.pane_changed()

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """The list that has the focus is the one at hand, but not while the view is left."""
        grids = [self.GRID_ID.format(name) for name in self.PANES]
        if self.display and event.widget.id in grids and event.widget.id != grids[self._pane]:
            self._pane = grids.index(event.widget.id)
            self._mark_pane()

    def on_pane_bar_list_chosen(self, event: PaneBar.ListChosen) -> None:
        """A title was clicked."""
        self._go_to_pane(event.place)

    def action_pane(self, by: int) -> None:
        """Go to another of the lists."""
        self._go_to_pane((self._pane + by) % len(self.PANES))

    def _go_to_pane(self, place: int) -> None:
        self._pane = place
        self._mark_pane()
        self.take_focus()
