"""The line above the views (which part of the job) and the line below (how the evening stands)."""

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


class TopBar(Widget):
    """The views by number, the one in sight marked, and the rig's name."""

    DEFAULT_CSS = "TopBar { height: 1; background: $panel; color: $foreground; }"
    here: reactive[str] = reactive("")
    rig_name: reactive[str] = reactive("")

    class Chosen(Message):
        """A view was clicked."""

        def __init__(self, view: str) -> None:
            super().__init__()
            self.view = view

    def __init__(self, views: Sequence[tuple[str, str, str]]) -> None:
        """Take (key, id, title) of each view."""
        super().__init__()
        self._views = tuple(views)

    def _tabs(self) -> list[tuple[str, str]]:
        return [
            (view, f"[{key} {title}]" if view == self.here else f" {key} {title} ")
            for key, view, title in self._views
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
        return line + Content(space) + Content.styled(name, "dim")

    def on_click(self, event: events.Click) -> None:
        """A click on a view goes there."""
        x = event.x
        for view, text in self._tabs():
            if x < len(text) + 1:
                self.post_message(self.Chosen(view))
                return
            x -= len(text) + 1


class StatusLine(Widget):
    """File, unsaved mark, moves of the setlist at hand, worst finding."""

    DEFAULT_CSS: ClassVar[str] = """
    StatusLine { height: 1; background: $panel; color: $foreground; }
    """
    file: reactive[str] = reactive("")
    unsaved: reactive[bool] = reactive(False)
    moves: reactive[str] = reactive("")
    faults: reactive[str] = reactive("")

    def render(self) -> Content:
        """Draw what there is room for: the file gives way first."""
        width = self.size.width
        faults = fit(self.faults, min(width // 2, len(self.faults)))
        moves = fit(self.moves, min(width - len(faults) - 4, cell_len(visible(self.moves))))
        mark = " UNSAVED" if self.unsaved else ""
        room = width - len(faults) - cell_len(moves) - len(mark) - 6
        name = fit(self.file, min(room, cell_len(visible(self.file)))) if room > 3 else ""
        left = Content(" ") + Content(name) + Content.styled(mark, "bold")
        space = max(1, width - left.cell_length - cell_len(moves) - len(faults) - 3)
        return (
            left
            + Content(" " * space)
            + Content.styled(moves, "bold")
            + Content("  ")
            + Content.styled(faults, "bold" if "error" in faults else "")
        )
