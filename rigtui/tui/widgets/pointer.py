"""The finding that led the player to a place: its text stays until it is mended or hidden."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.content import Content
from textual.widgets import Static

from rigtui.tui.text import plain

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rigtui.checks import Finding


class Pointer(Static):
    """One finding in words below the view that shows its place; out of sight without one."""

    DEFAULT_CSS: ClassVar[str] = """
    Pointer { display: none; height: auto; max-height: 4; padding: 0 1; background: $panel; }
    Pointer.-pointing { display: block; }
    """

    def __init__(self) -> None:
        super().__init__("", markup=False)
        self.finding: Finding | None = None

    def point(self, finding: Finding | None) -> None:
        """Show a finding; None hides it."""
        self.finding = finding
        self.set_class(finding is not None, "-pointing")
        if finding is not None:
            head = Content.styled(f"{finding.severity}, {finding.rule}: ", "bold")
            self.update(head + plain(finding.message) + Content("  (Esc hides this)"))

    def keep_up(self, findings: Iterable[Finding]) -> None:
        """Take what the rules find now: a finding that is mended or waived is told no more."""
        if self.finding is None:
            return
        for row in findings:
            if (row.rule, row.where) == (self.finding.rule, self.finding.where):
                self.point(row if row.waived is None else None)
                return
        self.point(None)
