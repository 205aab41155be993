"""What the screens' other files may ask of the program: the document at hand, and its doors.

Questions, keeping, files and the palette know this class; the app itself knows them.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.widget import Widget

from rigtui.model.errors import RigError
from rigtui.tui.document import Document
from rigtui.tui.talking import TalkingApp
from rigtui.tui.views.base import View
from rigtui.tui.widgets.grid import Grid

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig
    from rigtui.store.load import Source
    from rigtui.store.save import ChangedOnDiskError


class DocumentApp(TalkingApp):
    """An app with a document that is shown in a view, and edited through one door."""

    def __init__(self, view_id: str, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self.document: Document | None = None
        self.setlist_id: str | None = None
        """The setlist at hand."""
        self.view_id = view_id

    @property
    def view(self) -> View:
        """The view in sight."""
        return self.query_one(f"#{self.view_id}", View)

    def apply(self, label: str, edit: Callable[[Rig], Rig], done: str = "") -> None:
        """Do an edit as one step of undo and say what came of it, or why it cannot be done."""
        if self.document is None:
            return
        try:
            changed = self.document.apply(label, edit)
        except RigError as error:
            self.say(str(error), "error")
            return
        if changed:
            self.refresh_all()
            if done:
                self.say_in_place(done, seconds=6)

    def adopt(self, source: Source, rig: Rig) -> None:
        """Take what the file holds now, as one step of undo."""
        assert self.document is not None
        self.document.apply("load the file", lambda _: rig)
        self.document.source, self.document.saved = source, rig
        self.refresh_all()

    def findings_at_hand(self) -> tuple[Finding, ...]:
        """The findings of the rig at hand, worked out now if they were not yet."""
        raise NotImplementedError

    def findings_known(self) -> tuple[Finding, ...]:
        """The findings of the rig at hand; none while they are not worked out."""
        raise NotImplementedError

    def refresh_all(self) -> None:
        """Show the rig as it now is."""
        raise NotImplementedError

    def open_document(self, document: Document) -> None:
        """Work on a document."""
        raise NotImplementedError

    async def action_view(self, view_id: str) -> None:
        """Go to another part of the job."""
        raise NotImplementedError

    async def act_in(self, view_id: str, part: type[Widget], action: str) -> None:
        """Go to a view and do what a key of it, or of one of its parts, does there."""
        await self.action_view(view_id)
        widget = self.view if isinstance(self.view, part) else self.view.query_one(part)
        grid = widget.query(Grid)
        if grid and widget.display:
            grid.first().focus()
        if not await self.run_action(action, widget):
            self.say_in_place("Select something on this screen first.")

    async def go_to(self, where: str, finding: Finding | None = None) -> None:
        """Go to the view that shows a place, or say at which line of the file it stands."""
        raise NotImplementedError

    def saved(self) -> None:
        """The document was saved: show it, and keep nothing safe any more."""
        raise NotImplementedError

    def ask_before_save(self, error: ChangedOnDiskError) -> None:
        """Ask what to do about a file that another program has changed."""
        raise NotImplementedError

    def action_save_as(self) -> None:
        """Save under another name."""
        raise NotImplementedError

    def action_colours(self, theme: str) -> None:
        """Change the colours, and keep them so for the next time."""
        raise NotImplementedError

    def take_settings(self) -> None:
        """Put in force what the settings file says now."""
        raise NotImplementedError

    def action_picture(self) -> None:
        """Save what the screen shows as a picture."""
        raise NotImplementedError
