"""How the program talks with the player: notices below the views, and questions over them."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any

from textual.notifications import Notification, SeverityLevel
from textual.widgets._toast import ToastHolder, ToastRack

from rigtui.tui.last_breath import LastBreath
from rigtui.tui.text import plain
from rigtui.tui.widgets.overlay import Answer, Overlay

MOST_NOTICES = 2
"""Notices that stand at once: each takes lines from the view above it."""


class TalkingApp(LastBreath):
    """An app with one way to say something and one way to ask something."""

    def __init__(self, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._said = ""

    def say(self, text: str, severity: Any = "information", seconds: float = 4) -> None:
        """Say something below the views; text from the file stays text."""
        self.notify(plain(text).plain, severity=severity, markup=False, timeout=seconds)

    def notify(
        self,
        message: str,
        *,
        title: str = "",
        severity: SeverityLevel = "information",
        timeout: float | None = None,
        markup: bool = True,
    ) -> None:
        """Show a notice in place of the same one and of more than there is room for."""
        for notice in self._giving_way_to(message):
            self._unnotify(notice, refresh=False)
        super().notify(message, title=title, severity=severity, timeout=timeout, markup=markup)

    def _giving_way_to(self, message: str) -> list[Notification]:
        """The notices that go for a new one: the oldest first, but warnings and errors last."""
        same = [notice for notice in self._notifications if notice.message == message]
        others = [notice for notice in self._notifications if notice.message != message]
        others.sort(key=lambda notice: notice.severity != "information")
        return [*same, *others[: max(0, len(others) + 1 - MOST_NOTICES)]]

    def _refresh_notifications(self) -> None:
        super()._refresh_notifications()
        self.call_later(self._take_empty_lines)

    def _take_empty_lines(self) -> None:
        """Give back the lines of notices that are gone, which the screen library leaves empty."""
        standing = {ToastRack._toast_id(notice) for notice in self._notifications}
        for holder in self.screen.query(ToastHolder):
            if holder.id not in standing:
                holder.remove()

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
