"""Something to be done after a while, once and for certain."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.message_pump import MessagePump
    from textual.timer import Timer


def once(node: MessagePump, seconds: float, act: Callable[[], None]) -> Timer:
    """Call something after some seconds, unless the timer is stopped before.

    The screen library's own `set_timer` leaves out ticks that come late. If the machine holds the
    program up for longer than those seconds just as the timer begins, it leaves out the only tick
    there is, and what waits for it waits for ever. A timer that repeats goes on to its next tick.
    Stopped by its own tick, it may yet tick again: ticks that are due at once are not waited for.

    Args:
        node: The app or the widget that does it.
        seconds: How long to wait.
        act: What to do.
    """

    rung = False

    def ring() -> None:
        nonlocal rung
        if not rung:
            rung = True
            timer.stop()
            node.call_next(act)

    timer = node.set_interval(seconds, ring)
    return timer
