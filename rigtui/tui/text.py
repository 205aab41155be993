"""Text for the screen: always literal, never markup, cut by the cells that it takes."""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size
from rich.highlighter import Highlighter
from rich.text import Text
from textual.content import Content

from rigtui.model.text import visible


def plain(text: str) -> Content:
    """Text from a file as content: markup stays text, control characters are made visible."""
    return Content(visible(text, keep="\n"))


class Visible(Highlighter):
    """For lines to type in: shows control characters as `visible` does; what is typed stays."""

    def highlight(self, text: Text) -> None:
        """Make the text visible, character by character, so that the cursor keeps its place."""
        text.plain = visible(text.plain)


def fit(text: str, width: int, align: str = "left") -> str:
    """Cut or fill a text to a width in cells; what is cut ends in an ellipsis.

    The cells are those of the screen library, which lays out by them; `rigtui.model.cells` has its
    own table, because reports and sheets go without that library.
    """
    if width <= 0:
        return ""
    text = visible(text)
    size = len(text) if text.isascii() else cell_len(text)
    if size > width:
        return set_cell_size(set_cell_size(text, width - 1).rstrip() + "…", width)
    space = " " * (width - size)
    return space + text if align == "right" else text + space
