"""A change is tried and counted first: the player reads what it brings, and says yes."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from rigtui.model.errors import RigError
from rigtui.tui.widgets.dialogs import Confirm

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.tui.views.base import View

Edit = Callable[["Rig"], "Rig"]


def propose(
    view: View, label: str, edit: Edit, do: Callable[[Edit], None], yes: str = "do it"
) -> None:
    """Say what a change brings, and have it made after a yes; at once if it brings nothing.

    Args:
        view: The view that asks.
        label: What the change is called.
        edit: The change.
        do: Makes it.
        yes: What the answer yes does.
    """
    from rigtui.checks.consequences import consequences

    rig = view.rig
    if rig is None:
        return
    try:
        brings = consequences(rig, edit)
    except RigError as error:
        view.say(str(error))
        return

    def answered(answer: str | None) -> None:
        if answer == "y":
            # The very rig that was checked, so that it is not checked again.
            do(lambda now: brings.rig if now is rig else edit(now))

    if not brings.any:
        answered("y")
        return
    question = f"{label[:1].upper()}{label[1:]}?"
    answers = [("y", f"{yes} (undo takes it back)")]
    view.app.push_screen(Confirm(question, answers, brings.lines(), "leave it as it is"), answered)
