"""A field of several lines, for text that is pasted rather than typed."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.widgets import TextArea

from rigtui.model.text import visible


class LinesInput(TextArea):
    """Text of several lines, as it was typed or pasted; Enter is the form's."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+j", "new_line", "New line", show=False)]
    DEFAULT_CSS = "LinesInput { border: none; padding: 0; }"

    def __init__(self, text: str, lines: int, id: str) -> None:
        super().__init__(_lines_of(text), id=id, compact=True)
        self.styles.height = lines
        self.move_cursor(self.document.end)

    @property
    def value(self) -> str:
        """The text."""
        return self.text

    def walked(self, by: int) -> bool:
        """Go a line up (by < 0) or down; False where that leads out of the text."""
        here = self.cursor_location
        if by < 0:
            if self.navigator.is_first_wrapped_line(here):
                return False
            self.action_cursor_up()
        else:
            if self.navigator.is_last_wrapped_line(here):
                return False
            self.action_cursor_down()
        return True

    def stand_at(self, line: int, column: int) -> None:
        """Put the cursor in a line (from 0), as far along as it goes, nothing selected."""
        line = max(0, min(line, self.document.line_count - 1))
        self.move_cursor((line, max(0, min(column, len(self.document.get_line(line))))))

    def action_new_line(self) -> None:
        """Begin a line."""
        self.insert("\n")

    async def _on_paste(self, event: events.Paste) -> None:
        """Take what is pasted, with control characters made visible."""
        event.prevent_default()
        event.stop()
        self.replace(_lines_of(event.text), *self.selection)


def _lines_of(text: str) -> str:
    """A text with one kind of line end, and control characters made visible."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return visible(lines, keep="\n\t")
