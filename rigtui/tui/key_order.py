"""Handle one key at a time: the next waits until everything the one before set off is done.

A terminal may hand over a dozen keys at once: a fast typist on a slow machine, a paste, a script.
The screen library sends each to what has the focus when it arrives, so keys meant for a question
would reach the view below it while the question is still being put on the screen, and a key could
overtake the move of the cursor that it was pressed after.
"""

from __future__ import annotations

import asyncio
import time
from collections import deque

from textual import events
from textual.app import App
from textual.dom import DOMNode
from textual.message import Message

_ROUNDS = 3
"""Ways from the focus up to the app: what a key sets off may set off more, and that again."""
_LOOK_SECONDS = 0.05
"""How long a message may be under way before it is asked whether it was lost."""
_UNREADY_SECONDS = 0.005
_MOST_SECONDS = 3.0
"""No key waits longer than this, whatever happens."""


class KeyFollowed(Message):
    """Goes the way of a key from the focus up, behind the key and all that it set off there."""

    def __init__(self, turn: int) -> None:
        super().__init__()
        self.turn = turn


class OneKeyAtATime(App[int]):
    """An app that hands a key on only when the one before it is dealt with."""

    def __init__(self, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._held: deque[events.Key | events.Paste] = deque()
        self._following = False
        self._turn = 0
        self._rounds = 0
        self._give_up = 0.0
        self._rested = 0.0

    @property
    def keys_waiting(self) -> bool:
        """Whether a key is being dealt with, or waits for its turn."""
        return self._following or bool(self._held)

    @property
    def quiet_seconds(self) -> float:
        """How long ago the last key was dealt with; 0 while one is."""
        return 0.0 if self.keys_waiting else time.monotonic() - self._rested

    def ready_for_keys(self) -> bool:
        """Whether the screen at hand is mounted, with the focus where its keys should go."""
        if not self.screen_stack or not self.screen.is_mounted:
            return False
        return self.focused is not None or not self.screen.focus_chain

    async def on_event(self, event: events.Event) -> None:
        """Hold a key back while another is being dealt with."""
        if not isinstance(event, events.Key | events.Paste) or event.is_forwarded:
            await super().on_event(event)
            return
        self._held.append(event)
        if not self._following:
            self._following, self._give_up = True, time.monotonic() + _MOST_SECONDS
            if self.ready_for_keys():
                await self._hand_on()
            else:
                self._come_back()

    async def _hand_on(self) -> None:
        if not self.screen_stack:  # the program is being taken down: nobody is left to take keys
            self._held.clear()
            return
        self._rounds, self._give_up = 0, time.monotonic() + _MOST_SECONDS
        target = self.focused or self.screen
        await super().on_event(self._held.popleft())
        self._follow(target)

    def _follow(self, target: DOMNode) -> None:
        """Send a message the way that a key goes."""
        self._turn += 1
        way = tuple(target.ancestors_with_self)
        if target.post_message(KeyFollowed(self._turn)):
            self._look_after(self._turn, way)
        else:
            self.post_message(KeyFollowed(self._turn))

    def _look_after(self, turn: int, way: tuple[DOMNode, ...]) -> None:
        """Send the message again from here if a widget on its way was taken down under it."""

        def look() -> None:
            if turn != self._turn or not self._following:
                return
            if time.monotonic() < self._give_up and all(node.is_running for node in way):
                self._look_after(turn, way)
            else:
                self.post_message(KeyFollowed(turn))

        asyncio.get_running_loop().call_later(_LOOK_SECONDS, look)

    def _come_back(self) -> None:
        self._turn += 1
        asyncio.get_running_loop().call_later(
            _UNREADY_SECONDS, self.post_message, KeyFollowed(self._turn)
        )

    async def on_key_followed(self, event: KeyFollowed) -> None:
        """Hand the next key on, once nothing of the last one is under way any more."""
        event.stop()
        if event.turn != self._turn or not self._following:
            return
        self._rounds += 1
        late = time.monotonic() > self._give_up
        if not late and not self.ready_for_keys():
            self._come_back()
        elif not late and self._rounds < _ROUNDS:
            self._follow(self.focused or self.screen)
        elif self._held:
            await self._hand_on()
        else:
            self._following, self._rested = False, time.monotonic()
