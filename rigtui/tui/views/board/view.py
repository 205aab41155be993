"""The board: the signal from the guitar to the amp, and keys to change everything in it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from rigtui.model.places import place_at, taken_apart
from rigtui.tui.once import once
from rigtui.tui.text import plain
from rigtui.tui.views.board.rows import (
    BoardRow,
    board_list,
    facts_of,
    name_of,
    rows_on,
    signal_words,
)
from rigtui.tui.views.listed import ListedView
from rigtui.tui.views.proposing import propose
from rigtui.tui.widgets.grid import Grid

if TYPE_CHECKING:
    from textual.timer import Timer

    from rigtui.checks import Finding
    from rigtui.model.rig import Preset, Rig


_SHOWN = {"pedals": "pedal", "loops": "loop", "amp": "amp", "switcher": "switcher",
          "player": "player"}  # fmt: skip
"""What a row of the list stands for, by the table of the file."""
_TABLE_OF = {what: table for table, what in _SHOWN.items()}
_REST_SECONDS = 0.1
"""How long the cursor must rest before the footer is drawn anew."""
_PADDING = 2
"""Cells that the signal leaves free at its sides."""


class BoardView(ListedView):
    """The signal as a line, a list of everything in it, and words on the row under the cursor."""

    title = "Board"
    LIST = "board"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add", "Add", id="board.add"),
        Binding("n", "add_loop", "New loop", id="board.add-loop"),
        Binding("e,enter", "edit", "Edit", id="board.edit"),
        Binding("x,delete", "delete", "Delete", id="board.delete"),
        Binding("i", "into_loop", "Into", id="board.into", tooltip="Put into a loop"),
        Binding("o", "out_of_loop", "Out", id="board.out", tooltip="Take out of its loop"),
        Binding("w", "set_up", "Step by step", show=False, id="board.set-up"),
        Binding("f", "other_side", "Other side", show=False, id="board.side"),
        Binding("shift+up,K", "shift(-1)", "Nearer the guitar", show=False, id="board.up"),
        Binding("shift+down,J", "shift(1)", "Further on", show=False, id="board.down"),
        Binding(
            "right_square_bracket", "light(1)", "Show the next sound", show=False, id="board.next"
        ),
        Binding(
            "left_square_bracket",
            "light(-1)",
            "Show the sound before",
            show=False,
            id="board.before",
        ),
    ]

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self.rows: list[BoardRow] = []
        self._signal = ""
        """The signal as it is shown: the rest is laid out anew only when it is another."""
        self.lit: str | None = None
        """Id of the preset whose way is lit."""
        self._findings_at: dict[tuple[str, str], list[Finding]] = {}
        """What the rules say, by table and row: looked up at every key."""
        self._keys_timer: Timer | None = None
        self._keys_for = ("", False)
        """The kind of row that the footer's keys were last shown for."""
        self._dragging = ""
        """What letting go of the row in hand would do; empty while none is dragged."""
        self._after_edit: BoardRow | None = None
        """What the cursor goes to once the edit that was asked for is shown."""

    def compose(self) -> ComposeResult:
        """The signal above, the list, the thing under the cursor in words."""
        yield Static("", id="signal", markup=False)
        yield Grid(id=self.LIST)
        yield Static("", id="board-words", classes="words", markup=False)

    # Showing

    def show_rig(self, rig: Rig) -> None:
        """Show the board of a rig."""
        before, here = self.rows, self._after_edit or self.row
        super().show_rig(rig)
        self._after_edit = None
        self.rows = rows_on(rig)
        known = {(row.what, row.id) for row in before}
        added = [row for row in self.rows if (row.what, row.id) not in known]
        if before and len(added) == 1:
            here = added[0]
        shown = board_list(rig, self.rows, self._preset, self._width)
        self.grid.show(shown.columns, shown.rows)
        self._to(here)
        self.describe()

    def _to(self, row: BoardRow | None) -> None:
        if row is not None:
            for at, other in enumerate(self.rows):
                if (other.what, other.id) == (row.what, row.id):
                    self.grid.move_to(at)

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor edits."""
        self.action_edit()

    def on_grid_menu_wanted(self) -> None:
        """The right button lists all that can be done with the thing."""
        from rigtui.tui.views.board.mouse import menu

        row, rig = self.row, self.rig
        if row is not None and rig is not None:
            actions = [
                binding
                for binding in self.BINDINGS
                if isinstance(binding, Binding) and self._can(binding.action)
            ]
            self.app.push_screen(menu(name_of(rig, row), actions), self._chosen)

    async def _chosen(self, action: str | None) -> None:
        if action is not None:
            await self.run_action(action)

    def on_grid_dragged(self, event: Grid.Dragged) -> None:
        """Move a dragged row to where it is dropped; until then, say what dropping it would do."""
        from rigtui.tui.views.board.mouse import drop

        rig = self.rig
        if rig is None:
            return
        self._dragging = ""
        if event.row != event.onto and max(event.row, event.onto) < len(self.rows):
            row = self.rows[event.row]
            way = drop(rig, row, self.rows[event.onto])
            if not event.done:
                self._dragging = f"Let go to {way.label}" if way else "Nothing goes there"
            elif way is not None:
                self._propose(way.label, way.edit, row)
        self.describe()

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """Take the findings and show those of the thing under the cursor."""
        super().show_findings(findings)
        self._findings_at.clear()
        for finding in findings:
            where = taken_apart(finding.where)
            if finding.waived is None:
                self._findings_at.setdefault((where.table, where.row), []).append(finding)
        self.describe()

    @property
    def row(self) -> BoardRow | None:
        """What is under the cursor."""
        at = self.grid.cursor_row
        return self.rows[at] if at < len(self.rows) else None

    @property
    def _width(self) -> int:
        return self.size.width or self.app.size.width

    @property
    def _preset(self) -> Preset | None:
        rig = self.rig
        return next((p for p in rig.presets if p.id == self.lit), None) if rig else None

    def describe(self) -> None:
        """Tell of the thing under the cursor, and mark it in the signal."""
        rig, row = self.rig, self.row
        if rig is None or row is None:
            return
        preset = self._preset
        signal = signal_words(rig, preset, row, self._width - _PADDING)
        self.query_one("#signal", Static).update(signal, layout=signal.plain != self._signal)
        self._signal = signal.plain
        name = name_of(rig, row)
        lit = (
            f"] [ the sound shown: {preset.label}"
            if preset
            else "] shows which pedals a sound uses"
        )
        lines = [plain(f"{name[:1].upper()}{name[1:]}").stylize("bold") + plain(f"   {lit}")]
        lines += [plain(fact) for fact in facts_of(rig, row)]
        lines += [plain(f"{finding.severity}: {finding.message}") for finding in self._of(row)]
        if self._dragging:
            lines = [plain(self._dragging).stylize("bold")]
        self.query_one("#board-words", Static).update(Content("\n").join(lines), layout=False)
        self._show_keys_soon()

    def _show_keys_soon(self) -> None:
        """Have the footer grey out what this row cannot do, once the cursor rests: it is slow."""
        if self._keys_timer is not None:
            self._keys_timer.stop()
        self._keys_timer = once(self, _REST_SECONDS, self._show_keys)

    def _show_keys(self) -> None:
        row = self.row
        if row is not None and (row.what, row.inside) != self._keys_for:
            self._keys_for = (row.what, row.inside)
            self.refresh_bindings()

    def _of(self, row: BoardRow) -> list[Finding]:
        """What the rules say of a thing."""
        return self._findings_at.get((_TABLE_OF.get(row.what, ""), row.id), [])

    @property
    def here(self) -> str:
        """What is under the cursor."""
        if self.row is None:
            return ""
        table = _TABLE_OF.get(self.row.what, "")
        return place_at(table, self.row.id) if self.row.id else table

    def go_to(self, where: str) -> bool:
        """Put the cursor on a pedal, a loop, the amp, the switcher or the player."""
        table, name, _ = taken_apart(where)
        what = _SHOWN.get(table)
        for at, row in enumerate(self.rows):
            if row.what == what and (not row.id or row.id == name):
                self.grid.move_to(at)
                break
        self.take_focus()
        return what is not None or table == "chain"

    def _can(self, action: str) -> bool:
        name, _, parameters = action.partition("(")
        return self.check_action(name, tuple(parameters.rstrip(")"))) is True

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Grey out what the thing under the cursor cannot do."""
        row = self.row
        what = row.what if row is not None else "title"
        can = {
            "delete": what in ("pedal", "loop"),
            "into_loop": what == "pedal" and bool(self.rig and self.rig.loops),
            "out_of_loop": what == "pedal" and bool(row and row.inside),
            "other_side": what == "loop" or (what == "pedal" and not (row and row.inside)),
            "shift": what in ("pedal", "loop"),
            "edit": what != "title",
        }
        return True if can.get(action, True) else None

    # Edits

    def _propose(
        self, label: str, edit: Callable[[Rig], Rig], then: BoardRow | None = None
    ) -> None:
        """Say what a change brings, and make it after a yes."""

        def do(edit: Callable[[Rig], Rig]) -> None:
            self._after_edit = then
            self.request(label, edit)

        propose(self, label, edit, do)

    def action_add(self) -> None:
        """Ask for a new pedal."""
        from rigtui.tui.views.board.forms import add_form

        if self.rig is not None:
            self.app.push_screen(add_form(self, self.rig))

    def action_add_loop(self) -> None:
        """Add a loop to one side."""
        from rigtui.model.edits import add_loop
        from rigtui.tui.views.board.forms import side_pick

        def chosen(side: str | None) -> None:
            if side in ("front", "fx"):
                self.request("add a loop", lambda rig: add_loop(rig, side))  # type: ignore[arg-type]

        self.app.push_screen(side_pick(), chosen)

    def action_set_up(self) -> None:
        """Take up the five steps of a new rig, with what it holds by now."""
        from rigtui.tui.set_up import set_up

        set_up(self.app)  # type: ignore[arg-type]

    def action_edit(self) -> None:
        """Edit everything of the thing under the cursor."""
        from rigtui.tui.views.board.forms import edit_form

        if self.rig is not None and self.row is not None and self.row.what != "title":
            self.app.push_screen(edit_form(self, self.rig, self.row))

    def action_delete(self) -> None:
        """Delete the pedal or the loop, after saying what that costs."""
        from rigtui.model.edits import delete_loop, delete_pedal

        row, rig = self.row, self.rig
        if row is None or rig is None:
            return
        label = f"delete {name_of(rig, row)}"
        if row.what == "pedal":
            self._propose(label, lambda r: delete_pedal(r, row.id))
        elif row.what == "loop":
            self._propose(label, lambda r: delete_loop(r, int(row.id)))

    def action_shift(self, by: int) -> None:
        """Move the pedal or the loop along the signal, the cursor with it."""
        from rigtui.model.edits import move_along

        row, rig = self.row, self.rig
        if row is not None and rig is not None:
            item: int | str = int(row.id) if row.what == "loop" else row.id
            self._after_edit = row
            self.request(f"move {name_of(rig, row)}", lambda r: move_along(r, item, by))

    def action_into_loop(self) -> None:
        """Put the pedal into a loop."""
        from rigtui.model.edits import into_loop
        from rigtui.tui.views.board.forms import loop_pick

        row, rig = self.row, self.rig
        if row is None or rig is None:
            return

        def chosen(number: str | None) -> None:
            if number is not None:
                label = f"put {name_of(rig, row)} into loop {number}"
                self._propose(label, lambda r: into_loop(r, row.id, int(number)), row)

        self.app.push_screen(loop_pick(rig, row), chosen)

    def action_out_of_loop(self) -> None:
        """Take the pedal out of its loop; sections step it on where it was heard."""
        from rigtui.model.edits import take_outside

        row, rig = self.row, self.rig
        if row is not None and rig is not None:
            label = f"take {name_of(rig, row)} out of its loop"
            self._propose(label, lambda r: take_outside(r, row.id), row)

    def action_other_side(self) -> None:
        """Move the pedal or the loop to the other side of the amp."""
        from rigtui.model.edits import loop_to_other_side, to_other_side

        row, rig = self.row, self.rig
        if row is None or rig is None:
            return
        label = f"move {name_of(rig, row)} to the other side of the amp"
        if row.what == "pedal":
            self._propose(label, lambda r: to_other_side(r, row.id), row)
        elif row.what == "loop":
            self._propose(label, lambda r: loop_to_other_side(r, int(row.id)), row)

    def action_light(self, by: int) -> None:
        """Light the way of the next preset, or of none."""
        if self.rig is not None:
            ids: list[str | None] = [None, *(preset.id for preset in self.rig.presets)]
            at = ids.index(self.lit) if self.lit in ids else 0
            self.lit = ids[(at + by) % len(ids)]
            self.show_rig(self.rig)
