"""What all views share: they are given a rig, ask for edits, and can be led to a place in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, ClassVar

from textual.containers import Vertical
from textual.message import Message
from textual.widget import Widget

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig


LINES_AROUND = 3
"""The tabs, the status line and the keys."""


class EditRequested(Message):
    """A view wants the rig changed. The app does it, or says why not."""

    def __init__(self, label: str, edit: Callable[[Rig], Rig], done: str = "") -> None:
        super().__init__()
        self.label = label
        self.edit = edit
        self.done = done
        """What to say once it is done; empty where the view shows it well enough."""


class Said(Message):
    """A view has something to say, in place of what it said before."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text


class PlaceRequested(Message):
    """A view wants the player led to a place, a dotted path of table and ids."""

    def __init__(self, where: str, finding: Finding | None = None) -> None:
        super().__init__()
        self.where = where
        self.finding = finding
        """What is the matter there, to be told beside it."""


class SetlistChosen(Message):
    """Another setlist is at hand: its totals go in the status line."""

    def __init__(self, setlist_id: str | None) -> None:
        super().__init__()
        self.setlist_id = setlist_id


class View(Vertical):
    """One part of the job, filling the screen between the top bar and the status line."""

    title = ""
    PARTS: ClassVar[tuple[type[Widget], ...]] = ()
    """Its parts that have keys of their own, for the palette."""

    @classmethod
    def keyed(cls) -> tuple[type[Widget], ...]:
        """The view and those of its parts that have keys."""
        return (cls, *cls.PARTS)

    @classmethod
    def called(cls, part: type[Widget]) -> str:
        """What the palette calls the view, or one of its parts."""
        return cls.title

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self.rig: Rig | None = None
        self.findings: tuple[Finding, ...] = ()
        self.setlist_id: str | None = None

    def show_rig(self, rig: Rig) -> None:
        """Show a rig; called after every edit while the view is in sight."""
        self.rig = rig

    def songs_in_sight(self) -> Iterable[str]:
        """Ids of the songs on the screen, whose moves are counted first."""
        return ()

    def show_counts(self) -> None:
        """The moves of the rig shown are all counted now: fill in what was left blank."""

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """Take the findings of the rig shown, some time after the rig itself."""
        self.findings = findings

    def show_setlist(self, setlist_id: str | None) -> None:
        """Take the setlist at hand; called before `show_rig`."""
        self.setlist_id = setlist_id

    def go_to(self, where: str) -> bool:
        """Put the cursor on a place; return False if this view does not show it."""
        return False

    @property
    def here(self) -> str:
        """The place under the cursor, as `go_to` takes it; empty where there is none."""
        return ""

    def point_at(self, finding: Finding) -> None:
        """Put the cursor, which is at a finding's place, on the very cell that it is about."""

    @property
    def full_height(self) -> int:
        """Lines of the view while nothing is being said below it: what is laid out by height
        does not change for a notice."""
        return self.app.size.height - LINES_AROUND

    def take_focus(self) -> None:
        """Focus what the keys should reach first."""

    def say(self, text: str) -> None:
        """Say something below the view."""
        self.post_message(Said(text))

    def request(self, label: str, edit: Callable[[Rig], Rig], done: str = "") -> None:
        """Ask for an edit, and for what to say once it is done."""
        self.post_message(EditRequested(label, edit, done))
