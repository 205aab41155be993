"""Waivers of whole rules by the command palette."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING

from rigtui.model.text import count
from rigtui.tui.widgets.dialogs import Field, Form

if TYPE_CHECKING:
    from rigtui.tui.document_app import DocumentApp


REASON = Field("reason", "It is fine because", hint="e.g. the gate is set for it")
NO_REASON = "a waiver needs a reason: next year you will want to know it"


def waive_commands(app: DocumentApp) -> Iterator[tuple[str, Callable[[], None]]]:
    """What the palette offers: a rule that finds something, most findings first."""
    if app.document is None:
        return
    standing = (row.rule for row in app.findings_known() if row.waived is None)
    for rule, times in Counter(standing).most_common():
        words = f"Waive all of {rule}: {count(times, 'finding')}"
        yield words, partial(_ask, app, rule, times)


def _ask(app: DocumentApp, rule: str, times: int) -> None:
    from rigtui.model.edits import waive
    from rigtui.model.places import EVERYWHERE

    def submit(given: dict[str, str]) -> str | None:
        reason = given["reason"].strip()
        if not reason:
            return NO_REASON
        app.apply(f"waive {rule}: everywhere", lambda rig: waive(rig, rule, EVERYWHERE, reason))
        return None

    note = f"{count(times, 'finding')} now, and any later ones, in the whole rig. u takes it back."
    app.ask(Form(f"Waive all of {rule}", [REASON], submit, note))
