"""Testing patch leads one after the other: a big prompt, one key a result."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any, ClassVar, NamedTuple

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from rigtui.bench.leads import Lead, lead_key, lead_words
from rigtui.bench.words import result_of_test
from rigtui.bench.work import passed
from rigtui.model.edits import set_patch_lead
from rigtui.model.edits.tables import made
from rigtui.model.layout import Contact, PatchLead
from rigtui.model.rig import Rig
from rigtui.model.text import count
from rigtui.tui.text import plain
from rigtui.tui.views.base import View
from rigtui.tui.widgets.dialogs import Field, Form
from rigtui.tui.widgets.overlay import Overlay


class Probe(NamedTuple):
    """One of the tests of a lead."""

    key: str
    title: str
    how: str
    right: Contact


PROBES = (
    Probe("tip", "TIP TO TIP", "one probe on each plug's tip: should beep (closed)", "closed"),
    Probe("sleeve", "SLEEVE TO SLEEVE", "one probe on each plug's sleeve: should beep (closed)",
          "closed"),
    Probe("across", "TIP TO SLEEVE", "both probes on one plug, tip and sleeve: should be silent "
          "(open); bend the lead at both plugs", "open"),
)  # fmt: skip
"""Source: common practice."""


# As drawn lines of a cell, three high: the letters of the prompts.
_LETTERS = {
    "T": ("╶┬╴", " │ ", " ╵ "), "I": ("╷", "│", "╵"), "P": ("┌─╮", "├─╯", "╵  "),
    "O": ("╭─╮", "│ │", "╰─╯"), "S": ("╭─╴", "╰─╮", "╶─╯"), "L": ("╷  ", "│  ", "└─╴"),
    "E": ("┌─╴", "├─╴", "└─╴"), "V": ("╷ ╷", "│╭╯", "╰╯ "), " ": (" ", " ", " "),
}  # fmt: skip


def big_letters(text: str, width: int) -> str:
    """Draw a prompt in letters three lines high, or as plain text if it is too wide."""
    lines = [" ".join(_LETTERS[letter][at] for letter in text) for at in range(3)]
    return "\n".join(lines) if len(lines[0]) <= width else text


class LeadTest(Overlay[None]):
    """Asks for each test of each lead; every result is kept at once."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "End", show=False),
        Binding("c", "result('closed')", "Closed", show=False),
        Binding("o", "result('open')", "Open", show=False),
        Binding("n,down", "lead(1)", "Next lead", show=False),
        Binding("p,up", "lead(-1)", "Lead before", show=False),
        Binding("backspace,left", "back", "Test before", show=False),
        Binding("m", "ohms", "Ohms", show=False),
    ]
    DEFAULT_CSS = """
    LeadTest { align: center middle; background: $background 60%; }
    LeadTest .big { text-align: center; text-style: bold; width: 100%; }
    LeadTest #probe { color: $text-accent; padding: 1 0 0 0; }
    LeadTest .small { text-align: center; width: 100%; color: $text-muted; }
    LeadTest #verdict { text-align: center; width: 100%; padding-top: 1; min-height: 2; }
    LeadTest #verdict.-failed { color: $text-error; text-style: bold; }
    """

    def __init__(self, view: View, rig: Rig, leads: Sequence[Lead], day: date) -> None:
        """Begin.

        Args:
            view: The view that asks for the edits.
            rig: The rig, for the names.
            leads: The leads to test, in order.
            day: The day that is stored.
        """
        super().__init__()
        self._view, self._rig, self._leads, self._day = view, rig, tuple(leads), day
        self._at = 0
        self._probe = 0
        self._results: dict[int, dict[str, Any]] = {}
        """Results of this session, by the lead's place."""
        self._verdict = ""
        self._failed = False

    def compose(self) -> ComposeResult:
        """The lead's number, its ends, the test, the keys."""
        with Vertical(classes="dialog"):
            yield Static("", id="progress", classes="small", markup=False)
            yield Static("", id="ends", classes="big", markup=False)
            yield Static("", id="probe", classes="big", markup=False)
            yield Static("", id="how", classes="small", markup=False)
            yield Static("", id="verdict", markup=False)
            yield Static("c closed (beeps)   o open (silent)   m ohms", classes="big", markup=False)
            yield Static(
                "n next lead   p lead before   backspace test before   Esc end",
                classes="small", markup=False,
            )  # fmt: skip

    def on_mount(self) -> None:
        """Show the first test."""
        self._show()

    @property
    def _lead(self) -> Lead:
        return self._leads[self._at]

    def _show(self) -> None:
        lead, probe = self._lead, PROBES[self._probe]
        done = sum(len(PROBES) == len(self._tests(at)) for at in range(len(self._leads)))
        says = {
            "progress": f"{self._at + 1} of {count(len(self._leads), 'lead')}, {done} tested now",
            "ends": f"LEAD {lead.number}:  {lead_words(self._rig, lead)}",
            "probe": big_letters(probe.title, self.app.size.width - 10),
            "how": probe.how,
            "verdict": self._verdict,
        }
        for name, text in says.items():
            self.query_one(f"#{name}", Static).update(plain(text))
        self.query_one("#verdict").set_class(self._failed, "-failed")

    def _tests(self, at: int) -> dict[str, Any]:
        results = self._results.get(at, {})
        return {probe.key: results[probe.key] for probe in PROBES if probe.key in results}

    def action_result(self, contact: Contact) -> None:
        """Keep a result and go on to the next test, or the next lead."""
        probe = PROBES[self._probe]
        fields: dict[str, Any] = {probe.key: contact, "date": self._day}
        if not self._tests(self._at):  # a new test: what an old one said is no part of it
            fields |= {other.key: None for other in PROBES if other is not probe}
        self._results.setdefault(self._at, {})[probe.key] = contact
        self._keep(fields, f"{probe.title.lower()} {contact}")
        if self._probe + 1 < len(PROBES):
            self._probe += 1
            self._verdict, self._failed = "", False
        else:
            self._judge()
            self._go(1)
        self._show()

    def _keep(self, fields: dict[str, Any], what: str) -> None:
        lead = self._lead
        key = lead_key(lead)
        label = f"test lead {lead.number}: {what}"
        self._view.request(label, lambda rig: set_patch_lead(rig, *key, **fields))

    def _judge(self) -> None:
        """Say how the lead at hand did."""
        lead = self._lead
        key = lead_key(lead)
        row = made(PatchLead, out=key[0], into=key[1], **self._results[self._at])
        self._failed = passed(row) is False
        self._verdict = f"Lead {lead.number} {result_of_test(row)}"

    def _go(self, by: int) -> None:
        """Go to another lead; after the last one it is over."""
        if not 0 <= self._at + by < len(self._leads):
            if by > 0:
                self._view.say(f"{self._verdict}; that was the last lead".lstrip("; "))
                self.dismiss(None)
            return
        self._at, self._probe = self._at + by, 0

    def action_lead(self, by: int) -> None:
        """Go to another lead without a result."""
        self._verdict, self._failed = "", False
        self._go(by)
        if self.app.screen is self:
            self._show()

    def action_back(self) -> None:
        """Go back to the test before."""
        if self._probe:
            self._probe -= 1
        elif self._at:
            self._at, self._probe = self._at - 1, len(PROBES) - 1
        self._verdict, self._failed = "", False
        self._show()

    def action_ohms(self) -> None:
        """Ask what the meter reads from tip to tip."""

        def submit(given: dict[str, str]) -> str | None:
            try:
                ohms = float(given["ohms"].replace(",", "."))
            except ValueError:
                return "ohms: type a number, such as 0.2"
            if not 0 <= ohms <= 10_000_000:
                return "ohms: from 0 to 10000000"
            self._results.setdefault(self._at, {})["ohms"] = ohms
            self._keep({"ohms": ohms, "date": self._day}, f"{ohms:g} ohms")
            self._verdict = f"Lead {self._lead.number}: {ohms:g} ohms kept"
            self._show()
            return None

        hint = "tip to tip, less what the meter reads with its own probes together"
        self.app.push_screen(Form(f"Lead {self._lead.number}", [Field("ohms", "Ohms", hint=hint)],
                                  submit))  # fmt: skip

    def action_leave(self) -> None:
        """End; what was tested is kept."""
        self.dismiss(None)
