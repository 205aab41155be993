"""Wiring: the board from above, its patch leads, the cutting list and the work."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Vertical
from textual.content import Content
from textual.widgets import Static

from rigtui.bench.layout import Device, layout_of
from rigtui.bench.leads import Lead
from rigtui.bench.typical import PLUG_NAMES
from rigtui.bench.work import tested
from rigtui.model.lookup import lookup
from rigtui.model.places import taken_apart
from rigtui.model.text import number_text
from rigtui.tui.once import once
from rigtui.tui.text import plain
from rigtui.tui.views.paned import PanedView
from rigtui.tui.views.wiring.board_plan import BoardPlan
from rigtui.tui.views.wiring.lists import cut_list, lead_facts, lead_list
from rigtui.tui.widgets.grid import Grid
from rigtui.tui.widgets.panes import PaneBar, PaneTitle

if TYPE_CHECKING:
    from textual.timer import Timer

    from rigtui.bench.words import CutRow
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig

WIDE, TALL = 110, 26
"""From which size on all three parts are in sight at once."""
LISTS = 60
"""Cells that the lists take beside the plan."""
_REST_SECONDS = 0.3
FIRST_STEPS = (
    "Nothing has a place on the board yet.",
    "p places every device at its typical size, the switcher in front. Then move each "
    "with shift and an arrow, or with the mouse, and type what you measure with e.",
    "b sets the board's size first, if you know it.",
    "Without a layout, m asks for the length of each lead, measured with a tape.",
)
NO_LEADS = "There is no patch lead yet: put pedals into loops and into the chain on the Board (1)."

_ONLY_IN = {"place": "plan", "turn": "plan", "jacks": "plan", "add": "cuts"}
"""Actions that one part alone knows; the others do not show them."""


class WiringView(PanedView):
    """The plan, the leads and the cutting list: one at a time, or all at once."""

    title = "Wiring"
    PANES = ("plan", "leads", "cuts")
    GRID_ID = "wiring-{}"
    DEFAULT_CSS = """
    WiringView {
        & > #wiring-panes { height: 1fr; layout: vertical; }
        & #wiring-lists { height: 1fr; display: none; }
        & #wiring-lists.-here { display: block; }
        & .pane { height: 1fr; display: none; }
        & .pane.-here { display: block; }
        & .pane--title { height: 1; display: none; text-style: bold; color: $foreground; }
        &.-wide > PaneBar { display: none; }
        &.-wide > #wiring-panes { layout: horizontal; }
        &.-wide #pane-plan { width: 1fr; height: 100%; }
        &.-wide #wiring-lists { display: block; width: 60; height: 100%; margin-left: 1; }
        &.-wide .pane { display: block; }
        &.-wide .pane--title { display: block; }
    }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("p", "place", "Place", id="wiring.place"),
        Binding("space", "turn", "Turn", id="wiring.turn"),
        Binding("e,enter", "edit", "Edit", id="wiring.edit"),
        Binding("a", "add", "Add cable", id="wiring.add"),
        Binding("b", "bench", "Size", id="wiring.bench"),
        Binding("m", "measure", "Measure", id="wiring.measure"),
        Binding("t", "test", "Test", id="wiring.test"),
        Binding("x,delete", "delete", "Take off", show=False, id="wiring.delete"),
        Binding("c", "jacks", "Where jacks are", show=False, id="wiring.jacks"),
        Binding("w", "holes", "Holes in the board", show=False, id="wiring.holes"),
        Binding("tab", "pane(1)", "Next", id="wiring.next"),
        Binding("shift+tab", "pane(-1)", "List before", show=False, id="wiring.before"),
    ]

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._leads: tuple[Lead, ...] = ()
        self._cuts: list[CutRow | None] = []
        self._waiting: Timer | None = None
        """Draws the cutting list, which may take a second to plan, once the keys rest."""

    def compose(self) -> ComposeResult:
        """Titles, the plan, the lists, and what is at hand in words."""
        yield PaneBar()
        with Container(id="wiring-panes"):
            with Vertical(id="pane-plan", classes="pane"):
                yield Static("", classes="pane--title", markup=False)
                yield BoardPlan(id="wiring-plan")
            with Vertical(id="wiring-lists"):
                for name in self.PANES[1:]:
                    with Vertical(id=f"pane-{name}", classes="pane"):
                        yield Static("", classes="pane--title", markup=False)
                        yield Grid(id=self.GRID_ID.format(name))
        yield Static("", id="wiring-words", classes="words", markup=False)

    # What is at hand

    @property
    def plan(self) -> BoardPlan:
        """The board from above."""
        return self.query_one(BoardPlan)

    @property
    def lead(self) -> Lead | None:
        """The lead under the cursor."""
        at = self._grid("leads").cursor_row
        return self._leads[at] if at < len(self._leads) else None

    @property
    def cut(self) -> CutRow | None:
        """The row of the cutting list under the cursor."""
        at = self._grid("cuts").cursor_row
        return self._cuts[at] if at < len(self._cuts) else None

    def pane_changed(self) -> None:
        """Another part takes the keys: mark it, and say what is at hand in it."""
        self.query_one("#wiring-lists").set_class(self.pane != "plan", "-here")
        if self.pane == "cuts":
            self._show_cuts_soon()
        self._titles()
        self.describe()
        self.refresh_bindings()

    # Showing

    def show_rig(self, rig: Rig) -> None:
        """Show the bench of a rig."""
        super().show_rig(rig)
        shown = lead_list(rig, self._list_width)
        self._leads = shown.leads
        grid = self._grid("leads")
        grid.empty_text = NO_LEADS
        grid.show(shown.columns, shown.rows)
        self._show_plan()
        self._show_cuts_soon()
        self._titles()
        self.describe()
        self.refresh_bindings()

    def _show_cuts_soon(self) -> None:
        """Show the cutting list: at once to whoever looks at it, else when the keys rest."""
        if self._waiting is not None:
            self._waiting.stop()
            self._waiting = None
        if self.pane == "cuts":
            self._show_cuts()
        elif self.has_class("-wide"):
            self._waiting = once(self, _REST_SECONDS, self._show_cuts)

    def _show_cuts(self) -> None:
        if self.rig is not None:
            shown = cut_list(self.rig, self._list_width)
            self._cuts = shown.whats
            self._grid("cuts").show(shown.columns, shown.rows)

    @property
    def _list_width(self) -> int:
        return LISTS if self.has_class("-wide") else self.size.width or self.app.size.width

    def _show_plan(self) -> None:
        if self.rig is not None:
            lead = self.lead if self.pane == "leads" or self.has_class("-wide") else None
            first = FIRST_STEPS if self._leads else (NO_LEADS,)
            self.plan.show(self.rig, lead, first)

    def on_resize(self) -> None:
        """Use the room that there is."""
        self.set_class(self.size.width >= WIDE and self.full_height >= TALL, "-wide")
        if self.rig is not None:
            self.call_after_refresh(self.show_rig, self.rig)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """Take the findings and show those of what is at hand."""
        super().show_findings(findings)
        self.describe()

    def _titles(self) -> None:
        rig = self.rig
        if rig is None:
            return
        layout = layout_of(rig)
        lost = len(layout.devices) - len(layout.placed)
        unknown = sum(lead.length_mm is None for lead in self._leads)
        good = sum(tested(lead) is True for lead in self._leads)
        size = ""
        if layout.board is not None:
            size = f" {number_text(layout.board.right)} x {number_text(layout.board.back)} mm"
        titles = {
            "plan": PaneTitle("Board", size + (f", {lost} not placed" if lost else "")),
            "leads": PaneTitle(
                f"Leads {len(self._leads)}",
                f", {good} passed" + (f", {unknown} without a length" if unknown else ""),
            ),
            "cuts": PaneTitle("Cutting and work"),
        }
        self.query_one(PaneBar).titles = tuple(titles.values())
        for name, title in titles.items():
            mark = "> " if name == self.pane else "  "
            head = self.query_one(f"#pane-{name} .pane--title", Static)
            head.update(plain(f"{mark}{title}"))

    def describe(self) -> None:
        """Tell of what is at hand."""
        rig = self.rig
        if rig is None:
            return
        lines: list[Content] = []
        if self.pane == "plan":
            device = self.plan.device
            lines = self._device_lines(rig, device) if device is not None else []
        elif self.pane == "leads" and self.lead is not None:
            lead = self.lead
            lines = [plain(f"Lead {lead.number}").stylize("bold")]
            lines += [plain(fact) for fact in lead_facts(rig, lead)]
        elif self.pane == "cuts":
            lines = [plain("a adds a reel or an offcut; e edits cable or plugs; x deletes cable")]
            lines.append(plain("Shell: rigtui cuts and rigtui leads --labels print them."))
        self.query_one("#wiring-words", Static).update(Content("\n").join(lines), layout=False)

    def _device_lines(self, rig: Rig, device: Device) -> list[Content]:
        name = lookup(rig).label(device.name)
        size = f"{number_text(device.width)} x {number_text(device.depth)} mm"
        size += " (typical)" if device.typical else ""
        place = device.place
        where = "not on the board: p places it" if place is None else (
            f"{number_text(place.x_mm)} mm from the left, {number_text(place.y_mm)} from the front"
            + (f", turned {place.turn}" if place.turn else "")
        )  # fmt: skip
        lines = [plain(name).stylize("bold") + plain(f"   {size}; {where}")]
        said = self._findings_of(rig, device)
        lines += [plain(f"{finding.severity}: {finding.message}") for finding in said]
        ends = [
            f"{lead.number} at {jack.name} ({PLUG_NAMES[plug.shape]})"
            for lead in self._leads
            for jack, plug in zip((lead.start, lead.end), lead.plugs)
            if jack.box == device.name
        ]
        if ends:
            lines.append(plain(f"leads {', '.join(ends)}"))
        return lines

    def _findings_of(self, rig: Rig, device: Device) -> list[Finding]:
        """What the rules say of a device; an overlap stands at one of two, and is told of both."""
        rows = {str(at) for at, place in enumerate(rig.places) if place.device == device.name}

        def stands_here(where: str) -> bool:
            place = taken_apart(where)
            return place.table == "places" and place.row in rows

        return [
            finding
            for finding in self.findings
            if finding.waived is None and any(map(stands_here, (finding.where, *finding.about)))
        ]

    def on_board_plan_device_chosen(self) -> None:
        """Tell of the device that is at hand now."""
        self.describe()
        self.refresh_bindings()

    def on_grid_cursor_moved(self) -> None:
        """Tell of the row that is at hand now, and show a lead's way."""
        self._show_plan()
        self.describe()
        self.refresh_bindings()

    def go_to(self, where: str) -> bool:
        """Go to a place on the board, a lead, cable or plugs."""
        table, row, _ = taken_apart(where)
        rig = self.rig
        if rig is None or table not in ("bench", "places", "holes", "plugs", "reels",
                                        "patch_leads"):  # fmt: skip
            return False
        pane = {"patch_leads": 1, "plugs": 2, "reels": 2}.get(table, 0)
        self._go_to_pane(pane)
        at = int(row) if row.isdecimal() else None
        if table == "places" and at is not None and at < len(rig.places):
            self.plan.choose(rig.places[at].device)
        if table == "patch_leads" and at is not None and at < len(rig.patch_leads):
            record = rig.patch_leads[at]
            for place, lead in enumerate(self._leads):
                if lead.record is record:
                    self._grid("leads").move_to(place)
        elif table == "patch_leads":
            waiting = (at for at, lead in enumerate(self._leads) if tested(lead) is not True)
            self._grid("leads").move_to(next(waiting, 0))
        return True

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Grey out what makes no sense with what is at hand."""
        if self.rig is None:
            return True
        device = self.plan.device if self.pane == "plan" else None
        here = device is not None and device.place is not None
        if action in _ONLY_IN and self.pane != _ONLY_IN[action]:
            return False
        layout = layout_of(self.rig)
        if action == "place" and len(layout.placed) == len(layout.devices):
            return False
        can = {
            "turn": here,
            "jacks": here,
            "edit": {
                "plan": device is not None,
                "leads": self.lead is not None,
                "cuts": self.cut is not None and self.cut.what in ("reel", "plug"),
            }[self.pane],
            "measure": bool(self._leads),
            "test": bool(self._leads),
            "delete": here
            or (self.pane == "cuts" and self.cut is not None and self.cut.what == "reel"),
        }
        return True if can.get(action, True) else None

    # Edits

    def action_place(self) -> None:
        """Give every device that has no place one."""
        from rigtui.bench.first_layout import place_all

        self.request(
            "place all devices", place_all, done="Placed at typical sizes: enter your own with e"
        )

    def on_board_plan_device_moved(self, event: BoardPlan.DeviceMoved) -> None:
        """Move the device at hand."""
        from rigtui.model.edits import shift_place

        device = self.plan.here
        if self.rig is not None and device:
            name = lookup(self.rig).label(device)
            self.request(
                f"move {name}", lambda rig: shift_place(rig, device, event.right_mm, event.back_mm)
            )

    def action_turn(self) -> None:
        """Turn the device at hand a quarter to the right."""
        from rigtui.model.edits import turn_place

        device = self.plan.here
        if self.rig is not None:
            label = f"turn {lookup(self.rig).label(device)}"
            self.request(label, lambda rig: turn_place(rig, device))

    def on_board_plan_device_turned(self) -> None:
        """Turn the device that was clicked."""
        self.action_turn()

    def on_board_plan_device_clicked(self) -> None:
        """A click on the device at hand edits it."""
        self.action_edit()

    def on_grid_cell_clicked(self) -> None:
        """A click on the row at hand edits it."""
        if self.check_action("edit", ()):
            self.action_edit()

    def action_edit(self) -> None:
        """Edit what is at hand."""
        from rigtui.tui.views.wiring import forms

        rig = self.rig
        if rig is None:
            return
        if self.pane == "plan" and self.plan.device is not None:
            self.app.push_screen(forms.place_form(self, rig, self.plan.device))
        elif self.pane == "leads" and self.lead is not None:
            self.app.push_screen(forms.lead_form(self, rig, self.lead))
        elif self.pane == "cuts" and self.cut is not None:
            if self.cut.what == "reel":
                self.app.push_screen(forms.reel_form(self, rig, self.cut.at))
            elif self.cut.what == "plug":
                shape = tuple(PLUG_NAMES)[self.cut.at]
                self.app.push_screen(forms.plug_form(self, rig, shape))

    def action_bench(self) -> None:
        """Edit the board, the cable and the pace."""
        from rigtui.tui.views.wiring.forms import bench_form

        if self.rig is not None:
            self.app.push_screen(bench_form(self, self.rig))

    def action_add(self) -> None:
        """Add a reel or an offcut."""
        from rigtui.tui.views.wiring.forms import reel_form

        if self.rig is not None:
            self.app.push_screen(reel_form(self, self.rig, None))

    def action_delete(self) -> None:
        """Take the device off the board, or the cable off the bench; undo takes it back."""
        from rigtui.model.edits import drop_row, take_place

        rig = self.rig
        if rig is None:
            return
        if self.pane == "plan":
            device = self.plan.here
            label = f"take {lookup(rig).label(device)} off the board"
            self.request(label, lambda r: take_place(r, device), done="u brings it back")
        elif self.cut is not None and self.cut.what == "reel":
            at = self.cut.at
            self.request("delete the cable", lambda r: drop_row(r, "reels", at))

    def action_jacks(self) -> None:
        """Say where the jacks of the device at hand are."""
        from rigtui.tui.views.wiring.forms import jack_form, jack_pick

        rig, device = self.rig, self.plan.device
        if rig is None or device is None:
            return

        def chosen(jack: str | None) -> None:
            if jack is not None:
                self.app.push_screen(jack_form(self, rig, device, jack))

        self.app.push_screen(jack_pick(rig, device), chosen)

    def action_holes(self) -> None:
        """Add a hole, or take one out."""
        from rigtui.model.edits import drop_row
        from rigtui.tui.views.wiring.forms import hole_form, hole_pick

        rig = self.rig
        if rig is None:
            return

        def chosen(hole: str | None) -> None:
            if hole == "new":
                self.app.push_screen(hole_form(self, rig))
            elif hole is not None:
                self.request("delete a hole", lambda r: drop_row(r, "holes", int(hole)))

        self.app.push_screen(hole_pick(rig), chosen)

    def action_measure(self) -> None:
        """Ask for the way of each lead that has no layout, one after the other."""
        from rigtui.tui.views.wiring.taping import TapePass

        if self.rig is None:
            return
        leads = [lead for lead in self._leads if lead.how in ("", "tape")]
        if not leads:
            self.say("All lengths come from the layout; e on a lead sets one by hand")
            return
        unknown = [at for at, lead in enumerate(leads) if lead.length_mm is None]
        first = next(iter(unknown), 0)
        if self.pane == "leads" and self.lead in leads:
            first = leads.index(self.lead)
        self.app.push_screen(TapePass(self, self.rig, leads, first))

    def action_test(self) -> None:
        """Test the leads that have not passed, from the one at hand on; all if all have."""
        from rigtui.tui.views.wiring.testing import LeadTest

        if self.rig is None or not self._leads:
            return
        waiting = [lead for lead in self._leads if tested(lead) is not True] or list(self._leads)
        if self.pane == "leads" and self.lead is not None:
            number = self.lead.number
            waiting.sort(key=lambda lead: (lead.number < number, lead.number))
        self.app.push_screen(LeadTest(self, self.rig, waiting, date.today()))
