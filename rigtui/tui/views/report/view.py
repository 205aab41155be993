"""The report: moves by song as bars, the busiest changes, and what the rules find."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from rigtui.checks import SEVERITIES, Finding, touching_setlist
from rigtui.checks.registry import RULES_BY_ID
from rigtui.model.cells import wrap
from rigtui.model.places import place_at, section_place
from rigtui.moves.in_pieces import soon_counted
from rigtui.tui.text import plain
from rigtui.tui.views.base import PlaceRequested
from rigtui.tui.views.paned import PanedView
from rigtui.tui.views.report.findings import (
    CauseKey,
    Filter,
    Shown,
    filters,
    finding_listing,
    group_name,
    group_of,
)
from rigtui.tui.views.report.first import FirstKey, FirstSteps
from rigtui.tui.views.report.lists import (
    ChangeKey,
    KeyedRows,
    SongKey,
    change_listing,
    setlist_of,
    song_listing,
    songs_at_hand,
)
from rigtui.tui.views.report.words import (
    cause_words,
    change_words,
    finding_words,
    song_words,
)
from rigtui.tui.widgets.grid import Grid
from rigtui.tui.widgets.panes import PaneBar, PaneTitle
from rigtui.tui.widgets.pick import Pick
from rigtui.tui.widgets.reading import Reading

if TYPE_CHECKING:
    from rigtui.model.rig import Rig

TALL = 30
"""Lines from which on the row at hand is told in more of them."""


_NAMED = 100
"""Cells of width from which on the setlist is named."""


class ReportView(PanedView):
    """Three lists, one at a time and the others as tabs, and the row at hand in full."""

    title = "Report"
    PANES = ("findings", "songs", "changes")
    DEFAULT_CSS = """
    ReportView {
        & > .pane { height: 1fr; display: none; }
        & > .pane.-here { display: block; }
        & .pane--title { display: none; }
        &.-tall > .words { height: 10; }
    }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "open", "Go there", id="report.open"),
        Binding("f", "fix", "Fix", id="report.fix"),
        Binding("w", "waive", "Waive", id="report.waive"),
        Binding("F", "filter", "Filter", id="report.filter"),
        Binding("i", "read", "Read in full", show=False, id="report.read"),
        Binding("tab", "pane(1)", "Next list", id="report.next"),
        Binding("shift+tab", "pane(-1)", "List before", show=False, id="report.before"),
    ]

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._shown = Shown()
        self._listings: dict[str, KeyedRows] = {}
        self._checked: Rig | None = None
        """The rig that the findings are of."""
        self._leaving: Finding | None = None
        """The finding that the player is done with: the cursor goes on to the next."""
        self._can: tuple[bool, bool] = (False, False)
        self._counted = False
        """Whether the moves that are shown are those of the rig shown."""
        self._first = FirstSteps(self, self._first_ready)
        self._drawn_width = 0
        self._opened: object = None
        """The document that it was last shown for."""

    def compose(self) -> ComposeResult:
        """The lists as tabs, the one at hand, and its row at hand in full."""
        yield PaneBar()
        yield from self.compose_panes()
        yield Static("", id="report-words", classes="words", markup=False)

    def on_unmount(self) -> None:
        """Leave no adviser behind."""
        self._first.kill()

    # The lists

    def pane_changed(self) -> None:
        """Mark the list that takes the keys, and tell of its row at hand."""
        self._title()
        self._describe()

    @property
    def key(self) -> Any:
        """What is under the cursor: one of the lists' keys, a Finding, or nothing."""
        listing = self._listings.get(self.pane)
        at = self.grid.cursor_row
        return listing.keys[at] if listing is not None and at < len(listing.keys) else None

    # Showing

    def show_rig(self, rig: Rig) -> None:
        """Show the moves of a rig; the findings of before stand until its own arrive."""
        super().show_rig(rig)
        document = getattr(self.app, "document", None)
        if document is not self._opened:
            self._opened = document
            self._first.forget()
        if self._checked is not None:
            self._first.ask(rig)
        self._draw_moves()
        if self._checked is None or self._checked is rig:
            self._draw_findings()
        self._title()
        self._describe()

    def songs_in_sight(self) -> Iterable[str]:
        """Ids of the songs in the first list that are on the screen."""
        listing = self._listings.get("songs")
        keys = [listing.keys[at] for at in self._grid("songs").in_sight] if listing else []
        return [key.song_id for key in keys if key is not None]

    def show_counts(self) -> None:
        """Show the moves if that had to wait until they were counted."""
        if not self._counted:
            self._draw_moves()
            self._title()
            self._describe()

    def show_setlist(self, setlist_id: str | None) -> None:
        """Another setlist is at hand: begin at its first song."""
        if setlist_id != self.setlist_id:
            self._grid("songs").move_to(0)
        super().show_setlist(setlist_id)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """Show the findings, the cursor on the one where it was, or on the next."""
        super().show_findings(findings)
        self._checked = self.rig
        if self.rig is not None:
            self._first.ask(self.rig)
        self._draw_findings()
        self._title()
        self._describe()

    def on_resize(self) -> None:
        """Use the room that there is."""
        self.set_class(self.full_height >= TALL, "-tall")
        if self.size.width != self._drawn_width:  # else a notice came or went below
            self._drawn_width = self.size.width
            self._draw_moves()
            self._draw_findings()
        self._describe()

    def _first_ready(self) -> None:
        """What to do first is known; the cursor goes there if the player has not moved it yet."""
        grid, before = self._grid("findings"), self._listings.get("findings")
        untouched = before is None or grid.cursor_row <= _first_row(before)
        self._draw_findings()
        after = self._listings.get("findings")
        if untouched and after is not None and self._first.first is not None:
            grid.move_to(_first_row(after))
        self._describe()

    def _draw_moves(self) -> None:
        rig = self.rig
        if rig is None:
            return
        at_hand = (song.id for song in songs_at_hand(rig, self.setlist_id))
        self._counted = soon_counted(rig, at_hand)
        if not self._counted:  # until they are, what was there before stays
            for name in ("songs", "changes"):
                self._grid(name).empty_text = "Counting the moves ..."
            return
        width = self.size.width or self.app.size.width
        self._show("songs", song_listing(rig, self.setlist_id, width), "No songs yet.")
        nothing = "No change needs a press."
        self._show("changes", change_listing(rig, self.setlist_id, width), nothing)

    def _draw_findings(self) -> None:
        rig = self._checked or self.rig
        if rig is None:
            return
        width = self.size.width or self.app.size.width
        wanted = self._shown.filter
        first = self._first.rows(rig, width) if wanted == Filter() and self._checked else []
        shown = finding_listing(
            rig,
            self.findings,
            self._shown,
            width,
            self.setlist_id,
            first,
            first_leads=self._first.leads(self._at_hand(rig)),
        )
        if wanted != Filter() and not any(map(wanted.takes, self.findings)):
            nothing = f"Nothing {wanted.label} any more: F shows all findings."
        elif self._checked is None:
            nothing = "Checking the rig ..."
        else:
            nothing = "Nothing found: no rule sees trouble in this rig."
        self._show("findings", shown, nothing)

    def _show(self, name: str, listing: KeyedRows, nothing: str) -> None:
        """Show a list, with the cursor on what it stood on before."""
        grid, before = self._grid(name), self._listings.get(name)
        self._listings[name] = listing
        grid.empty_text = nothing
        at = None
        if before is not None and name != "songs":
            at = self._next_place(before, listing, grid.cursor_row)
        grid.show(listing.columns, listing.rows)
        if at is not None:
            grid.move_to(at)

    def _next_place(self, before: KeyedRows, after: KeyedRows, row: int) -> int | None:
        """Row of what the cursor stood on, or else of what came next, or else before."""
        names = [(_name(key), at) for at, key in enumerate(after.keys) if key is not None]
        same = dict(reversed(names))
        alike: dict[Any, int] = {}  # made when one is looked for that is not the same
        below = [key for key in before.keys[row:] if key is not None]
        above = [key for key in reversed(before.keys[:row]) if key is not None]
        done = self._leaving
        if any(key is done for key in below):
            self._leaving = None
        for key in (*below, *above):
            if key is not done:
                place = same.get(_name(key))
                if place is None:
                    alike = alike or {name[:2]: at for name, at in reversed(names)}
                    place = alike.get(_name(key)[:2])
                if place is not None:
                    return place
        return None

    def _at_hand(self, rig: Rig) -> tuple[Finding, ...]:
        """The findings of the setlist at hand and of the rig."""
        return touching_setlist(rig, self.findings, self.setlist_id)

    def _title(self) -> None:
        rig = self.rig
        setlist = setlist_of(rig, self.setlist_id) if rig is not None else None
        at_hand = self._at_hand(self._checked) if rig is not None and self._checked else ()
        groups = [group_of(finding) for finding in at_hand]
        words = [
            group_name(name, groups.count(name))
            for name in (*SEVERITIES, "waived")
            if name in groups
        ]
        title = PaneTitle("Findings", ": " + (", ".join(words[:2]) or "none"))
        if self._shown.filter.label:
            title = PaneTitle("Findings", f", only {self._shown.filter.label}")
        of = ""
        if setlist is not None and (self.size.width or self.app.size.width) >= _NAMED:
            of = f" of {setlist.label}"
        moves = PaneTitle("Moves by song", of + self._many("songs", SongKey))
        busiest = PaneTitle("Busiest changes", self._many("changes", ChangeKey))
        self.query_one(PaneBar).titles = (title, moves, busiest)

    def _many(self, name: str, kind: type[Any]) -> str:
        """How many rows of a kind a list has, in brackets; nothing while it is made."""
        listing = self._listings.get(name)
        if listing is None:
            return ""
        return f" ({sum(isinstance(key, kind) for key in listing.keys)})"

    def on_grid_cursor_moved(self, event: Grid.CursorMoved) -> None:
        """Tell of the row under the cursor."""
        if event.grid is self.grid:
            self._describe()

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor goes to the place."""
        self.action_open()

    def _lines(self) -> list[Content]:
        """What the cursor stands on, in words."""
        rig, key = self.rig, self.key
        if rig is None or key is None:
            return []
        if isinstance(key, SongKey):
            return song_words(rig, key)
        if isinstance(key, CauseKey):
            return cause_words(key, key in self._shown.opened)
        if isinstance(key, FirstKey):
            return self._first.words(key)
        return finding_words(rig, key) if isinstance(key, Finding) else change_words(rig, key)

    def _describe(self) -> None:
        key, lines = self.key, self._lines()
        words = self.query_one("#report-words", Static)
        room = words.content_size
        needed = sum(max(1, len(wrap(line.plain, max(1, room.width)))) for line in lines)
        if lines and needed > room.height > 0:
            lines[0] += plain("  (i: all of it)")
        words.update(Content("\n").join(lines))
        is_finding = isinstance(key, Finding)
        can = (
            isinstance(key, FirstKey) or (isinstance(key, Finding) and key.mendable),
            is_finding or _can_be_waived(key),
        )
        if can != self._can:
            self._can = can
            self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Grey out what the row under the cursor has no use for."""
        if action == "fix":
            return True if self._can[0] else None
        if action == "waive":
            return True if self._can[1] else None
        return True

    # Doing

    def action_open(self) -> None:
        """Go to the cell at fault, or to the song or change; open a cause, or look at a remedy."""
        key = self.key
        if isinstance(key, FirstKey):
            self._look_at(key)
        if isinstance(key, SongKey):
            self.post_message(PlaceRequested(place_at("songs", key.song_id)))
        elif isinstance(key, ChangeKey):
            self.post_message(PlaceRequested(section_place(key.song_id, key.to_section)))
        elif isinstance(key, Finding):
            self.post_message(PlaceRequested(key.where, key))
        elif isinstance(key, CauseKey):
            self._shown = self._shown._replace(opened=self._shown.opened ^ {key})
            self._draw_findings()

    def _look_at(self, key: FirstKey) -> None:
        """Show what a remedy would do, section by section; do it if the player accepts."""
        from rigtui.tui.views.report.remedy_preview import RemedyPreview

        remedy, rig = self._first.remedy(key), self.rig
        if rig is None or remedy is None:
            return
        if not self._first.is_of(rig):
            self.say("One moment: the remedies are being tried on the new rig")
            return

        def answered(answer: str | None) -> None:
            if answer == "y":
                what = remedy.proposal.what
                self.request(what[0].lower() + what[1:], remedy.proposal.edit, f"Done: {what}")
            elif answer:
                self.post_message(PlaceRequested(answer))

        self.app.push_screen(RemedyPreview(rig, remedy), answered)

    def action_read(self) -> None:
        """Read in full what the cursor stands on."""
        lines = self._lines()
        if lines:
            self.app.push_screen(Reading(lines))

    def on_key(self, event: events.Key) -> None:
        """Say why a key does nothing here."""
        if all(self._can):
            return
        active = self.screen.active_bindings.get(event.key)
        if active is not None and active.node is self and not active.enabled:
            self.say(self._why_not(active.binding.action))

    def _why_not(self, action: str) -> str:
        key = self.key
        if isinstance(key, FirstKey):
            return "You can't waive a remedy: Enter shows what it does"
        if not isinstance(key, Finding):
            doing = "fix" if action == "fix" else "waive"
            return f"There is nothing to {doing} in this list: Tab goes on to the findings"
        if key.waived is not None:
            return "You have waived this one: w takes that back"
        return "This one has no fix: Enter goes to the place"

    def action_fix(self) -> None:
        """Do what mends the finding; ask first which way, or whether it may cost."""
        if isinstance(self.key, FirstKey):
            self._look_at(self.key)
            return
        from rigtui.tui.views.report.mending import mend

        finding, rig = self._current(), self.rig
        if rig is not None and isinstance(finding, Finding) and finding.mendable:
            mend(self, rig, finding)

    def action_waive(self) -> None:
        """Accept a finding or all of a cause, asking where and why; take a waiver back."""
        from rigtui.tui.views.report.waiving import ask_waiver, take_back

        key, rig = self._current(), self.rig
        if rig is None or key is None:
            return

        def leave() -> None:
            self._leaving = key if isinstance(key, Finding) else None

        if not isinstance(key, Finding) or key.waived is None:
            ask_waiver(self, rig, key, leave)
        elif take_back(self, rig, key):
            leave()

    def _current(self) -> Finding | CauseKey | None:
        """The finding or cause under the cursor, if it is one of the rig as it is now."""
        key = self.key
        if not isinstance(key, Finding) and not _can_be_waived(key):
            return None
        if self._checked is not self.rig:
            self.say("One moment: checking the rig again")
            return None
        assert isinstance(key, Finding | CauseKey)
        return key

    def action_filter(self) -> None:
        """Choose which findings are shown."""
        choices = filters(self.findings)
        shown = [
            str(at) for at, (filter_, _) in enumerate(choices) if filter_ == self._shown.filter
        ]

        def chosen(answer: str | None) -> None:
            if answer is not None:
                self._shown = Shown(choices[int(answer)][0])
                self._draw_findings()
                self._go_to_pane(self.PANES.index("findings"))

        labels = [(str(at), words) for at, (_, words) in enumerate(choices)]
        self.app.push_screen(
            Pick("Show which findings?", labels, shown[0] if shown else "0"), chosen
        )


def _first_row(listing: KeyedRows) -> int:
    """The first row on which the cursor can stand."""
    return next((at for at, key in enumerate(listing.keys) if key is not None), 0)


def _can_be_waived(key: Any) -> bool:
    """Whether a line stands for the findings of one rule."""
    return isinstance(key, CauseKey) and key.rule in RULES_BY_ID


def _name(key: ChangeKey | Finding | CauseKey | FirstKey) -> tuple[Any, ...]:
    """What makes a row the same one after an edit: all of it, or at least the first two parts."""
    if isinstance(key, FirstKey):
        return "first", key.what
    if isinstance(key, CauseKey):
        return "cause", key.rule, key.severity
    if isinstance(key, Finding):
        return key.rule, key.where, key.message
    return key.song_id, key.to_section
