"""A remedy before it is accepted: what to do, and section by section what would be played."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from rigtui.tui.text import fit, plain
from rigtui.tui.views.report.preview_rows import PreviewRow, preview_parts
from rigtui.tui.widgets.grid import Grid, GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow
from rigtui.tui.widgets.overlay import Overlay

if TYPE_CHECKING:
    from rigtui.advice.remedy import Remedy
    from rigtui.model.rig import Rig

_KEYS = "y accept, as one step that u takes back   Enter go there   Esc back"
_FRAME = 4


class RemedyPreview(Overlay[str | None]):
    """The rows of a remedy; the answer is "y", or the place to go to."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "leave", "Back", show=False),
        Binding("y", "accept", "Accept", show=False),
        Binding("enter,space", "go", "Go there", show=False),
    ]
    DEFAULT_CSS = """
    RemedyPreview { align: center middle; background: $background 60%; }
    RemedyPreview > Vertical {
        width: 118; max-width: 100%; height: 92%; padding: 0 1; background: $surface;
        border: round $primary;
    }
    RemedyPreview .remedy--what { text-style: bold; height: auto; }
    RemedyPreview .remedy--does { height: auto; padding-bottom: 1; }
    RemedyPreview #remedy-row { height: 4; border-top: solid $panel-lighten-1; }
    RemedyPreview .dialog--keys { padding-top: 0; }
    """

    def __init__(self, rig: Rig, remedy: Remedy) -> None:
        """Take the rig as it is, and what would be done to it."""
        super().__init__()
        self._rig, self._remedy = rig, remedy
        self._rows: list[PreviewRow | None] = []
        """What each row stands for; None for a heading."""

    @property
    def _row(self) -> PreviewRow | None:
        at = self._grid.cursor_row
        return self._rows[at] if at < len(self._rows) else None

    def compose(self) -> ComposeResult:
        """What, what it clears and costs, the rows, the row at hand in full, the keys."""
        from rigtui.advice.words import does

        with Vertical():
            yield Static(plain(self._remedy.proposal.what), classes="remedy--what", markup=False)
            said = [does(self._remedy), *self._only_if()]
            yield Static(Content("\n").join(map(plain, said)), classes="remedy--does", markup=False)
            yield Grid(id="remedy-rows")
            yield Static("", id="remedy-row", markup=False)
            yield Static(_KEYS, classes="dialog--keys", markup=False)

    def _only_if(self) -> Iterator[str]:
        if self._remedy.proposal.as_if:
            yield (
                "Accept it only if your board really works like that: the file will say "
                "that it does"
            )

    @property
    def _grid(self) -> Grid:
        return self.query_one(Grid)

    def on_mount(self) -> None:
        """Begin at the first row."""
        self._fill()
        self._grid.focus()

    def on_resize(self) -> None:
        """Use the room that there is."""
        self._fill()

    def _fill(self) -> None:
        width = max(30, min(118, self.app.size.width) - _FRAME)
        title = min(30, width // 3)
        half = (width - title) // 2
        columns = (
            GridColumn(("Section",), title, look="grid--strong"),
            GridColumn(("now",), half, pick=False, look="grid--dim"),
            GridColumn(("then",), width - title - half, pick=False),
        )
        rows: list[GridRow] = []
        self._rows = []
        for heading, placed in preview_parts(self._rig, self._remedy):
            rows.append(GridRow(note=fit(heading, width)))
            rows += [_drawn(row, columns, width) for row in placed]
            self._rows += [None, *placed]
        self._grid.show(columns, rows)
        self._tell()

    def on_grid_cursor_moved(self) -> None:
        """Tell of the row under the cursor."""
        self._tell()

    def _tell(self) -> None:
        row = self._row
        self.query_one("#remedy-row", Static).update(plain(row.words if row is not None else ""))

    def action_accept(self) -> None:
        """Do it."""
        self.dismiss("y")

    def action_go(self) -> None:
        """Go to the section under the cursor."""
        row = self._row
        if row is not None and row.place:
            self.dismiss(row.place)

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor goes to the place."""
        self.action_go()

    def action_leave(self) -> None:
        """Do nothing."""
        self.dismiss(None)


def _drawn(row: PreviewRow, columns: Sequence[GridColumn], width: int) -> GridRow:
    if len(row.cells) == 1:
        return GridRow(pieces=((fit(row.cells[0], width - 1), ""),))
    return GridRow(tuple(fit(cell, its.width - 1) for cell, its in zip(row.cells, columns)))
