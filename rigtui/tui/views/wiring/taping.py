"""The tape pass: ask for the length of each lead without a layout, one after another."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from rigtui.bench.leads import Lead, jack_words, lead_key
from rigtui.bench.typed_length import typed_length
from rigtui.model.edits import set_patch_lead
from rigtui.model.errors import RigError
from rigtui.model.rig import Rig
from rigtui.model.text import count, number_text
from rigtui.tui.text import Visible, plain
from rigtui.tui.views.base import View
from rigtui.tui.widgets.overlay import Overlay


class TapePass(Overlay[None]):
    """One line to type in for each lead; Enter keeps it and goes on."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "End", show=False),
        Binding("enter", "accept", "Keep", show=False, priority=True),
        Binding("up,shift+tab", "go(-1)", "Lead before", show=False, priority=True),
        Binding("down,tab", "go(1)", "Next lead", show=False, priority=True),
    ]
    DEFAULT_CSS = """
    TapePass { align: center middle; background: $background 60%; }
    TapePass .big { text-style: bold; padding: 1 0; }
    TapePass .small { color: $text-muted; }
    TapePass #tape-said { padding-top: 1; min-height: 2; }
    """

    def __init__(self, view: View, rig: Rig, leads: Sequence[Lead], first: int = 0) -> None:
        """Begin.

        Args:
            view: The view that asks for the edits.
            rig: The rig, for names and slack.
            leads: The leads to measure, in order.
            first: The place of the one to begin with.
        """
        super().__init__()
        self._view, self._rig, self._leads, self._at = view, rig, tuple(leads), first
        self._routes = {
            at: lead.record.route_mm
            for at, lead in enumerate(self._leads)
            if lead.record is not None and lead.record.route_mm is not None
        }

    def compose(self) -> ComposeResult:
        """Which lead, the line to type in, what was kept, the keys."""
        with Vertical(classes="dialog"):
            yield Static("", id="tape-progress", classes="small", markup=False)
            yield Static("", id="tape-ends", classes="big", markup=False)
            yield Static(
                "Lay the tape from jack to jack as the cable will lie: 250, 25 cm or 9.5 in",
                classes="small", markup=False,
            )  # fmt: skip
            yield Input("", id="tape-length", highlighter=Visible(), compact=True)
            yield Static("", id="tape-said", markup=False)
            yield Static(
                "Enter keep, go on (empty: skip)   ↑↓ lead   Esc end", classes="small", markup=False
            )

    def on_mount(self) -> None:
        """Show the first lead."""
        self._show("")
        self.query_one(Input).focus()

    def _show(self, said: str) -> None:
        lead = self._leads[self._at]
        left = len(self._leads) - len(self._routes)
        for name, text in (
            ("progress", f"Lead {lead.number}: {self._at + 1} of {len(self._leads)}, {left} to go"),
            ("ends", f"{jack_words(self._rig, lead.start)}  to  {jack_words(self._rig, lead.end)}"),
            ("said", said),
        ):
            self.query_one(f"#tape-{name}", Static).update(plain(text))
        line = self.query_one(Input)
        known = self._routes.get(self._at)
        line.value = "" if known is None else number_text(known)
        line.cursor_position = len(line.value)

    def action_accept(self) -> None:
        """Keep the length and go on; stay where it is none."""
        text = self.query_one(Input).value
        if not text.strip():
            self.action_go(1)
            return
        lead = self._leads[self._at]
        key = lead_key(lead)
        try:
            route = typed_length(text)
            set_patch_lead(self._rig, *key, route_mm=route)
        except RigError as error:
            self.query_one("#tape-said", Static).update(plain(str(error)))
            return
        label = f"measure lead {lead.number}"
        self._view.request(label, lambda rig: set_patch_lead(rig, *key, route_mm=route))
        self._routes[self._at] = route
        self._on(1, f"Lead {lead.number}: {number_text(route)} mm kept; slack is added to it")

    def action_go(self, by: int) -> None:
        """Go to another lead."""
        self._on(by, "")

    def _on(self, by: int, said: str) -> None:
        if self._at + by >= len(self._leads):
            known = count(len(self._routes), "lead")
            self._view.say(f"{known} of {len(self._leads)} measured")
            self.dismiss(None)
            return
        self._at = max(0, self._at + by)
        self._show(said)

    def action_leave(self) -> None:
        """End; what was measured is kept."""
        self.dismiss(None)
