"""What all screens over the views share: the player answers them once."""

from __future__ import annotations

from typing import ClassVar, TypeVar

from textual.await_complete import AwaitComplete
from textual.binding import Binding, BindingType
from textual.screen import ModalScreen

from rigtui.tui.widgets.key_line import KeyLine

Answer = TypeVar("Answer")


class Overlay(ModalScreen[Answer]):
    """A screen that is taken away by its answer.

    A second click may be on its way when the first has answered, and another question may lie over
    this one by then: the screen library would take away whatever lies on top, at last the views.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("question_mark,f1", "app.help", "Help", show=False)
    ]

    def on_mount(self) -> None:
        """The keys of the screens below do nothing now: they are not shown."""
        self._redraw_keys()

    def on_unmount(self) -> None:
        """Those that work again are shown."""
        self._redraw_keys()

    def _redraw_keys(self) -> None:
        for screen in self.app.screen_stack:
            screen.query(KeyLine).refresh()

    def dismiss(self, result: Answer | None = None) -> AwaitComplete:
        """Give the answer and go; nothing where this is not the screen on top (any more)."""
        if self.app.screen is not self:
            return AwaitComplete()
        return super().dismiss(result)
