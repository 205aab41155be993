"""The program on the screen: it owns the document, and gives views what to show."""

from __future__ import annotations

import contextlib
import time
from collections.abc import Awaitable, Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Footer, Static

from rigtui.model.errors import BadRigError, RigError
from rigtui.tui.document import Document
from rigtui.tui.idle_garbage import IdleGarbage
from rigtui.tui.last_breath import LastBreath
from rigtui.tui.settings import apply_settings, choose_theme, colours
from rigtui.tui.slices import Slices
from rigtui.tui.text import plain
from rigtui.tui.totals import faults_text, totals_text
from rigtui.tui.views.all_views import FIRST, SHOWN_IN, VIEW_OF, VIEWS
from rigtui.tui.views.base import EditRequested, PlaceRequested, Said, SetlistChosen, View
from rigtui.tui.views.presets.first_sight import name_of
from rigtui.tui.widgets.bars import StatusLine, TopBar
from rigtui.tui.widgets.question import Answer, Question

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig
    from rigtui.store.fingerprint import Fingerprint
    from rigtui.store.load import Source
    from rigtui.tui.keeping import Keeper

_WRITE_SECONDS = 0.004
"""How long counting leaves the thread that writes to the terminal alone: the change comes first."""
_PAUSE_SECONDS = 0.12
"""How long after an edit the checks wait for another one."""
_STALE_SECONDS = 0.3
"""How long totals of before an edit may stand."""


class TooSmall(Static):
    """Stands in for the views where they would be unreadable."""


class RigApp(LastBreath):
    """rigtui on the screen."""

    TITLE = "rigtui"
    CSS_PATH = "rigtui.tcss"
    # The screen library's own selection of text fails on a widget that goes away under the mouse,
    # such as a notice. With shift held the terminal selects text, here as everywhere.
    ALLOW_SELECT = False
    ENABLE_COMMAND_PALETTE = False  # the library's own; `Palette` knows the rig
    HORIZONTAL_BREAKPOINTS = [(0, "-tiny"), (40, "-wide")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-flat"),
        (8, "-short"),
        (16, "-tall"),
    ]
    BINDINGS: ClassVar[list[BindingType]] = [
        *(view.binding for view in VIEWS),
        Binding("u,ctrl+z", "undo", "Undo", id="app.undo"),
        Binding("r,ctrl+y", "redo", "Redo", show=False, id="app.redo"),
        Binding("s,ctrl+s", "save", "Save", id="app.save"),
        Binding("S", "save_as", "Save as", show=False, id="app.save-as"),
        Binding("O", "open_other", "Open another rig", show=False, id="app.open"),
        Binding("V", "versions", "Saved versions", show=False, id="app.versions"),
        Binding(
            "ctrl+n", "name_version", "Name the saved version", show=False, id="app.name-version"
        ),
        Binding("ctrl+p", "find", "Find anything", show=False, priority=True, id="app.find"),
        Binding("question_mark,f1", "help", "Help", key_display="?", id="app.help"),
        Binding("q,ctrl+q", "leave", "Quit", key_display="q", id="app.quit"),
    ]

    def __init__(self, source: Source | None = None, asked_for: bool = True) -> None:
        """Take what to begin with.

        Args:
            source: The file to open, as plainly read; None to ask what to open.
            asked_for: Whether the user named the file, and must hear if it is no good.
        """
        super().__init__(ansi_color=colours())
        apply_settings(self)
        self.source = source
        self.asked_for = asked_for
        self.document: Document | None = None
        self.fault: RigError | None = None
        self.setlist_id: str | None = None
        self.findings: tuple[Finding, ...] = ()
        self.findings_of: Rig | None = None
        """The rig that the findings are of: the one at hand, or one before the latest edits."""
        self.view_id = FIRST
        self._slices = Slices(self)
        self._garbage: IdleGarbage | None = None
        self._keeper: Keeper | None = None
        self._begun = False
        self._said = ""

    # Start

    def compose(self) -> ComposeResult:
        """Top bar, the views, status line, keys."""
        yield TopBar(VIEWS)
        with Vertical(id="stage"):
            yield VIEW_OF[FIRST].make()
        yield TooSmall("Too small here: rigtui needs 40 columns by 8 rows", markup=False)
        yield StatusLine()
        yield Footer(compact=True, show_command_palette=False)

    def on_mount(self) -> None:
        """Show the file as plainly read at once; models and counting follow the first paint."""
        if not self.is_headless:
            self.heed_signals()
        self.query_one(TopBar).here = self.view_id
        if self.source is not None:
            self.query_one(StatusLine).file = self.source.path.name
            self.query_one(TopBar).rig_name = name_of(self.source.data)
            with contextlib.suppress(TypeError, AttributeError, KeyError):
                self._view.preview(self.source.data)  # type: ignore[attr-defined]
            self._view.take_focus()
        self.call_after_refresh(self._begin)

    def on_unmount(self) -> None:
        """Leave the interpreter as it was."""
        if self._garbage is not None:
            self._garbage.end()

    def ready_for_keys(self) -> bool:
        """Whether the file is open, and the screen at hand can take a key."""
        return self._begun and super().ready_for_keys()

    def _begin(self) -> None:
        try:
            self._open()
        finally:
            self._begun = True

    def _open(self) -> None:
        if self.source is None:
            self.action_open_other()
        else:
            from rigtui.store.formats import rig_to_look_at

            try:
                rig, read_only = rig_to_look_at(self.source)
            except BadRigError as error:
                if not self.asked_for:
                    self.action_open_other()
                    return
                self.fault = error
                self.exit(2, return_code=2)
                return
            self.open_document(Document(rig, self.source.path, self.source, read_only))
            if read_only is not None:
                self.say(read_only, "warning")

    def open_document(self, document: Document) -> None:
        """Work on a document."""
        from rigtui.tui.keeping import Keeper

        self.document = document
        setlists = document.rig.setlists
        self.setlist_id = setlists[0].id if setlists else None
        self.refresh_all()
        self._view.take_focus()
        if self._keeper is None:
            self._keeper = Keeper(self)
        self._keeper.begin(document.path)
        self._keeper.offer_recovered(document.path)
        self._remember()
        if self._garbage is None:
            self._garbage = IdleGarbage(self)
        self._garbage.clear()

    def _remember(self) -> None:
        """Have the file at hand come first the next time."""
        from rigtui.store.kept import remember_file

        if self.document is not None and self.document.path is not None:
            remember_file(self.document.path)

    def keep_edits(self) -> str:
        """Have unsaved edits in the journal at once."""
        return self._keeper.keep_now() if self._keeper is not None else ""

    # Views

    @property
    def _view(self) -> View:
        return self.query_one(f"#{self.view_id}", View)

    async def action_view(self, view_id: str) -> None:
        """Go to another part of the job."""
        if self.document is None:
            return
        stage = self.query_one("#stage")
        if not stage.query(f"#{view_id}"):
            await stage.mount(VIEW_OF[view_id].make())
        for view in stage.query(View):
            view.display = view.id == view_id
        self.view_id = view_id
        self.query_one(TopBar).here = view_id
        self._view.show_setlist(self.setlist_id)
        self._view.show_rig(self.document.rig)
        if self.findings_of is self.document.rig:
            self._view.show_findings(self.findings)
        self._view.take_focus()

    async def on_top_bar_chosen(self, event: TopBar.Chosen) -> None:
        """A view was clicked."""
        await self.action_view(event.view)

    async def on_place_requested(self, event: PlaceRequested) -> None:
        """Lead the player to a place."""
        await self.go_to(event.where)

    async def go_to(self, where: str) -> None:
        """Go to the view that shows a place, or say at which line of the file it stands."""
        from rigtui.model.places import taken_apart
        from rigtui.tui.files import mend_in_file

        target = SHOWN_IN.get(taken_apart(where).table)
        if target is not None:
            await self.action_view(target)
            if self._view.go_to(where):
                return
        if self.document is not None:
            self.say(mend_in_file(self.document, where), seconds=12)

    # Edits

    def on_edit_requested(self, event: EditRequested) -> None:
        """Do what a view asks for."""
        self.apply(event.label, event.edit, event.done)

    def on_said(self, event: Said) -> None:
        """Say what a view has to say."""
        self.say_in_place(event.text, seconds=4)

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

    def action_undo(self) -> None:
        """Take the last step back."""
        if self.document is not None:
            label = self.document.undo()
            self._stepped("Undone", label, "Nothing to undo")

    def action_redo(self) -> None:
        """Do the last step again that was taken back."""
        if self.document is not None:
            label = self.document.redo()
            self._stepped("Done again", label, "Nothing to redo")

    def _stepped(self, what: str, label: str | None, nothing: str) -> None:
        if label is None:
            self.say_in_place(nothing)
        else:
            self.refresh_all()
            self.say_in_place(f"{what}: {label}")

    def say_in_place(self, text: str, seconds: float = 2) -> None:
        """Say something in place of what was last said this way, so that it does not pile up."""
        for one in list(self._notifications):
            if one.message == self._said:
                self._unnotify(one, refresh=False)
        self._said = plain(text).plain
        self.say(text, seconds=seconds)

    def say(self, text: str, severity: Any = "information", seconds: float = 4) -> None:
        """Say something in a corner; text from the file stays text."""
        self.notify(plain(text).plain, severity=severity, markup=False, timeout=seconds)

    def ask(
        self,
        question: Question[Answer],
        answered: Callable[[Answer | None], Awaitable[None] | None] | None = None,
    ) -> None:
        """Put a question to the player, once what asks it is done: a form that is being handed in
        goes first, and the answer is heard by the app, which stays."""
        self.call_later(self.push_screen, question, answered)

    # Showing

    def refresh_all(self) -> None:
        """Show the rig as it now is: the view at once, the totals next, the checks when idle."""
        assert self.document is not None
        rig = self.document.rig
        if self.setlist_id is not None and all(one.id != self.setlist_id for one in rig.setlists):
            self.setlist_id = rig.setlists[0].id if rig.setlists else None
        self._view.show_setlist(self.setlist_id)
        self._view.show_rig(rig)
        if self._keeper is not None:
            self._keeper.edited()
        self._show_file()
        self._slices.stop()
        self.call_after_refresh(self._begin_work)

    def _show_file(self) -> None:
        """Say in the lines above and below what is worked on, and whether it is saved."""
        document = self.document
        if document is not None and self.is_running:
            status = self.query_one(StatusLine)
            status.file, status.unsaved = document.name, document.dirty
            self.query_one(TopBar).rig_name = document.rig.name

    def _begin_work(self) -> None:
        if self.document is not None and self.is_running:
            self._slices.start(self._work(self.document.rig))

    def _work(self, rig: Rig) -> Iterator[float]:
        """Count and check a rig in small pieces: what is on the screen first, checks when idle."""
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
        self._view.show_findings(self.findings)
        yield 0.0
        self._count_faults()

    def _count(self, rig: Rig) -> Iterator[float]:
        """Count the setlist at hand and show its totals; say that it takes a while if it does."""
        from rigtui.moves.in_pieces import counting

        setlist = next((one for one in rig.setlists if one.id == self.setlist_id), None)
        status, begun = self.query_one(StatusLine), time.monotonic()
        for _ in counting(rig, setlist, self._view.songs_in_sight()):
            if time.monotonic() > begun + _STALE_SECONDS:
                status.moves = "counting moves ..."
            yield 0.0
        status.setlist, status.moves = totals_text(rig, self.setlist_id)
        self._view.show_counts()

    def on_setlist_chosen(self, event: SetlistChosen) -> None:
        """Another setlist is at hand."""
        self.setlist_id = event.setlist_id
        self._begin_work()

    def _count_faults(self) -> None:
        """Count what touches the setlist at hand, as the report lists it first."""
        from rigtui.checks import touching_setlist

        if self.findings_of is not None:
            found = touching_setlist(self.findings_of, self.findings, self.setlist_id)
            self.query_one(StatusLine).faults = faults_text(found)

    # Files

    def action_save(self) -> None:
        """Save, asking for a name where there is none."""
        if self.document is None:
            return
        if self.document.path is None:
            self.action_save_as()
        else:
            self.save_to(None)

    def action_save_as(self) -> None:
        """Save under another name."""
        from rigtui.tui.files import save_as_form

        if self.document is not None:
            self.ask(save_as_form(self))

    def save_to(
        self, path: Path | None, overwrite: bool = False, seen: Fingerprint | None = None
    ) -> str | None:
        """Save; return what went wrong, or None.

        Args:
            path: Where to; the document's own file if None.
            overwrite: Whether the player has said to write over what another program wrote,
            seen: and what the file was like then.
        """
        from rigtui.store.fingerprint import seen_at
        from rigtui.store.save import ChangedOnDiskError
        from rigtui.tui.files import ask_overwrite

        assert self.document is not None
        try:
            notes = self.document.save(path, overwrite, seen)
        except ChangedOnDiskError as error:
            if path is None and self._keeper is not None:
                self._keeper.ask_before_save(error)
            else:
                ask_overwrite(self, str(error), path, seen_at(path) if path else None)
            return None
        except RigError as error:
            landed = getattr(error, "landed", False)
            self.say(str(error) if landed else f"Not saved: {error}", "error")
            return str(error)
        self._show_file()
        if self._keeper is not None and self.document.path is not None:
            self._keeper.saved(self.document.path)
        self._remember()
        if notes:
            self.say(f"Saved, but {'; '.join(notes)}", "warning", seconds=10)
        else:
            self.say(f"Saved {self.document.name}")
        return None

    def action_versions(self) -> None:
        """Go back to a version that was saved earlier."""
        from rigtui.tui.restoring import ask_version

        ask_version(self)

    def action_name_version(self) -> None:
        """Give the version that is saved now a name."""
        from rigtui.tui.restoring import name_form

        form = name_form(self)
        if form is not None:
            self.ask(form)

    def action_leave(self) -> None:
        """Quit, asking first if something is not saved."""
        from rigtui.tui.files import ask_unsaved

        ask_unsaved(self, "quit", self.leave)

    def action_open_other(self) -> None:
        """Open another rig, asking first if something is not saved."""
        from rigtui.tui.files import ask_unsaved
        from rigtui.tui.start import ask_what_to_open

        ask_unsaved(self, "open another rig", lambda: ask_what_to_open(self))

    def leave(self) -> None:
        """Quit in good order: nothing is left to recover."""
        if self._keeper is not None:
            self._keeper.end()
        self.exit(0)

    def action_find(self) -> None:
        """Find anything by name, unless a question is waiting for its answer."""
        from rigtui.tui.palette import Palette

        if not isinstance(self.screen, Question):
            palette = Palette(self)
            self.ask(palette, palette.run)

    def action_colours(self, theme: str) -> None:
        """Change the colours, and keep them so for the next time."""
        try:
            choose_theme(self, theme)
        except RigError as error:
            self.say(f"The colours are not kept for the next time: {error}", "warning")

    def action_picture(self) -> None:
        """Save what the screen shows as a picture, where the program was started."""
        try:
            path = self.save_screenshot()
        except OSError as error:
            self.say(f"No picture was saved: {error.strerror or error}", "error")
        else:
            self.say(f"Saved {path}")

    def action_help(self) -> None:
        """List the keys."""
        from rigtui.tui.help import HelpScreen

        self.ask(HelpScreen())
