"""A line that names the lists of a view where only one of them has room."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from rigtui.tui.text import plain


class PaneBar(Widget):
    """The lists by title, the one in sight marked; a click goes to one."""

    DEFAULT_CSS: ClassVar[str] = "PaneBar { height: 1; color: $foreground; }"
    here: reactive[int] = reactive(0)
    titles: reactive[tuple[str, ...]] = reactive(())

    class ListChosen(Message):
        """A list was clicked, by its place from 0."""

        def __init__(self, place: int) -> None:
            super().__init__()
            self.place = place

    def _labels(self) -> list[Content]:
        return [
            plain(f"[{title}]" if at == self.here else f" {title} ")
            for at, title in enumerate(self.titles)
        ]

    def render(self) -> Content:
        """Draw the titles."""
        parts = [
            label.stylize("bold") if at == self.here else label
            for at, label in enumerate(self._labels())
        ]
        return Content(" ").join(parts)

    def on_click(self, event: events.Click) -> None:
        """A click on a title goes to its list."""
        x = event.x
        for at, label in enumerate(self._labels()):
            if x <= label.cell_length:
                self.post_message(self.ListChosen(at))
                return
            x -= label.cell_length + 1
