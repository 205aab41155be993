"""The lists of the bench: patch leads, and the cutting list with what to buy and the work."""

from __future__ import annotations

from typing import NamedTuple

from rigtui.bench.leads import Lead, jack_words, leads_of
from rigtui.bench.typical import PLUG_NAMES
from rigtui.bench.words import (
    KNOWN_BY,
    OVER_THE_EDGE,
    PASSED,
    CutRow,
    cut_rows,
    no_room,
    result_of_test,
)
from rigtui.bench.work import SOLDERING, tested
from rigtui.chain.graph import SWITCHER, Jack
from rigtui.model.cells import cells, wrap
from rigtui.model.rig import Rig
from rigtui.model.text import number_text
from rigtui.paper.content import day_in_words
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow

_TEST_LOOKS = {True: "grid--on", False: "grid--error", None: "grid--dim"}
_TESTS = {**PASSED, None: "-"}


class LeadList(NamedTuple):
    """The leads as a grid."""

    columns: list[GridColumn]
    rows: list[GridRow]
    leads: tuple[Lead, ...]


def lead_list(rig: Rig, width: int) -> LeadList:
    """A row for each patch lead, in signal order."""
    leads = leads_of(rig)
    plugs_width = 15 if width >= 76 else 0
    by = 8 if any(lead.how for lead in leads) else 2
    ends = max(8, width - 4 - 6 - by - 7 - plugs_width)
    ways = [f"{_end(rig, lead.start)} > {_end(rig, lead.end)}" for lead in leads]
    ends = min(ends, max(map(cells, ways), default=0) + 1)
    columns = [
        GridColumn(("no",), 4),
        GridColumn(("out of > into",), ends, pick=False),
        GridColumn(("mm",), 6, pick=False, align="right"),
        GridColumn((" by" if by > 2 else "",), by, pick=False, look="grid--dim"),
        GridColumn(("test",), 7, pick=False),
    ]
    if plugs_width:
        columns.append(GridColumn(("plugs",), plugs_width, pick=False))
    rows = []
    for lead, way in zip(leads, ways):
        trouble = any(plug.trouble for plug in lead.plugs)
        plugs = "-".join(plug.shape for plug in lead.plugs) + "!" * trouble
        length = "?" if lead.length_mm is None else number_text(lead.length_mm)
        passed = tested(lead)
        rows.append(
            GridRow(
                (str(lead.number), way, length, f" {lead.how}", _TESTS[passed], plugs),
                ("", "", "grid--warn" if lead.length_mm is None else "", "",
                 _TEST_LOOKS[passed], "grid--warn" if trouble else ""),
            )
        )  # fmt: skip
    return LeadList(columns, rows, leads)


def _end(rig: Rig, jack: Jack) -> str:
    """A jack in a list; the switcher's own are called "send 1" and need no more."""
    return jack.name if jack.box == SWITCHER else jack_words(rig, jack)


def lead_facts(rig: Rig, lead: Lead) -> list[str]:
    """What is known of a lead, in a few lines."""
    length = "no length yet: m measures it" if lead.length_mm is None else (
        f"{number_text(lead.length_mm)} mm, {KNOWN_BY[lead.how]}"
    )  # fmt: skip
    lines = [f"{length}; {' to '.join(PLUG_NAMES[plug.shape] for plug in lead.plugs)}"]
    row = lead.record
    said = result_of_test(row)
    if row is not None:
        measured = row.ohms is not None and tested(lead) is not False
        said += f", {number_text(row.ohms or 0)} ohms" if measured else ""
        said += f", {day_in_words(row.date)}" if row.date is not None else ""
    lines.append(said)
    for plug, jack in zip(lead.plugs, (lead.start, lead.end)):
        if plug.trouble:
            lines.append(no_room(rig, jack.box, [jack.name], plug))
    if lead.over_the_edge:
        lines.append(OVER_THE_EDGE)
    return lines


class CutList(NamedTuple):
    """The cutting list as a grid: rows with what each is, None for a line that goes on."""

    columns: list[GridColumn]
    rows: list[GridRow]
    whats: list[CutRow | None]


def cut_list(rig: Rig, width: int) -> CutList:
    """The cuts, plugs to buy, the work in order, and the caution where the work is."""
    rows: list[GridRow] = []
    whats: list[CutRow | None] = []

    def put(text: str, what: CutRow | None, look: str = "") -> None:
        rows.append(GridRow((text,), look=look))
        whats.append(what)

    for row in cut_rows(rig):
        if row.what == "title":
            if rows:
                rows.append(GridRow(note=""))
                whats.append(None)
            put(row.text, row, "grid--strong")
            continue
        indent = {"piece": "     ", "note": "  "}.get(row.what, "  ")
        box = "" if row.what in ("piece", "note") else "[ ] "
        lines = wrap(box + row.text, max(20, width - 1), indent, indent + " " * len(box))
        for at, line in enumerate(lines):
            put(line, row if at == 0 else None, "grid--warn" if row.what == "note" else "")
    rows.append(GridRow(note=""))
    whats.append(None)
    for line in wrap(SOLDERING, max(20, width - 1), "  "):
        put(line, None, "grid--warn")
    return CutList([GridColumn((), max(20, width))], rows, whats)
