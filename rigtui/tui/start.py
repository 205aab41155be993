"""The screen before a rig is open: recent files, demo rigs, a new rig."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from rigtui.model.errors import BadRigError
from rigtui.store.demos import blank_source, copy_of, demo_paths, starter_source
from rigtui.store.formats import rig_to_look_at
from rigtui.store.kept import recent_files
from rigtui.store.load import read_plain
from rigtui.tui.document import Document
from rigtui.tui.text import fit, plain
from rigtui.tui.typed_path import PathFault, typed_path
from rigtui.tui.widgets.dialogs import Confirm, Field, Form
from rigtui.tui.widgets.grid import Grid, GridColumn
from rigtui.tui.widgets.key_line import KeyLine
from rigtui.tui.widgets.lazy_rows import GridRow
from rigtui.tui.widgets.overlay import Overlay

if TYPE_CHECKING:
    from rigtui.tui.document_app import DocumentApp


@dataclass(frozen=True, slots=True)
class Beginning:
    """One way to begin."""

    kind: str
    """ "file", "demo", "new" for one from nothing, "starter", or "other" for a path to type."""
    path: Path | None
    name: str
    about: str


class StartScreen(Overlay[Beginning | None]):
    """The ways to begin, as a list."""

    DEFAULT_CSS = """
    StartScreen { background: $background; }
    StartScreen > #start-title { height: 2; padding: 0 1; text-style: bold; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "choose", "Open"),
        Binding("n", "new", "New rig"),
        Binding("e", "starter", "Small example"),
        Binding("o", "other", "Type a path"),
        Binding("escape", "back", "Back"),
        Binding("question_mark,f1", "app.help", "Help", key_display="?"),
        Binding("q,ctrl+q", "app.leave", "Quit", key_display="q"),
    ]

    def __init__(self, can_go_back: bool) -> None:
        super().__init__()
        self._can_go_back = can_go_back
        self._keys: list[Beginning | None] = []

    def compose(self) -> ComposeResult:
        """A word of welcome, the list, what the cursor is on, the keys."""
        title = "Open another rig" if self._can_go_back else "rigtui: which rig?"
        yield Static(title, id="start-title", markup=False)
        yield Grid(id="ways")
        yield Static("", id="start-words", classes="words", markup=False)
        yield KeyLine()

    @property
    def _grid(self) -> Grid:
        return self.query_one("#ways", Grid)

    def on_mount(self) -> None:
        """Fill the list."""
        self._draw()
        self._grid.move_to(0)
        self._grid.focus()
        self._describe()

    def on_resize(self) -> None:
        """Use the room that there is."""
        self._draw()

    def _draw(self) -> None:
        width = self.size.width or self.app.size.width
        name = min(44, width // 2)
        rows: list[GridRow] = []
        self._keys = []
        for heading, choices in ways():
            rows.append(GridRow(note=heading))
            self._keys.append(None)
            for choice in choices:
                rows.append(GridRow((fit(f"   {choice.name}", name - 1), choice.about)))
                self._keys.append(choice)
        columns = (
            GridColumn(("",), name, look="grid--strong"),
            GridColumn(("",), width - name, look="grid--dim", pick=False),
        )
        self._grid.show(columns, rows)

    @property
    def _choice(self) -> Beginning | None:
        at = self._grid.cursor_row
        return self._keys[at] if at < len(self._keys) else None

    def on_grid_cursor_moved(self) -> None:
        """Tell of the row under the cursor."""
        self._describe()

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor opens."""
        self.action_choose()

    def _describe(self) -> None:
        choice = self._choice
        lines = [] if choice is None else [Content.styled(plain(choice.name).plain, "bold")]
        if choice is not None and choice.kind == "demo":
            lines.append(plain(choice.about))
            lines.append(plain("Opens as a copy: you choose a name when you save."))
        elif choice is not None and choice.path is not None:
            lines.append(plain(str(choice.path)))
        elif choice is not None and choice.kind == "new":
            lines.append(plain("Five short steps: amp, switcher, pedals, where each goes, sounds."))
            lines.append(
                plain("You can stop at any step and go on later. You choose a name when you save.")
            )
        elif choice is not None and choice.kind == "starter":
            lines.append(
                plain("Four loops, four presets, two songs and a setlist, to turn into your own.")
            )
            lines.append(plain("You choose a name when you save."))
        self.query_one("#start-words", Static).update(Content("\n").join(lines))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """There is no way back to nothing."""
        return self._can_go_back if action == "back" else True

    def action_choose(self) -> None:
        """Open what the cursor is on."""
        if self._choice is not None:
            self.dismiss(self._choice)

    def action_new(self) -> None:
        """Begin a new rig."""
        self.dismiss(NEW)

    def action_starter(self) -> None:
        """Begin with a small example."""
        self.dismiss(STARTER)

    def action_other(self) -> None:
        """Type the path of a file."""
        self.dismiss(OTHER)

    def action_back(self) -> None:
        """Leave the rig open that is open."""
        self.dismiss(None)


NEW = Beginning("new", None, "A new rig", "your own, in five short steps")
STARTER = Beginning("starter", None, "A small example", "to turn into your own")
OTHER = Beginning("other", None, "Another file", "type its path")


def ways() -> Sequence[tuple[str, Sequence[Beginning]]]:
    """The ways to begin, under their headings."""
    recent = [Beginning("file", file, file.name, str(file.parent)) for file in recent_files()]
    demos = [_demo(path) for path in demo_paths()]
    groups = [("Opened last", recent), ("Demo rigs", demos), ("Or", [NEW, STARTER, OTHER])]
    return [(heading, choices) for heading, choices in groups if choices]


def _demo(path: Path) -> Beginning:
    try:
        data = read_plain(path).data
    except BadRigError:
        data = {}
    words = " ".join(str(data.get("note") or "").split())
    return Beginning("demo", path, str(data.get("name") or path.name), words)


def ask_what_to_open(app: DocumentApp) -> None:
    """Show the ways to begin, and open what is chosen."""
    app.ask(StartScreen(app.document is not None), partial(_chosen, app))


def _chosen(app: DocumentApp, choice: Beginning | None) -> None:
    if choice is None:
        return
    if choice.kind == "other":
        app.ask(_path_form(app), partial(_typed, app))
        return
    try:
        app.open_document(_document(choice))
    except BadRigError as error:
        _refuse(app, choice.name, error)
        return
    if choice.kind == "new":
        app.call_later(app.run_action, "view('board')")
        app.call_later(_first_step, app)


def _first_step(app: DocumentApp) -> None:
    """Begin the steps of a new rig, unless something else is asked first: edits left unsaved."""
    from rigtui.tui.set_up import set_up

    if not isinstance(app.screen, Overlay):
        set_up(app)


def _document(choice: Beginning) -> Document:
    """Read what was chosen.

    Raises:
        BadRigError: it is no good rig.
    """
    if choice.kind == "file" and choice.path is not None:
        source = read_plain(choice.path)
        rig, read_only = rig_to_look_at(source)
        return Document(rig, choice.path, source, read_only)
    if choice.path is not None:
        source = copy_of(choice.path)
    else:
        source = blank_source() if choice.kind == "new" else starter_source()
    rig, _ = rig_to_look_at(source)
    return Document(rig, None, source, origin=choice.path)


def _path_form(app: DocumentApp) -> Form:
    def submit(given: dict[str, str]) -> str | None:
        try:
            path = typed_path(given["path"])
            document = _document(Beginning("file", path, path.name, ""))
        except PathFault as fault:
            return str(fault)
        except BadRigError as error:
            more = f" (and {len(error.problems) - 1} more)" if len(error.problems) > 1 else ""
            return f"{path.name}: {error.problems[0].text()}{more}"
        app.open_document(document)
        return None

    return Form("Open a rig file", [Field("path", "File", hint="e.g. my-rig.toml")], submit)


def _typed(app: DocumentApp, opened: bool | None) -> None:
    if not opened:
        ask_what_to_open(app)


def _refuse(app: DocumentApp, name: str, error: BadRigError) -> None:
    """Say everything that is wrong with a file, then ask again."""
    question = f"{name} can't be opened:"
    details = [problem.text() for problem in error.problems]
    app.ask(Confirm(question, [], details), lambda _: ask_what_to_open(app))
