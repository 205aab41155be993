"""The barest program of the screen library that has a header, a text and a footer."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.widgets import Footer, Header, Static


class Frame(App[None]):
    """Nothing but the frame."""

    def compose(self) -> ComposeResult:
        yield Header()
        yield Static("nothing but a frame")
        yield Footer()


Frame().run()
