"""A sheet to look through before it is written: its text, and the way to a file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, get_args

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from rigtui.tui.document_app import DocumentApp
from rigtui.tui.text import plain
from rigtui.tui.typed_path import PathFault, typed_path
from rigtui.tui.widgets.dialogs import Field, Form
from rigtui.tui.widgets.overlay import Overlay

if TYPE_CHECKING:
    from rigtui.advice.first import First
    from rigtui.model.base import SheetKind
    from rigtui.model.rig import Rig, Setlist
    from rigtui.paper import Sheet
    from rigtui.sheets.sizes import Paper
    from rigtui.tui.adviser import Adviser

_FRAME = 4
"""Cells beside the text: its margins and the scroll bar."""
_LEAST = 20
"""Cells that a line has at the least, however narrow the screen."""
_KEYS = "w write to a file   n note as printed   Esc back   ? keys   ↑↓ PgUp PgDn"


def sheet_commands(app: DocumentApp) -> Iterator[tuple[str, Callable[[], None]]]:
    """List the sheets for the command palette: what each is called, and what shows it."""
    from rigtui.model.sheet_kinds import SHEET_KINDS

    if app.document is not None:
        for kind, facts in SHEET_KINDS.items():
            yield f"Sheet: {facts.name}", partial(show_sheet, app, kind)


def show_sheet(app: DocumentApp, kind: SheetKind) -> None:
    """Show a sheet of the setlist at hand."""
    from rigtui.model.sheet_kinds import SHEET_KINDS
    from rigtui.paper import setlist_for
    from rigtui.sheets.make import make_sheet

    assert app.document is not None
    rig = app.document.rig
    setlist = setlist_for(rig, kind, app.setlist_id if SHEET_KINDS[kind].of_a_setlist else None)
    findings = app.findings_at_hand()
    sheet = make_sheet(rig, kind, setlist, findings, date.today())
    if kind != "rehearsal":
        app.ask(SheetPreview(sheet, setlist))
        return

    def advised(first: First) -> Sheet:
        return make_sheet(rig, kind, setlist, findings, date.today(), first.remedies)

    chosen = tuple(row.id for row in rig.setlists if row is setlist)
    app.ask(SheetPreview(sheet, setlist, _adviser(rig, chosen), advised))


def _adviser(rig: Rig, setlists: tuple[str, ...]) -> Adviser:
    """Whom to ask what to do first, beside the screen."""
    from rigtui.advice.wire import first_of, first_task
    from rigtui.tui.adviser import Adviser

    return Adviser(lambda: first_task(rig, setlists), lambda data: first_of(data["first"], rig))


class SheetPreview(Overlay[None]):
    """A sheet as plain text; keys write it to a file, or note that it is on paper."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "leave", "Back", show=False),
        Binding("w", "write", "Write to a file", show=False),
        Binding("n", "note", "Note as printed", show=False),
    ]
    DEFAULT_CSS = """
    SheetPreview { align: center middle; background: $background 60%; }
    SheetPreview > Static { width: 100%; padding: 0 1; background: $surface; }
    SheetPreview > VerticalScroll {
        width: 100%; height: 1fr; padding: 0 1; background: $surface;
    }
    SheetPreview .sheet { width: auto; }
    SheetPreview #sheet-name { text-style: bold; }
    SheetPreview #sheet-keys { color: $text-muted; }
    """

    starts: ClassVar[bool] = True
    """Whether it asks what to do first by itself."""

    def __init__(
        self,
        sheet: Sheet,
        setlist: Setlist | None,
        adviser: Adviser | None = None,
        advised: Callable[[First], Sheet] | None = None,
    ) -> None:
        """Take a sheet.

        Args:
            sheet: The sheet.
            setlist: The setlist that it is of.
            adviser: Whom to ask what to do first, for a sheet that opens with that.
            advised: Makes the sheet anew with it.
        """
        super().__init__()
        self.sheet = sheet
        self.setlist = setlist
        self._adviser = adviser if self.starts else None
        self._advised = advised
        self._pages = ""
        """How many pages it takes; empty until that is worked out."""

    def compose(self) -> ComposeResult:
        """Its name and revision, its text, the keys."""
        yield Static("", id="sheet-name", markup=False)
        with VerticalScroll():
            yield Static("", classes="sheet", markup=False)
        yield Static(_KEYS, id="sheet-keys", markup=False)

    def on_mount(self) -> None:
        """Let the arrows scroll at once; what to do first comes when it is known."""
        self._draw()
        self.query_one(VerticalScroll).focus()
        self.run_worker(self._count_pages, thread=True, group="pages", exit_on_error=False)
        if self._adviser is not None:
            self.run_worker(self._advise(self._adviser), group="adviser", exclusive=True)

    def on_resize(self) -> None:
        """Use all of the width."""
        self._draw()

    def _count_pages(self) -> None:
        """Lay it out for paper, which takes some tenths of a second, beside the keys."""
        from rigtui.sheets.make import pages_in_words

        sheet = self.sheet
        said = pages_in_words(sheet)
        if self.is_running and sheet is self.sheet:
            self.app.call_from_thread(self._say_pages, said)

    def _say_pages(self, said: str) -> None:
        self._pages = said
        self._draw()

    def on_unmount(self) -> None:
        """Leave no adviser behind."""
        if self._adviser is not None:
            self._adviser.kill()

    def _draw(self) -> None:
        from rigtui.model.sheet_kinds import SHEET_KINDS
        from rigtui.sheets.plain import text

        name = f"{SHEET_KINDS[self.sheet.kind].name.capitalize()}, revision {self.sheet.revision}"
        name += f": {self._pages}" if self._pages else ""
        if self._adviser is not None:
            name += "  (trying out what to do first ...)"
        self.query_one("#sheet-name", Static).update(name)
        lines = text(self.sheet, max(_LEAST, self.app.size.width - _FRAME)).split("\n")
        self.query_one(".sheet", Static).update(Content("\n").join(map(plain, lines)))

    async def _advise(self, adviser: Adviser) -> None:
        first = await adviser.answer()
        self._adviser = None
        if not isinstance(first, str) and self._advised is not None:
            self.sheet, self._pages = self._advised(first), ""
            self.run_worker(self._count_pages, thread=True, group="pages", exit_on_error=False)
        self._draw()

    @property
    def _rig_app(self) -> DocumentApp:
        assert isinstance(self.app, DocumentApp)
        return self.app

    def action_leave(self) -> None:
        """Go back to where the player was."""
        self.dismiss(None)

    def action_note(self) -> None:
        """Note in the rig that this sheet is on paper."""
        from rigtui.model.edits import record_printed
        from rigtui.model.sheet_kinds import SHEET_KINDS
        from rigtui.paper import ALL_SONGS

        of = self.setlist.id if self.setlist and self.setlist.id != ALL_SONGS else None
        name, sheet = SHEET_KINDS[self.sheet.kind].name, self.sheet
        app = self._rig_app
        app.apply(
            f"note that the {name} is printed",
            lambda rig: record_printed(rig, sheet.kind, of, sheet.revision, sheet.day),
        )
        noted = app.document.rig.printed if app.document is not None else ()
        if any((note.sheet, note.revision) == (sheet.kind, sheet.revision) for note in noted):
            app.say(f"Noted: you printed the {name} of revision {sheet.revision}")

    def action_write(self) -> None:
        """Ask where to, and write it."""
        from rigtui.model.sheet_kinds import SHEET_KINDS
        from rigtui.model.text import listed
        from rigtui.sheets.formats import FORMATS, SUFFIXES, laid_out_formats
        from rigtui.sheets.make import file_name
        from rigtui.sheets.sizes import PAPERS

        document = self._rig_app.document
        folder = document.path.parent if document is not None and document.path else Path()
        name = str(folder / file_name(self.sheet.kind, self.setlist, "pdf"))
        facts = SHEET_KINDS[self.sheet.kind]
        usual = "a page a set" if facts.fills_pages else f"{facts.distance_m:g}"
        papers = tuple((paper, paper.upper() if paper == "a4" else paper) for paper in PAPERS)
        fields = [
            Field("file", "File", name),
            Field("paper", "Paper", "a4", papers, explain=self._pages_for),
            Field(
                "metres", "Read from, metres", hint=f"as usual: {usual}", explain=self._pages_for
            ),
            Field("there", "If it exists", "keep", (("keep", "keep it"), ("go", "replace it"))),
        ]
        sized = listed(FORMATS[format].name for format in laid_out_formats())
        note = f"Its ending sets the format: {', '.join(SUFFIXES)}. Paper and distance are for "
        self._rig_app.ask(
            Form("Write the sheet to a file", fields, self._submit, f"{note}{sized}.")
        )

    def _pages_for(self, given: dict[str, str]) -> str:
        """How many pages it takes as it would be written."""
        from rigtui.sheets.formats import format_of
        from rigtui.sheets.make import pages_in_words
        from rigtui.sheets.sizes import FARTHEST_M, NEAREST_M, Paper

        metres = _number(given["metres"]) if given["metres"].strip() else None
        if format_of(given["file"].strip()) != "pdf":
            return ""
        if given["metres"].strip() and not NEAREST_M <= (metres or 0) <= FARTHEST_M:
            return ""
        paper: Paper = next(paper for paper in get_args(Paper) if paper == given["paper"])
        return pages_in_words(self.sheet, paper, metres)

    def _submit(self, given: dict[str, str]) -> str | None:
        """Write the sheet; return what went wrong, or None."""
        from rigtui.sheets.formats import SUFFIXES, format_of
        from rigtui.sheets.make import missing_in_words, render
        from rigtui.sheets.sizes import FARTHEST_M, NEAREST_M, Paper
        from rigtui.store.atomic import SaveError
        from rigtui.store.sheet_files import write_sheet

        format = format_of(given["file"].strip())
        if format is None:
            return f"the name doesn't say a format: end it in {', '.join(SUFFIXES)}"
        metres = _number(given["metres"]) if given["metres"].strip() else None
        if given["metres"].strip() and not NEAREST_M <= (metres or 0) <= FARTHEST_M:
            return f"read from: metres from {NEAREST_M:g} to {FARTHEST_M:g}, or nothing"
        paper: Paper = next(paper for paper in get_args(Paper) if paper == given["paper"])
        made = render(self.sheet, format, paper, metres)
        try:
            path = typed_path(given["file"])
            note = write_sheet(path, made.content, replace=given["there"] == "go")
        except (PathFault, SaveError) as error:
            return str(error)
        self._rig_app.say(f"Wrote {path}" + (f", but {note}" if note else ""))
        if made.missing:
            self._rig_app.say(missing_in_words(made.missing), "warning", seconds=12)
        return None


def _number(text: str) -> float | None:
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        return None
