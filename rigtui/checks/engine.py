"""Run the rules over a rig, piece by piece, and again only where an edit touched it."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, NamedTuple, get_args

from rigtui.checks.failed import RULE_FAILED, failure
from rigtui.checks.finding import SEVERITIES, Finding, RigView, Rule, Scope
from rigtui.checks.registry import RULES
from rigtui.checks.reordered import sounds_as_before
from rigtui.model import Rig
from rigtui.model.remembered import Remembered
from rigtui.model.waived import waiver_over, waivers_by_rule

_BY_SCOPE = {
    scope: tuple(rule for rule in RULES if rule.scope == scope) for scope in get_args(Scope)
}

RULE_IDS = (*dict.fromkeys(rule.id for rule in RULES), RULE_FAILED)
FAIL_LOUDLY = sys.flags.dev_mode
"""Whether a rule that raises stops the check: with `python -X dev`, and in the tests."""


def check(rig: Rig) -> tuple[Finding, ...]:
    """Return all findings of a rig: errors first, then warnings, then advice.

    Within each they stand in file order, but for rules that put what wins most first.
    """
    checkup = Checkup(rig)
    for _ in checkup:
        pass
    return checkup.findings


class Checkup:
    """The check of one rig, as an iterator of small pieces of work so that a screen stays awake.

    `findings` is complete once the iterator is exhausted.
    """

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.findings: tuple[Finding, ...] = ()
        self._work = self._run()

    def __iter__(self) -> Iterator[None]:
        return self._work

    def _run(self) -> Iterator[None]:
        rig, view = self.rig, RigView.of(self.rig, RULE_IDS)
        memo = _memo_of(view).rows
        findings: list[Finding] = []
        for rule in _BY_SCOPE["rig"]:
            own: list[Finding] = []
            for finding in _checked(rule, "rig", view):
                own += [finding] if finding is not None else []
                yield
            findings += sorted(own, key=lambda finding: finding.rank)
            yield
        tables = (("pedal", "pedals", rig.pedals), ("preset", "presets", rig.presets),
                  ("song", "songs", rig.songs))  # fmt: skip
        for scope, table, rows in tables:
            for row in rows:
                known = memo.get(id(row))
                if known is None or known[0] is not row:
                    known = (row, _of_row(_BY_SCOPE[scope], view, table, row))
                    memo[id(row)] = known
                    yield
                findings += known[1]
        for setlist in rig.setlists:
            for rule in _BY_SCOPE["setlist"]:
                for finding in _checked(rule, f"setlists.{setlist.id}", view, setlist):
                    findings += [finding] if finding is not None else []
                    yield
        findings = _joined(_with_waivers(rig, findings))
        for rule in _BY_SCOPE["findings"]:
            for finding in _checked(rule, "rig", view, tuple(findings)):
                findings += [finding] if finding is not None else []
                yield
        self.findings = _by_weight(_with_waivers(rig, findings))


def _checked(rule: Rule, where: str, *given: Any) -> Iterator[Finding | None]:
    """What a rule finds; where it raises, one finding that says so, after what it found before."""
    try:
        for hit in rule.check(*given):
            yield rule.finding(hit) if hit is not None else None
    except Exception as fault:
        if FAIL_LOUDLY:
            raise
        yield failure(rule, where, fault)


def _of_row(rules: Iterable[Rule], view: RigView, table: str, row: Any) -> tuple[Finding, ...]:
    """What rules find in one pedal, preset, song or setlist."""
    where = f"{table}.{row.id}"
    checked = (finding for rule in rules for finding in _checked(rule, where, view, row))
    return tuple(finding for finding in checked if finding is not None)


class _Memo(NamedTuple):
    """Findings of single pedals, presets and songs, good while nothing else that they see moves."""

    view: RigView
    rows: dict[int, tuple[Any, tuple[Finding, ...]]]


_memos: Remembered[_Memo] = Remembered()


def _memo_of(view: RigView) -> _Memo:
    rig = view.rig
    parts = (rig.amp, rig.switcher, rig.pedals, rig.loops, rig.midi, rig.presets, rig.player,
             rig.chain)  # fmt: skip
    return _memos.get(parts, lambda: _new_memo(view, parts))


def _new_memo(view: RigView, parts: tuple[Any, ...]) -> _Memo:
    latest, rows = _memos.latest(parts[:-1]), {}
    if latest is not None:
        stands = sounds_as_before(latest[1].view, view)
        known = latest[1].rows
        rows = {id(song): known[id(song)] for song in view.rig.songs
                if id(song) in known and stands(song)}  # fmt: skip
    return _Memo(view, rows)


def _with_waivers(rig: Rig, findings: list[Finding]) -> list[Finding]:
    """Mark the findings that the player accepts with the reason."""
    waivers = waivers_by_rule(rig)
    marked = []
    for finding in findings:
        waiver = waiver_over(waivers, finding.rule, finding.where)
        marked.append(finding if waiver is None else replace(finding, waived=waiver.reason))
    return marked


_SAID_BY = {"late-change": "crowded-change"}
"""Rules whose finding another rule's says as well, where both stand at one place."""


def _joined(findings: list[Finding]) -> list[Finding]:
    """Have one finding say both where two rules speak of the same change, and none is waived."""
    standing = {
        (finding.rule, finding.where): finding for finding in findings if finding.waived is None
    }
    said = {
        (_SAID_BY[rule], where): finding
        for (rule, where), finding in standing.items()
        if rule in _SAID_BY and (_SAID_BY[rule], where) in standing
    }
    joined = []
    for finding in findings:
        key = (finding.rule, finding.where)
        if finding.waived is None and (_SAID_BY.get(finding.rule), finding.where) in said:
            continue
        if finding.waived is None and key in said:
            finding = replace(finding, message=f"{finding.message}; {said[key].joins}")
        joined.append(finding)
    return joined


def _by_weight(findings: list[Finding]) -> tuple[Finding, ...]:
    rank = {severity: at for at, severity in enumerate(SEVERITIES)}
    return tuple(sorted(findings, key=lambda finding: rank[finding.severity]))


def worst(findings: Iterable[Finding]) -> str | None:
    """Return the worst severity among findings that are not waived."""
    standing = {finding.severity for finding in findings if finding.waived is None}
    return next((severity for severity in SEVERITIES if severity in standing), None)
