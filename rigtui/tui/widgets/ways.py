"""The ways out of a question, in a row: each tells its key, and a click does what the key does."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import Static


class Ways(Horizontal):
    """A row of ways, each with the name of the question's action that a click takes."""

    def __init__(self, ways: Iterable[tuple[str, str]]) -> None:
        """Take name and words of each; one whose name is no action is only told."""
        super().__init__(classes="dialog--ways")
        self._ways = ways

    def compose(self) -> ComposeResult:
        """One beside the other."""
        for name, words in self._ways:
            yield ClickableWay(words, id=name, classes="dialog--keys", markup=False)


class ClickableWay(Static):
    async def on_click(self) -> None:
        """Do what the key does."""
        if hasattr(self.screen, f"action_{self.id}"):
            await self.run_action(f"screen.{self.id}")
