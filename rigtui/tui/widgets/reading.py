"""A scrolling screen for a text that is too long for its place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from rigtui.tui.widgets.overlay import Overlay


class Reading(Overlay[None]):
    """Lines to read."""

    DEFAULT_CSS = "Reading { align: center middle; background: $background 60%; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,i,enter", "dismiss(None)", "Close", show=False)
    ]

    def __init__(self, lines: Sequence[Content]) -> None:
        super().__init__()
        self._lines = tuple(lines)

    def compose(self) -> ComposeResult:
        """The lines, a blank one between them, and the keys."""
        with VerticalScroll(classes="dialog"):
            yield Static(Content("\n\n").join(self._lines), markup=False)
            yield Static("Esc close   ↑↓ scroll", classes="dialog--keys", markup=False)

    def on_mount(self) -> None:
        """Let the arrows scroll."""
        self.query_one(VerticalScroll).focus()
