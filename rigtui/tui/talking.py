"""How the program talks with the player: notices below the views, and questions over them."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any

from rigtui.tui.last_breath import LastBreath
from rigtui.tui.text import plain
from rigtui.tui.widgets.overlay import Answer, Overlay


class TalkingApp(LastBreath):
    """An app with one way to say something and one way to ask something."""

    def __init__(self, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._said = ""

    def say(self, text: str, severity: Any = "information", seconds: float = 4) -> None:
        """Say something below the views; text from the file stays text."""
        self.notify(plain(text).plain, severity=severity, markup=False, timeout=seconds)

    def say_in_place(self, text: str, seconds: float = 2) -> None:
        """Say something in place of what was last said this way, so that it does not pile up."""
        for notice in list(self._notifications):
            if notice.message == self._said:
                self._unnotify(notice, refresh=False)
        self._said = plain(text).plain
        self.say(text, seconds=seconds)

    def ask(
        self,
        question: Overlay[Answer],
        answered: Callable[[Answer | None], Awaitable[None] | None] | None = None,
    ) -> None:
        """Put a question to the player, once what asks it is done.

        A form that is being handed in goes first, and the answer is heard by the app, which stays.
        """
        self.call_later(self.push_screen, question, answered)
