"""A line that names the lists of a view where only one of them has room."""

from __future__ import annotations

from typing import ClassVar, NamedTuple

from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from rigtui.tui.text import plain


class PaneTitle(NamedTuple):
    """What a list is called."""

    name: str
    more: str = ""
    """What is said of it behind the name, where there is room."""

    def __str__(self) -> str:
        return self.name + self.more


class PaneBar(Widget):
    """The lists by title, the one in sight marked; a click goes to one.

    Where there is no room for all that is said of them, it is said of the one in sight, or of none.
    """

    DEFAULT_CSS: ClassVar[str] = "PaneBar { height: 1; color: $foreground; }"
    here: reactive[int] = reactive(0)
    titles: reactive[tuple[PaneTitle, ...]] = reactive(())

    class ListChosen(Message):
        """A list was clicked, by its place from 0."""

        def __init__(self, place: int) -> None:
            super().__init__()
            self.place = place

    def _labels(self) -> list[Content]:
        every = range(len(self.titles))
        for in_full in (every, (self.here,)):
            labels = [self._label(at, at in in_full) for at in every]
            if sum(label.cell_length + 1 for label in labels) - 1 <= self.size.width:
                return labels
        return [self._label(at, False) for at in every]

    def _label(self, at: int, in_full: bool) -> Content:
        title = str(self.titles[at]) if in_full else self.titles[at].name
        return plain(f"[{title}]" if at == self.here else f" {title} ")

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
