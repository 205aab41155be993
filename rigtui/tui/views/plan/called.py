"""Plans by the command palette: each kind, asked for in a player's words."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigtui.tui.document_app import DocumentApp

_CALLED = {
    "all": "Plan: everything together, loops, memories and mapping",
    "loops": "Plan: which pedals earn a loop",
    "switches": "Plan: which switch holds which preset",
    "route": "Plan: which presets the sections are mapped to",
    "curve": "Plan: what a bigger switcher would buy",
}


def plan_commands(app: DocumentApp) -> Iterator[tuple[str, Callable[[], Awaitable[None]]]]:
    """What the palette offers: words, and what they do."""
    if app.document is not None:
        for kind, words in _CALLED.items():
            yield words, partial(_plan, app, kind)


async def _plan(app: DocumentApp, kind: str) -> None:
    from rigtui.tui.views.plan.view import PlanView

    await app.action_view("plan")
    app.query_one(PlanView).start(kind)
