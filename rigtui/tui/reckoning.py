"""Work on the open rig between keys: count its moves first, then check it."""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigtui.tui.slices import Slices
from rigtui.tui.totals import faults_text, totals_text
from rigtui.tui.widgets.bars import StatusLine
from rigtui.tui.widgets.pointer import Pointer

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig
    from rigtui.tui.document_app import DocumentApp

_WRITE_SECONDS = 0.004
"""How long counting leaves the thread that writes to the terminal alone: the change comes first."""
_PAUSE_SECONDS = 0.12
"""How long after an edit the checks wait for another one."""
_STALE_SECONDS = 0.3
"""How long totals of before an edit may stand."""


class Reckoning:
    """Counts and checks in small pieces; what comes of it goes to the view and the status line."""

    def __init__(self, app: DocumentApp) -> None:
        self._app = app
        self.slices = Slices(app)
        self.findings: tuple[Finding, ...] = ()
        self.findings_of: Rig | None = None
        """The rig that the findings are of: the one at hand, or one before the latest edits."""

    def stop(self) -> None:
        """Leave what is being worked out: it is of a rig that is not at hand any more."""
        self.slices.stop()

    def begin(self) -> None:
        """Work it out for the rig and the setlist at hand."""
        if self._app.document is not None and self._app.is_running:
            self.slices.start(self._work(self._app.document.rig))

    def _work(self, rig: Rig) -> Iterator[float]:
        """What is on the screen first, checks when idle."""
        yield _WRITE_SECONDS
        begun = time.monotonic()
        yield from self._count(rig)
        if self.findings_of is rig:
            self._count_faults()
            return
        yield max(0.0, begun + _PAUSE_SECONDS - time.monotonic())
        from rigtui.checks import Checkup

        checkup = Checkup(rig)
        for _ in checkup:
            yield 0.0
        yield 0.0
        self.findings, self.findings_of = checkup.findings, rig
        self._app.view.show_findings(self.findings)
        self._app.query_one(Pointer).keep_up(self.findings)
        yield 0.0
        self._count_faults()

    def _count(self, rig: Rig) -> Iterator[float]:
        """Count the setlist at hand and show its totals; say that it takes a while if it does."""
        from rigtui.moves.in_pieces import counting

        at_hand = self._app.setlist_id
        setlist = next((setlist for setlist in rig.setlists if setlist.id == at_hand), None)
        status, begun = self._app.query_one(StatusLine), time.monotonic()
        for _ in counting(rig, setlist, self._app.view.songs_in_sight()):
            if time.monotonic() > begun + _STALE_SECONDS:
                status.moves = "counting moves ..."
            yield 0.0
        status.setlist, status.moves, status.brief = totals_text(rig, at_hand)
        self._app.view.show_counts()

    def _count_faults(self) -> None:
        """Count what touches the setlist at hand, as the report lists it first."""
        from rigtui.checks import touching_setlist

        if self.findings_of is not None:
            touching = touching_setlist(self.findings_of, self.findings, self._app.setlist_id)
            self._app.query_one(StatusLine).faults = faults_text(touching)
