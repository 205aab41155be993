"""Waiving a finding from the report, or all of a cause, and taking a waiver back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.checks import Finding
from rigtui.model.place_words import place_in_words
from rigtui.model.places import EVERYWHERE, place_at, taken_apart
from rigtui.tui.views.report.findings import CauseKey
from rigtui.tui.widgets.dialogs import Field, Form

if TYPE_CHECKING:
    from collections.abc import Callable

    from rigtui.model.rig import Rig
    from rigtui.tui.views.base import View


def ask_waiver(view: View, rig: Rig, key: Finding | CauseKey, done: Callable[[], None]) -> None:
    """Ask where and why a finding or a cause is accepted, and do it.

    Args:
        view: The report.
        rig: The rig that the finding is of.
        key: What is to be waived.
        done: Called before it is.
    """
    from rigtui.model.edits import waive
    from rigtui.tui.views.report.called import NO_REASON, REASON

    places = _places(rig, key)

    def submit(given: dict[str, str]) -> str | None:
        reason, where = given["reason"].strip(), given["where"]
        if not reason:
            return NO_REASON
        done()
        view.request(
            f"waive {key.rule}: {places[where]}", lambda rig: waive(rig, key.rule, where, reason)
        )
        return None

    fields = [REASON, Field("where", "Where", choices=tuple(places.items()))]
    title = "Waive this finding" if isinstance(key, Finding) else f"Waive all of {key.rule}"
    note = key.message if isinstance(key, Finding) else ""
    view.app.push_screen(Form(title, fields, submit, note))


def take_back(view: View, rig: Rig, finding: Finding) -> bool:
    """Take back the waiver that a finding is under; say whether there is one."""
    from rigtui.model.edits import unwaive
    from rigtui.model.waived import waiver_over, waivers_by_rule

    waiver = waiver_over(waivers_by_rule(rig), finding.rule, finding.where)
    if waiver is None:
        return False
    view.request(
        f"take back the waiver of {waiver.rule} at {place_in_words(rig, waiver.where)}",
        lambda rig: unwaive(rig, waiver.rule, waiver.where),
    )
    return True


def _places(rig: Rig, key: Finding | CauseKey) -> dict[str, str]:
    """Places that a waiver can be of, the nearest first, each in words."""
    places = {}
    if isinstance(key, Finding):
        places[key.where] = place_in_words(rig, key.where)
        place = taken_apart(key.where)
        if place.table == "songs" and place.section is not None:
            above = place_at("songs", place.row)
            places[above] = f"all of {place_in_words(rig, above)}"
    return {**places, EVERYWHERE: "everywhere"}
