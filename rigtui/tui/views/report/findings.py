"""The findings of the report as rows of a grid: by what to do about them, or those of a filter."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from rigtui.checks import SEVERITIES, Finding, touching_setlist
from rigtui.checks.registry import RULES_BY_ID
from rigtui.checks.words import named, section_of
from rigtui.model.cells import cells as cells_of
from rigtui.model.cells import clip
from rigtui.model.lookup import lookup
from rigtui.model.place_words import place_in_words
from rigtui.model.places import Where, taken_apart
from rigtui.model.text import count, visible
from rigtui.paper.causes import MOST_REHEARSED, by_cause
from rigtui.tui.views.report.lists import KeyedRows, setlist_of
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow, LazyRows

if TYPE_CHECKING:
    from rigtui.model.rig import Pedal, Preset, Rig

_WIDE = 100
"""Cells from which on each finding's rule is named."""
_SHORTEST = 20
"""Cells of places at the least."""
_MOST_MEASURED = 300
"""Findings up to which their places are measured for the width of a column."""
MARKS = {"error": "!!", "warning": "! ", "advice": "- "}


class Filter(NamedTuple):
    """Which findings are shown: those of a weight, a rule, or all."""

    kind: str = "all"
    """ "all", "severity", "rule", "fix" or "waived"."""
    value: str = ""

    def takes(self, finding: Finding) -> bool:
        """Whether a finding is shown."""
        if self.kind == "severity":
            return finding.severity == self.value and finding.waived is None
        if self.kind == "rule":
            return finding.rule == self.value
        if self.kind == "fix":
            return finding.mendable
        return self.kind == "all" or finding.waived is not None

    @property
    def label(self) -> str:
        """What is shown, in a word or two; empty for all."""
        words = {"all": "", "fix": "with a fix", "waived": "waived"}
        return words.get(self.kind, self.value)


def filters(findings: Sequence[Finding]) -> list[tuple[Filter, str]]:
    """The filters that show anything, each in words."""
    choices = [(Filter(), f"all findings ({len(findings)})")]
    wanted = [Filter("severity", severity) for severity in SEVERITIES]
    wanted += [Filter("fix"), Filter("waived")]
    wanted += [Filter("rule", rule) for rule in dict.fromkeys(finding.rule for finding in findings)]
    for filter_ in wanted:
        number = sum(map(filter_.takes, findings))
        if number:
            what = {"fix": "with a fix of its own", "rule": f"rule {filter_.value}"}
            choices.append((filter_, f"{what.get(filter_.kind, filter_.label)} ({number})"))
    return choices


def group_name(severity: str, number: int) -> str:
    """So many findings of a weight, in words."""
    if severity == "advice":
        return count(number, "piece of advice", "pieces of advice")
    return f"{number} waived" if severity == "waived" else count(number, severity)


@dataclass(frozen=True, slots=True)
class CauseKey:
    """A line for several findings of one rule; opening it lists them below."""

    rule: str
    """A rule's id, or one of the lines of the list's own: "rehearse", "waived", "elsewhere"."""
    severity: str = ""


FirstRows = Sequence[tuple[GridRow, Any]]
"""Rows of what to do first, and what each of them stands for."""


class Shown(NamedTuple):
    """Which findings are shown, and how."""

    filter: Filter = Filter()
    opened: frozenset[CauseKey] = frozenset()
    """Lines whose findings stand below them."""


def finding_listing(
    rig: Rig,
    findings: Sequence[Finding],
    shown: Shown,
    width: int,
    setlist_id: str | None = None,
    first: FirstRows = (),
    *,
    first_leads: bool = True,
) -> KeyedRows:
    """What to do first, what can't be played, what to rehearse, the rest by cause.

    Or else the findings of a filter.

    Args:
        rig: The rig that the findings are of.
        findings: Its findings.
        shown: Which of them are shown, and which causes are open.
        width: Cells that there are.
        setlist_id: The setlist at hand.
        first: Rows of what to do first, and what each of them stands for.
        first_leads: Whether they come before what can't be played, rather than after it.
    """
    rows = _FindingRows(rig, findings, width, setlist_id, shown.opened)
    wanted = [finding for finding in findings if shown.filter.takes(finding)]
    here = {id(finding) for finding in touching_setlist(rig, wanted, setlist_id)}
    at_hand = [finding for finding in wanted if id(finding) in here]
    if shown.filter == Filter():
        standing = [finding for finding in at_hand if finding.waived is None]
        rows.by_cause(standing, first, first_leads)
        rows.closed(
            CauseKey("waived"), [finding for finding in at_hand if finding.waived is not None]
        )
    else:
        for group in (*SEVERITIES, "waived"):
            part = [finding for finding in at_hand if group_of(finding) == group]
            if part:
                rows.title(group_name(group, len(part)), _LOOKS[group])
            rows.list(part)
    rows.closed(CauseKey("elsewhere"), [finding for finding in wanted if id(finding) not in here])
    return rows.listing()


class _FindingRows:
    """The rows of a list of findings, as they are added."""

    def __init__(
        self,
        rig: Rig,
        findings: Sequence[Finding],
        width: int,
        setlist_id: str | None,
        opened: frozenset[CauseKey],
    ) -> None:
        self.rig, self.setlist_id, self.opened = rig, setlist_id, opened
        self.place, rule = _widths(rig, findings, width, setlist_id)
        self.what = width - 8 - self.place - rule
        self.columns = (
            GridColumn(("",), 4, pick=False),
            GridColumn(("fix",), 4, look="grid--dim", pick=False),
            GridColumn(("Where",), self.place, look="grid--strong"),
            GridColumn(("What",), self.what, pick=False),
            GridColumn(
                ("Rule",) if rule else (), rule, pick=False, align="right", look="grid--dim"
            ),
        )
        self.rows: list[GridRow | Finding] = []
        """Rows, and findings of which one is made when it comes on the screen."""
        self.keys: list[Any] = []

    def listing(self) -> KeyedRows:
        """All rows so far."""
        notes = {at for at, row in enumerate(self.rows) if isinstance(row, GridRow) and row.note}
        return KeyedRows(self.columns, LazyRows(len(self.rows), self._row, notes), tuple(self.keys))

    def _row(self, at: int) -> GridRow:
        row = self.rows[at]
        if isinstance(row, GridRow):
            return row
        cells = (
            f" {MARKS[row.severity] if row.waived is None else 'w'}",
            "f" if row.mendable else "",
            short_place(self.rig, row.where, self.setlist_id, self.place - 1),
            _what(self.rig, row),
            row.rule,
        )
        also = f"{row.message} {row.where}"
        return GridRow(cells, (_LOOKS[group_of(row)],), also=also)

    def by_cause(self, findings: Sequence[Finding], first: FirstRows, first_leads: bool) -> None:
        """Add what can't be played, what to do first, what to rehearse, and the other causes."""
        causes = by_cause(self.rig, findings)
        errors = [finding for cause in causes.cannot for finding in cause.remarks]
        if first_leads:
            self.add(first)
        if errors:
            self.title(f"Can't be played ({len(errors)})", _LOOKS["error"])
            self.list(errors)
        if not first_leads:
            self.add(first)
        if causes.rehearse:
            shown, more = causes.rehearse[:MOST_REHEARSED], causes.rehearse[MOST_REHEARSED:]
            of = f"{len(shown)} of {len(causes.rehearse)}" if more else str(len(shown))
            self.title(f"Rehearse these ({of})", _LOOKS["warning"])
            self.list([finding for change in shown for finding in change.remarks])
            rest = [finding for change in shown for finding in change.repeats]
            rest += [finding for change in more for finding in (*change.remarks, *change.repeats)]
            places = {finding.where for finding in rest}
            self.closed(CauseKey("rehearse"), rest, count(len(places), "more change"))
        if causes.rest:
            self.title("The rest, by cause")
        for cause in causes.rest:
            if len(cause.remarks) == 1:
                self.list(cause.remarks)
            else:
                self.closed(CauseKey(cause.rule, cause.severity), cause.remarks)

    def add(self, rows: FirstRows) -> None:
        """Add rows that are made already."""
        self.rows += [row for row, _ in rows]
        self.keys += [key for _, key in rows]

    def title(self, text: str, look: str = "") -> None:
        """Add a heading."""
        self.rows.append(GridRow(note=text, look=look))
        self.keys.append(None)

    def list(self, findings: Iterable[Finding]) -> None:
        """Add a row for each finding."""
        findings = [*findings]
        self.rows += findings
        self.keys += findings

    def closed(self, key: CauseKey, findings: Sequence[Finding], words: str = "") -> None:
        """Add one line for several findings, and the findings where it is open."""
        if not findings:
            return
        opened = key in self.opened
        name, what = _line_of(key.rule)
        cells = (
            f" {MARKS.get(key.severity, '  ')}",
            "v" if opened else ">",
            words or f"{sum(finding.times for finding in findings)} {name}",
            what,
            key.rule if key.severity else "",
        )
        self.rows.append(GridRow(cells, (_LOOKS.get(key.severity, ""),)))
        self.keys.append(key)
        if opened:
            self.list(findings)


_OWN_LINES = {
    "rehearse": ("more", "the same again in their songs, and easier ones"),
    "waived": ("waived", "findings that you accepted"),
    "elsewhere": ("elsewhere", "findings in other songs and setlists"),
}


def _widths(
    rig: Rig, findings: Sequence[Finding], width: int, setlist_id: str | None
) -> tuple[int, int]:
    """Cells for the places, as wide as they are within a share of the room, and for the rules."""
    most = width * (34 if width < _WIDE else 30) // 100
    rule = max((len(finding.rule) for finding in findings), default=0) + 2 if width >= _WIDE else 0
    if len(findings) > _MOST_MEASURED:
        return most, rule
    places = (short_place(rig, finding.where, setlist_id, most) for finding in findings)
    return min(most, max([*map(cells_of, places), _SHORTEST]) + 1), rule


def _line_of(rule: str) -> tuple[str, str]:
    """What a line for several findings is called, and what it is about."""
    if rule in RULES_BY_ID:
        return rule, RULES_BY_ID[rule].summary
    return _OWN_LINES.get(rule, (rule, ""))


def short_place(rig: Rig, where: str, setlist_id: str | None, room: int) -> str:
    """A place in a few cells: a section by number and name, without the setlist at hand."""
    place = taken_apart(where)
    song, at = lookup(rig).songs.get(place.row), place.section
    if song is not None and at is not None and at < len(song.sections):
        tail = f", {at + 1} {visible(song.sections[at].name)}"
        return clip(clip(visible(song.label), max(10, room - cells_of(tail))) + tail, room)
    words = place_in_words(rig, where)
    setlist = setlist_of(rig, setlist_id)
    if setlist is not None:
        words = words.removeprefix(f"setlist {visible(setlist.label)}, ")
    if place.song_at is not None and ", song " in words:
        part, _, last = words.rpartition(", song ")
        words = f"song {last}, {part}"  # what is cut is the name of the set
    return clip(words, room)


def _what(rig: Rig, finding: Finding) -> str:
    """What is wrong, without the name at its head that the place has told already."""
    if finding.waived is not None:
        return finding.waived or "no reason given"
    name = _name_in_message(rig, taken_apart(finding.where))
    before, told, after = finding.message.partition(f"{name} ")
    return (
        after
        if name and told and (not before or before.endswith(("→ ", ", ")))
        else finding.message
    )


def _name_in_message(rig: Rig, place: Where) -> str:
    """How a message names what a place leads to; empty where it leads to no section or row."""
    known = lookup(rig)
    song, at = known.songs.get(place.row), place.section
    if song is not None and at is not None:
        return section_of(song, at) if at < len(song.sections) else ""
    rows: dict[str, Mapping[str, Pedal] | Mapping[str, Preset]] = {
        "pedals": known.pedals,
        "presets": known.presets,
    }
    row = rows[place.table].get(place.row) if place.table in rows else None
    return named(row) if row is not None else ""


_LOOKS = {"error": "grid--error", "warning": "grid--warn", "advice": "", "waived": "",
          "elsewhere": ""}  # fmt: skip


def group_of(finding: Finding) -> str:
    """Return the heading of a finding: its weight, or that it is waived."""
    return finding.severity if finding.waived is None else "waived"
