"""The line above the views (the parts of the job) and the line below (the evening's totals)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from rigtui.model.text import visible
from rigtui.tui.text import fit
from rigtui.tui.views.all_views import ViewFacts


class TopBar(Widget):
    """The views by number, the one in sight marked, and the rig's name."""

    DEFAULT_CSS = "TopBar { height: 1; background: $panel; color: $foreground; }"
    here: reactive[str] = reactive("")
    rig_name: reactive[str] = reactive("")

    class ViewChosen(Message):
        """A view was clicked."""

        def __init__(self, view: str) -> None:
            super().__init__()
            self.view = view

    def __init__(self, views: Sequence[ViewFacts]) -> None:
        super().__init__()
        self._views = tuple(views)

    def _tabs(self) -> list[tuple[str, str]]:
        """Each view and its tab; where there is little room, the others only by their keys."""
        tabs = [
            (
                view.id,
                ("[{}]" if view.id == self.here else " {} ").format(f"{view.key} {view.title}"),
            )
            for view in self._views
        ]
        if sum(len(text) + 1 for _, text in tabs) <= max(1, self.size.width):
            return tabs
        return [
            (view.id, text if view.id == self.here else f" {view.key} ")
            for view, (_, text) in zip(self._views, tabs)
        ]

    def render(self) -> Content:
        """Draw the views and, as far as there is room, the rig's name."""
        parts = [
            Content.styled(text, "bold reverse" if view == self.here else "")
            for view, text in self._tabs()
        ]
        line = Content(" ").join(parts)
        room = self.size.width - line.cell_length - 2
        name = fit(self.rig_name, min(room, cell_len(visible(self.rig_name)))) if room > 4 else ""
        space = " " * max(1, self.size.width - line.cell_length - cell_len(name) - 1)
        return line + Content(space) + Content.styled(name, "$text-muted")

    def on_click(self, event: events.Click) -> None:
        """A click on a view goes there."""
        x = event.x
        for view, text in self._tabs():
            if x < len(text) + 1:
                self.post_message(self.ViewChosen(view))
                return
            x -= len(text) + 1


_NAMES = 18
"""Cells for the names of file and setlist that figures which can be had shorter leave free."""


class StatusLine(Widget):
    """File, unsaved mark, moves of the setlist at hand, worst finding."""

    DEFAULT_CSS: ClassVar[str] = """
    StatusLine { height: 1; background: $panel; color: $foreground; }
    """
    file: reactive[str] = reactive("")
    unsaved: reactive[bool] = reactive(False)
    setlist: reactive[str] = reactive("")
    moves: reactive[str] = reactive("")
    brief: reactive[str] = reactive("")
    """What counts most of `moves`, for where there is no room for all of it."""
    faults: reactive[str] = reactive("")
    """How many findings, the worst kind first: "2 errors, 5 warnings"."""

    def render(self) -> Content:
        """Draw moves and the worst finding in full; names are clipped to the room that is left."""
        width = self.size.width
        mark = " UNSAVED" if self.unsaved else ""
        worst, _, lesser = self.faults.partition(", ")
        taken = len(mark) + len(worst) + 6
        moves = self.moves
        if self.brief and _cells(moves) + taken + _NAMES > width:
            moves = self.brief
        moves = fit(moves, min(_cells(moves), width - len(worst) - 4))
        room = width - _cells(moves) - taken
        lesser = f", {lesser}" if lesser else ""
        if _cells(self.file) + _cells(self.setlist) + len(lesser) + 2 <= room:
            room -= len(lesser)
        else:
            lesser = ""
        file, setlist = _names(self.file, self.setlist, room)
        left = Content(f" {file}") + Content.styled(mark, "bold")
        right = Content(f"{setlist}: " if setlist else "") + Content.styled(moves, "bold")
        right += Content("  ") + Content.styled(worst, "bold" if "error" in worst else "")
        right += Content(f"{lesser} ")
        space = max(1, width - left.cell_length - right.cell_length)
        return left + Content(" " * space) + right


def _cells(text: str) -> int:
    return cell_len(visible(text))


def _names(file: str, setlist: str, room: int) -> tuple[str, str]:
    """Clip the names of file and setlist so that both, with the colon between, fit the room."""
    wanted = _cells(file)
    if wanted + _cells(setlist) + 2 > room:
        wanted = min(wanted, max(room - _cells(setlist) - 2, room // 2))
    left = room - wanted - 2
    if left < min(6, _cells(setlist)):
        return fit(file, min(_cells(file), room)).rstrip(), ""
    return fit(file, wanted).rstrip(), fit(setlist, min(_cells(setlist), left)).rstrip()
