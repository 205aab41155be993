"""The input of every proposal: a rig, the evening that counts, and its findings."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from rigtui.advice.counted import Counted, counted
from rigtui.checks import Finding
from rigtui.model.rig import Rig
from rigtui.plan.ask.evening import Evening


@dataclass
class Asked:
    """The same for every family of proposals."""

    rig: Rig
    evening: Evening
    findings: tuple[Finding, ...]
    """All findings of the rig."""
    untried: list[str] = field(default_factory=list)
    """What was too much to try, in words."""

    @cached_property
    def before(self) -> Counted:
        """The figures of the evening as it is."""
        return counted(self.rig, self.evening)

    @property
    def setlists(self) -> tuple[str, ...]:
        """Ids of the setlists that count."""
        return tuple(setlist.id for setlist in self.evening.setlists)

    def of_rule(self, *rules: str) -> list[Finding]:
        """Return the findings of some rules that stand."""
        return [
            finding for finding in self.findings if finding.rule in rules and finding.waived is None
        ]
