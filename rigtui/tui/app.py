"""The program on the screen: it owns the document, and gives views what to show."""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from rigtui.model.errors import BadRigError, RigError
from rigtui.store.kept import LastPlace, read_settings, settings_there, stood_in
from rigtui.tui.ascii_only import AsciiOnly, wants_ascii
from rigtui.tui.document import Document
from rigtui.tui.document_app import DocumentApp
from rigtui.tui.idle_garbage import IdleGarbage
from rigtui.tui.reckoning import Reckoning
from rigtui.tui.settings import apply_settings, choose_theme, colours, first_view, starts_as_left
from rigtui.tui.views.all_views import SHOWN_IN, VIEW_OF, VIEWS
from rigtui.tui.views.base import EditRequested, PlaceRequested, Said, SetlistChosen, View
from rigtui.tui.views.presets.first_sight import name_of
from rigtui.tui.widgets.bars import StatusLine, TopBar
from rigtui.tui.widgets.key_line import KeyLine
from rigtui.tui.widgets.overlay import Overlay
from rigtui.tui.widgets.pointer import Pointer

if TYPE_CHECKING:
    from textual.filter import LineFilter

    from rigtui.checks import Finding
    from rigtui.store.load import Source
    from rigtui.store.save import ChangedOnDiskError
    from rigtui.tui.keeping import Keeper


class TooSmall(Static):
    """Stands in for the views where they would be unreadable."""


class RigApp(DocumentApp):
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
        Binding("ctrl+e", "settings", "Settings", show=False, id="app.settings"),
        Binding("question_mark,f1", "help", "Help", key_display="?", id="app.help"),
        Binding("escape", "hide_pointer", "Hide the finding", show=False, id="app.hide-finding"),
        Binding("q,ctrl+q", "leave", "Quit", key_display="q", id="app.quit"),
    ]

    def __init__(self, source: Source | None = None, asked_for: bool = True) -> None:
        """Take what to begin with.

        Args:
            source: The file to open, as plainly read; None to ask what to open.
            asked_for: Whether the user named the file, and must hear if it is no good.
        """
        self.settings = read_settings()
        self._stood = stood_in(source.path) if source is not None else None
        """Where the player stood in the file to begin with, when it was left."""
        super().__init__(first_view(self.settings, self._stood), ansi_color=colours())
        self._ascii: list[AsciiOnly] = []
        self._apply_settings()
        self.source = source
        self.asked_for = asked_for
        self.fault: RigError | None = None
        self.reckoning = Reckoning(self)
        self._garbage: IdleGarbage | None = None
        self.keeper: Keeper | None = None
        self.begun = False
        """Whether what there is to open is open."""

    # Start

    def compose(self) -> ComposeResult:
        """Top bar, the views, status line, keys."""
        yield TopBar(VIEWS)
        with Vertical(id="stage"):
            yield VIEW_OF[self.view_id].make()
        yield TooSmall("Too small here: rigtui needs 40 columns by 8 rows", markup=False)
        yield Pointer()
        yield StatusLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the file as plainly read at once; models and counting follow the first paint."""
        if not self.is_headless:
            self.heed_signals()
        self.query_one(TopBar).here = self.view_id
        if self.source is not None:
            self.query_one(StatusLine).file = self.source.path.name
            self.query_one(TopBar).rig_name = name_of(self.source.data)
            with contextlib.suppress(TypeError, AttributeError, KeyError):
                self.view.preview(self.source.data)  # type: ignore[attr-defined]
            self.view.take_focus()
        self.call_after_refresh(self._begin)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What each line goes through before it is painted: ASCII alone where that is wanted."""
        return [*super().get_line_filters(), *self._ascii]

    def on_unmount(self) -> None:
        """Leave the interpreter as it was."""
        if self._garbage is not None:
            self._garbage.end()

    def ready_for_keys(self) -> bool:
        """Whether the file is open, and the screen at hand can take a key."""
        return self.begun and super().ready_for_keys()

    def _begin(self) -> None:
        try:
            self._open()
        finally:
            self.begun = True
        if settings_there():
            self.run_worker(self._look_at_settings, thread=True)

    def _look_at_settings(self) -> None:
        """Say what of the settings makes no sense, and is passed over."""
        from rigtui.tui.settings_editor import tell_faults

        if told := tell_faults():
            self.call_from_thread(self.say, told, "warning", 12)

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

        self._remember_place()
        self.document = document
        setlists = document.rig.setlists
        self.setlist_id = setlists[0].id if setlists else None
        self.refresh_all()
        self.view.take_focus()
        if self.keeper is None:
            self.keeper = Keeper(self)
        self.keeper.begin(document.path)
        self.keeper.offer_recovered(document.path)
        self._remember()
        if self._garbage is None:
            self._garbage = IdleGarbage(self)
        self._garbage.clear()
        self.call_next(self._stand_as_before, document)

    async def _stand_as_before(self, document: Document) -> None:
        """Go where the player stood when the file was left."""
        last = self._last_place(document)
        if last is None or last.screen not in VIEW_OF or document is not self.document:
            return
        if starts_as_left(self.settings) and last.screen != self.view_id:
            await self.action_view(last.screen)
        if last.screen == self.view_id and last.where:
            self.view.go_to(last.where)

    def _last_place(self, document: Document) -> LastPlace | None:
        first, self._stood = self._stood, None
        if self.source is not None and document.source is self.source:
            return first  # read at the start, when it said in which view to begin
        return stood_in(document.path) if document.path is not None else None

    def saved(self) -> None:
        """The document was saved: show it, and keep nothing safe any more."""
        self._show_file()
        if self.keeper is not None and self.document is not None and self.document.path is not None:
            self.keeper.saved(self.document.path)
        self._remember()

    def _remember(self) -> None:
        """Have the file at hand come first the next time."""
        from rigtui.store.kept import remember_file

        if self.document is not None and self.document.path is not None:
            remember_file(self.document.path)

    def _remember_place(self) -> None:
        """Have the next time begin where the player stands."""
        from rigtui.store.kept import remember_place

        if self.document is not None and self.document.path is not None:
            remember_place(self.document.path, LastPlace(self.view_id, self.view.here))

    def ask_before_save(self, error: ChangedOnDiskError) -> None:
        """Ask what to do about a file that another program has changed."""
        assert self.keeper is not None
        self.keeper.ask_before_save(error)

    def keep_edits(self) -> str:
        """Have unsaved edits in the journal at once."""
        return self.keeper.keep_now() if self.keeper is not None else ""

    # Views

    def findings_at_hand(self) -> tuple[Finding, ...]:
        """The findings of the rig at hand, worked out now if they were not yet."""
        from rigtui.checks import check

        assert self.document is not None
        rig = self.document.rig
        return self.reckoning.findings if self.reckoning.findings_of is rig else check(rig)

    def findings_known(self) -> tuple[Finding, ...]:
        """The findings of the rig at hand, if they are worked out."""
        rig = self.document.rig if self.document is not None else None
        return self.reckoning.findings if self.reckoning.findings_of is rig else ()

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
        self.query_one(Pointer).point(None)
        self.query_one(TopBar).here = view_id
        self.view.show_setlist(self.setlist_id)
        self.view.show_rig(self.document.rig)
        if self.reckoning.findings_of is self.document.rig:
            self.view.show_findings(self.reckoning.findings)
        self.view.take_focus()

    async def on_top_bar_view_chosen(self, event: TopBar.ViewChosen) -> None:
        """A view was clicked."""
        await self.action_view(event.view)

    async def on_place_requested(self, event: PlaceRequested) -> None:
        """Lead the player to a place."""
        await self.go_to(event.where, event.finding)

    async def go_to(self, where: str, finding: Finding | None = None) -> None:
        """Go to the view that shows a place, or say at which line of the file it stands.

        A finding that is about the place is told below the view.
        """
        from rigtui.model.places import taken_apart
        from rigtui.tui.files import mend_in_file

        target = SHOWN_IN.get(taken_apart(where).table)
        if target is not None:
            await self.action_view(target)
            if self.view.go_to(where):
                if finding is not None:
                    self.view.point_at(finding)
                    self.query_one(Pointer).point(finding)
                    self.refresh_bindings()
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

    # Showing

    def refresh_all(self) -> None:
        """Show the rig as it now is: the view at once, the totals next, the checks when idle."""
        assert self.document is not None
        rig = self.document.rig
        if self.setlist_id not in {None, *(setlist.id for setlist in rig.setlists)}:
            self.setlist_id = rig.setlists[0].id if rig.setlists else None
        self.view.show_setlist(self.setlist_id)
        self.view.show_rig(rig)
        if self.keeper is not None:
            self.keeper.edited()
        self._show_file()
        self.reckoning.stop()
        self.call_after_refresh(self.reckoning.begin)

    def _show_file(self) -> None:
        """Say in the lines above and below what is worked on, and whether it is saved."""
        document = self.document
        if document is not None and self.is_running:
            status = self.query_one(StatusLine)
            status.file, status.unsaved = document.name, document.dirty
            self.query_one(TopBar).rig_name = document.rig.name

    def on_setlist_chosen(self, event: SetlistChosen) -> None:
        """Another setlist is at hand."""
        self.setlist_id = event.setlist_id
        self.reckoning.begin()

    # Files

    def action_save(self) -> None:
        """Save, asking for a name where there is none."""
        from rigtui.tui.files import save_to

        if self.document is None:
            return
        if self.document.path is None:
            self.action_save_as()
        else:
            save_to(self, None)

    def action_save_as(self) -> None:
        """Save under another name."""
        from rigtui.tui.files import save_as_form

        if self.document is not None:
            self.ask(save_as_form(self))

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
        self._remember_place()
        if self.keeper is not None:
            self.keeper.end()
        self.exit(0)

    def action_find(self) -> None:
        """Find anything by name, unless a question is waiting for its answer."""
        from rigtui.tui.palette import Palette

        if not isinstance(self.screen, Overlay):
            palette = Palette(self)
            self.ask(palette, palette.run)

    def action_colours(self, theme: str) -> None:
        """Change the colours, and keep them so for the next time."""
        try:
            choose_theme(self, theme)
        except RigError as error:
            self.say(f"The colours can't be remembered for next time: {error}", "warning")

    def take_settings(self) -> None:
        """Put in force what the settings file says now."""
        self.settings = read_settings()
        self._apply_settings()
        self.refresh_css()

    def _apply_settings(self) -> None:
        apply_settings(self, self.settings)
        self._ascii = [AsciiOnly()] if wants_ascii(self.settings) else []

    def action_settings(self) -> None:
        """Open the settings in the user's editor."""
        from rigtui.tui.settings_editor import edit_settings

        edit_settings(self)

    def action_picture(self) -> None:
        """Save what the screen shows as a picture, where the program was started."""
        from rigtui.tui.files import save_picture

        save_picture(self)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Leave Esc to others while no finding is told below the view."""
        return action != "hide_pointer" or bool(self.query(".-pointing"))

    def action_hide_pointer(self) -> None:
        """Tell no more of the finding that led here."""
        self.query_one(Pointer).point(None)
        self.refresh_bindings()

    def action_help(self) -> None:
        """List the keys."""
        from rigtui.tui.help import HelpScreen

        self.ask(HelpScreen())
