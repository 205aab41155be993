"""Presets by loops: which preset switches which loop, and what that makes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, ClassVar, get_args

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from rigtui.model.banks import all_recalled_at
from rigtui.model.places import place_at, taken_apart
from rigtui.tui.views.listed import ListedView
from rigtui.tui.views.presets.first_sight import matrix_of
from rigtui.tui.views.presets.words import (
    FIRST_LOOP,
    OFF,
    ON,
    PresetLine,
    columns_for,
    extras,
    uses_of,
    words_of,
)
from rigtui.tui.widgets.grid import Grid
from rigtui.tui.widgets.lazy_rows import GridRow

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Preset, Rig


_PICTURE_FROM = 16
"""Lines of height from which there is a picture of the bank."""
_AROUND = 12
"""Lines for headings and words."""
_MOST_BANKS = 8


ROLE, CHANNEL, VOLUME = "role", "channel", "volume"
_COLUMNS = (CHANNEL, VOLUME, "")
"""Columns of what a line has more, in order; the cursor does not go to the pedals."""


class PresetsView(ListedView):
    """The matrix of presets and loops, and the preset under the cursor in words."""

    title = "Presets"
    LIST = "matrix"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space,enter", "switch_loop", "On/off", id="presets.toggle"),
        Binding("a", "add", "Add", id="presets.add"),
        Binding("e", "edit", "Edit", id="presets.edit"),
        Binding("d", "duplicate", "Copy", id="presets.duplicate"),
        Binding("x,delete", "delete", "Delete", id="presets.delete"),
        Binding("shift+up,K", "shift(-1)", "Move up", show=False, id="presets.up"),
        Binding("shift+down,J", "shift(1)", "Move down", show=False, id="presets.down"),
        Binding("m", "memory", "Memory", id="presets.memory"),
        Binding("b", "by_bank", "Sort by bank, or as in the file", show=False, id="presets.sort"),
        Binding("o", "role", "Role", show=False, id="presets.role"),
        Binding("c", "channel", "Channel", show=False, id="presets.channel"),
        Binding("left_square_bracket", "volume(-1)", "Guitar volume down", show=False),
        Binding("right_square_bracket", "volume(1)", "Guitar volume up", show=False),
    ]

    def compose(self) -> ComposeResult:
        """The matrix above, the preset in words below."""
        yield Grid(id=self.LIST)
        yield Static("", id="preset-banks", markup=False)
        yield Static("", id="preset-words", classes="words", markup=False)

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._row_after_edit: int | None = None
        """Where the cursor goes once the edit that was asked for is shown."""
        self.by_bank = False
        """Whether the presets stand in the order of their memories, not of the file."""
        self._order: list[int] = []
        """Places of the presets in the file, row by row."""
        self._behind: dict[int, str] = {}
        """Columns behind the loops that the cursor goes to, by their places."""
        self._of_presets: tuple[Finding, ...] = ()
        """What the rules find in presets: looked through at every key."""

    # Showing

    def preview(self, data: Mapping[str, Any]) -> None:
        """Show a file as it was plainly read, before anything has checked it.

        Raises:
            TypeError, AttributeError, KeyError: the file is no rig; the models will say why.
        """
        self._draw(*matrix_of(data))

    def show_rig(self, rig: Rig) -> None:
        """Show the presets of a rig."""
        super().show_rig(rig)
        stood = self._preset.id if self._preset is not None and self.by_bank else None
        self._order = self._ordered(rig)
        from rigtui.model.lookup import lookup

        uses, known = uses_of(rig), lookup(rig)
        size = rig.switcher.bank_size if rig.switcher else 0
        self._draw(
            [(loop.number, [known.label(pedal) for pedal in loop.pedals]) for loop in rig.loops],
            [
                PresetLine(
                    preset.label,
                    all_recalled_at(preset.memories, size),
                    frozenset(preset.loops),
                    preset.role,
                    str(uses[preset.id]) if uses[preset.id] else "-",
                    extras(rig, preset),
                )
                for preset in (rig.presets[at] for at in self._order)
            ],
        )
        if self._row_after_edit is not None:
            self._stand_on(self._row_after_edit)
            self._row_after_edit = None
        elif stood is not None:
            self._stand_on_id(stood)
        self.describe()

    def _ordered(self, rig: Rig) -> list[int]:
        """Places of the presets in the order in which they are shown."""
        places = list(range(len(rig.presets)))
        if self.by_bank:
            last = len(rig.presets) + 128
            places.sort(key=lambda at: next(iter(rig.presets[at].memories), last))
        return places

    def _stand_on(self, at: int) -> None:
        """Put the cursor on the preset at a place of the file."""
        if self._order:
            self.grid.move_to(self._order.index(max(0, min(at, len(self._order) - 1))))

    def _stand_on_id(self, preset_id: str) -> None:
        ids = [preset.id for preset in self.rig.presets] if self.rig is not None else []
        if preset_id in ids:
            self._stand_on(ids.index(preset_id))

    def _draw(self, loops: list[tuple[int, list[str]]], lines: list[PresetLine]) -> None:
        size = self.size if self.size.width else self.app.size
        columns, more = columns_for(size.width, self.full_height, loops, lines)
        behind = (ROLE, "", *(_COLUMNS[at] for at in more))
        self._behind = {at: name for at, name in enumerate(behind, FIRST_LOOP + len(loops)) if name}
        rows = []
        for line in lines:
            marks = [ON if number in line.loops else OFF for number, _ in loops]
            looks = ["grid--on" if mark == ON else "grid--dim" for mark in marks]
            cells = (f" {line.name}", line.place, *marks, line.role, line.uses)
            cells += tuple(f"  {line.more[at]}" for at in more)
            rows.append(GridRow(cells, ("grid--strong", "", *looks, "", "")))
        self.grid.empty_text = "No presets yet: press a to add one."
        self.grid.show(columns, rows)

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor toggles."""
        self.action_switch_loop()

    def show_findings(self, findings: tuple[Any, ...]) -> None:
        """Take the findings and show those of the preset under the cursor."""
        super().show_findings(findings)
        of_presets = (
            finding for finding in findings if taken_apart(finding.where).table == "presets"
        )
        self._of_presets = tuple(of_presets)
        self.describe()

    def describe(self) -> None:
        """Tell of the preset under the cursor."""
        preset, rig = self._preset, self.rig
        words = self.query_one("#preset-words", Static)
        self._draw_banks()
        if preset is None or rig is None:
            words.update("", layout=False)
            return
        told = Content("\n").join(words_of(rig, preset, self._loop, self._of_presets))
        words.update(told, layout=False)  # its height is fixed: nothing else has to move

    def _draw_banks(self) -> None:
        """Show the footswitches: the bank of the preset, or several where there is room."""
        preset, rig = self._preset, self.rig
        picture = self.query_one("#preset-banks", Static)
        lines: list[Content] = []
        if preset is not None and rig is not None and self.full_height >= _PICTURE_FROM:
            spare = self.full_height - len(rig.presets) - _AROUND
            from rigtui.tui.views.presets.banks import bank_lines

            lines = bank_lines(rig, preset, self.size.width - 2, max(1, min(spare, _MOST_BANKS)))
        picture.display = bool(lines)
        picture.set_class(len(lines) > 1, "-roomy")
        picture.update(Content("\n").join(lines))

    # The cursor

    @property
    def _preset(self) -> Preset | None:
        if self.rig is None or not self.rig.presets:
            return None
        row = min(self.grid.cursor_row, len(self._order) - 1)
        at = self._order[row] if row >= 0 else 0
        return self.rig.presets[min(at, len(self.rig.presets) - 1)]

    @property
    def _loop(self) -> int | None:
        at = self.grid.cursor_column - FIRST_LOOP
        if self.rig is None or not 0 <= at < len(self.rig.loops):
            return None
        return self.rig.loops[at].number

    @property
    def here(self) -> str:
        """The preset under the cursor."""
        return place_at("presets", self._preset.id) if self._preset is not None else ""

    def go_to(self, where: str) -> bool:
        """Put the cursor on a preset or on a loop."""
        table, name, _ = taken_apart(where)
        rig = self.rig
        if rig is None or table not in ("presets", "loops", "pedals"):
            return False
        if table == "presets":
            self._stand_on_id(name)
        else:
            for at, loop in enumerate(rig.loops):
                if str(loop.number) == name if table == "loops" else name in loop.pedals:
                    self.grid.move_to(self.grid.cursor_row, at + FIRST_LOOP)
        self.take_focus()
        return True

    def point_at(self, finding: Finding) -> None:
        """Put the cursor on the loop of the first pedal that the finding is about."""
        loops = [loop.pedals for loop in self.rig.loops] if self.rig is not None else []
        for where in finding.about:
            place = taken_apart(where)
            at = [nth for nth, pedals in enumerate(loops) if place.row in pedals]
            if place.table == "pedals" and at:
                self.grid.move_to(self.grid.cursor_row, at[0] + FIRST_LOOP)
                return

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Grey out what needs a preset while there is none."""
        needs = {
            "switch_loop",
            "edit",
            "duplicate",
            "delete",
            "memory",
            "role",
            "channel",
            "volume",
        }
        if action in needs and self._preset is None:
            return None
        return True

    # Edits

    def action_switch_loop(self) -> None:
        """Switch the loop under the cursor in or out; in other columns, do what their key does."""
        from rigtui.model.edits import toggle_loop

        column = self._behind.get(self.grid.cursor_column)
        if column == ROLE:
            self.action_role()
        elif column == CHANNEL:
            self.action_channel()
        elif column == VOLUME:
            self.say("[ and ] turn the guitar's volume down and up")
        preset, loop = self._preset, self._loop
        if preset is not None and loop is not None:
            self.request(
                f"loop {loop} in {preset.label}", lambda rig: toggle_loop(rig, preset.id, loop)
            )

    def action_shift(self, by: int) -> None:
        """Move the preset up or down the list, the cursor with it."""
        from rigtui.model.edits import move_preset

        preset = self._preset
        if preset is not None:
            if self.by_bank:
                self.say(
                    "The list is sorted by bank. To move presets, press b for the file's order"
                )
                return
            self._row_after_edit = self.grid.cursor_row + by
            self.request(f"move {preset.label}", lambda rig: move_preset(rig, preset.id, by))

    def action_duplicate(self) -> None:
        """Put a copy behind the preset."""
        from rigtui.model.edits import duplicate_preset

        preset = self._preset
        if preset is not None:
            self._row_after_edit = self._order[self.grid.cursor_row] + 1
            self.request(f"copy {preset.label}", lambda rig: duplicate_preset(rig, preset.id))

    def action_by_bank(self) -> None:
        """Sort the presets by bank and switch, or have them as the file has them."""
        preset = self._preset
        self.by_bank = not self.by_bank
        if self.rig is not None:
            self.show_rig(self.rig)
        if preset is not None:
            self._stand_on_id(preset.id)
        self.say("Sorted by bank and switch" if self.by_bank else "In the file's order")

    def action_role(self) -> None:
        """Give the preset the next role."""
        from rigtui.model.base import Role
        from rigtui.model.edits import set_preset

        preset = self._preset
        if preset is not None:
            roles = get_args(Role)
            role = roles[(roles.index(preset.role) + 1) % len(roles)]
            self.request(
                f"role of {preset.label}", lambda rig: set_preset(rig, preset.id, role=role)
            )

    def action_channel(self) -> None:
        """Give the preset the amp's next channel, or none."""
        from rigtui.model.edits import set_preset

        preset, rig = self._preset, self.rig
        if preset is None or rig is None:
            return
        if not rig.amp.channels:
            self.notify("The amp has no channels yet: add them on the Board (1).", markup=False)
            return
        names: list[str | None] = [None, *rig.amp.channels]
        at = names.index(preset.channel) if preset.channel in names else 0
        channel = names[(at + 1) % len(names)]
        self.request(
            f"channel of {preset.label}", lambda r: set_preset(r, preset.id, channel=channel)
        )

    def action_volume(self, by: int) -> None:
        """Turn the guitar's volume for the preset up or down."""
        from rigtui.model.edits import set_preset

        preset = self._preset
        if preset is not None:
            old = preset.guitar_volume
            new = (10 if by < 0 else None) if old is None else old + by
            volume = None if new is None or new > 10 else max(0.0, new)
            self.request(
                f"guitar volume of {preset.label}",
                lambda rig: set_preset(rig, preset.id, guitar_volume=volume),
            )

    def action_add(self) -> None:
        """Ask for a new preset."""
        from rigtui.tui.views.presets.forms import add_form

        if self.rig is not None:
            self.app.push_screen(add_form(self, self.rig, self._to_new_row))

    def _to_new_row(self) -> None:
        """The form is about to add a preset at the end: the cursor goes there with it."""
        if self.rig is not None:
            self._row_after_edit = len(self.rig.presets)

    def action_edit(self) -> None:
        """Edit everything that belongs to the preset."""
        from rigtui.tui.views.presets.forms import edit_form

        if self.rig is not None and self._preset is not None:
            self.app.push_screen(edit_form(self, self.rig, self._preset))

    def action_memory(self) -> None:
        """Choose the memory that stores the preset."""
        from rigtui.model.edits import take_memory
        from rigtui.tui.views.presets.forms import memory_pick

        preset = self._preset
        if self.rig is None or preset is None:
            return

        def chosen(answer: str | None) -> None:
            if answer is not None:
                memory = int(answer) or None
                self.request(
                    f"memory of {preset.label}", lambda rig: take_memory(rig, preset.id, memory)
                )

        self.app.push_screen(memory_pick(self.rig, preset), chosen)

    def action_delete(self) -> None:
        """Delete the preset; if sections use it, ask what they get instead."""
        from rigtui.model.edits import delete_preset
        from rigtui.tui.views.presets.forms import instead_pick

        preset, rig = self._preset, self.rig
        if preset is None or rig is None:
            return
        label = f"delete {preset.label}"
        if not uses_of(rig)[preset.id]:
            self.request(label, lambda r: delete_preset(r, preset.id))
            return

        def chosen(answer: str | None) -> None:
            if answer is not None:
                self.request(label, lambda r: delete_preset(r, preset.id, answer or None))

        self.app.push_screen(instead_pick(rig, preset, uses_of(rig)[preset.id]), chosen)
