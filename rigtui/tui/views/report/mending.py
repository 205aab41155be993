"""Apply a fix from the report: at once, after one choice, or after a question if it costs
something.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.checks.words import fix_in_words
from rigtui.model.errors import RigError
from rigtui.tui.views.report.fix_effect import effect_of
from rigtui.tui.widgets.dialogs import Confirm
from rigtui.tui.widgets.pick import Pick

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.checks.finding import Choices, Fix
    from rigtui.model.rig import Rig
    from rigtui.tui.views.base import View


def mend(view: View, rig: Rig, finding: Finding) -> None:
    """Do what mends a finding of a rig; ask first if only the player knows what that is."""
    if finding.choices is not None:
        _ask_which(view, rig, finding, finding.choices)
    elif finding.fix is not None:
        _do(view, rig, finding, finding.fix)


def _ask_which(view: View, rig: Rig, finding: Finding, choices: Choices) -> None:
    ways = choices.ways(rig)

    def chosen(answer: str | None) -> None:
        if answer is not None:
            _do(view, rig, finding, ways[int(answer)].fix, chosen=True)

    rows = [(str(at), way.words) for at, way in enumerate(ways)]
    view.app.push_screen(Pick(choices.question, rows), chosen)


def _do(view: View, rig: Rig, finding: Finding, fix: Fix, *, chosen: bool = False) -> None:
    """Do a fix; ask before one that costs, unless the player chose it from a list just now."""
    label = fix_in_words(rig, fix, finding.where)
    try:
        effect = effect_of(rig, fix.edit(rig), view.setlist_id)
    except RigError:
        view.request(label, fix.edit)  # the app says what is wrong
        return

    def answered(answer: str | None) -> None:
        if answer == "y":
            view.request(label, fix.edit, effect.done(label))

    if chosen or not effect.asks:
        answered("y")
        return
    answers = [("y", "do it (undo takes it back)")]
    view.app.push_screen(
        Confirm(effect.question(label), answers, effect.details(), "leave it as it is"), answered
    )
