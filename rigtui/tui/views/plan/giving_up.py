"""Sounds given up and given back from the plan view: looked at first, each one step of undo."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.model.text import count
from rigtui.tui.views.base import PlaceRequested, View

if TYPE_CHECKING:
    from rigtui.advice.giving_up.told import ToldPoint, ToldSmaller
    from rigtui.model.rig import Rig
    from rigtui.plan.ask.question import Question


class GivingUp:
    """Asks what to give up, and has it done by the view."""

    def __init__(self, view: View) -> None:
        self._view = view

    def choose(self, rig: Rig, question: Question) -> None:
        """Show what giving up sounds buys, with the options as they are; perhaps do it."""
        from rigtui.tui.views.plan.give_up import GiveUp

        def answered(answer: ToldPoint | str | None) -> None:
            if isinstance(answer, str):
                self._go_or_give_back(answer)
            elif answer is not None:
                self._take(rig, answer)

        self._view.app.push_screen(GiveUp(rig, question), answered)

    def preview(self, rig: Rig, way: ToldSmaller) -> None:
        """Show section by section what would do as well as a plan; y there does it.

        Args:
            rig: The rig that it was worked out for.
            way: What to do.
        """
        from rigtui.tui.views.plan.give_up_rows import as_remedy
        from rigtui.tui.views.report.remedy_preview import RemedyPreview

        def answered(answer: str | None) -> None:
            if answer == "y":
                self._take(rig, way.point)
            elif answer:
                self._view.post_message(PlaceRequested(answer))

        remedy = as_remedy(rig, way.before, way.point)
        self._view.app.push_screen(RemedyPreview(rig, remedy), answered)

    def _take(self, rig: Rig, point: ToldPoint) -> None:
        from rigtui.advice.wire import only_to

        sections = count(point.sections, "section")
        self._view.request(
            f"play {sections} with another sound",
            only_to(rig, point.rig),
            f"Done: {sections} with another sound; t, then b gives the sounds back",
        )

    def _go_or_give_back(self, answer: str) -> None:
        """Give sounds back, or go to a place."""
        from rigtui.model.edits.wanted import give_back
        from rigtui.tui.views.plan.give_up import BACK

        rig = self._view.rig
        if answer != BACK:
            self._view.post_message(PlaceRequested(answer))
        elif rig is not None:
            self._give_back(rig, give_back(rig))

    def _give_back(self, rig: Rig, then: Rig) -> None:
        from rigtui.advice.wire import only_to
        from rigtui.model.playable import lost_sections

        if then == rig:
            self._view.say("Every section already has the sound it wants, as far as there is one")
            return
        lost = lost_sections(then) - lost_sections(rig)
        more = f"; {count(lost, 'more section')} can't be played, as memories stay" * (lost > 0)
        done = f"Done: sections have the sound they want again{more}"
        self._view.request("give sounds back", only_to(rig, then), done)
