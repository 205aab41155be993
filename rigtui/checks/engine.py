"""Running the rules over a rig, piece by piece, and doing again only what an edit touched."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, get_args

from rigtui.checks.finding import SEVERITIES, Finding, Rule, Scope, View
from rigtui.checks.registry import RULES
from rigtui.model import Rig
from rigtui.model.remembered import Remembered

_BY_SCOPE = {
    scope: tuple(rule for rule in RULES if rule.scope == scope) for scope in get_args(Scope)
}

RULE_IDS = tuple(dict.fromkeys(rule.id for rule in RULES))


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
        rig, view = self.rig, View.of(self.rig, RULE_IDS)
        memo = _memo_of(rig)
        found: list[Finding] = []
        for rule in _BY_SCOPE["rig"]:
            hits = []
            for hit in rule.check(view):
                hits += [hit] if hit is not None else []
                yield
            found += map(rule.finding, sorted(hits, key=lambda hit: hit.rank))
            yield
        for scope, rows in (("pedal", rig.pedals), ("preset", rig.presets), ("song", rig.songs)):
            for row in rows:
                known = memo.get(id(row))
                if known is None or known[0] is not row:
                    known = (row, _found(_BY_SCOPE[scope], view, row))
                    memo[id(row)] = known
                    yield
                found += known[1]
        for setlist in rig.setlists:
            found += _found(_BY_SCOPE["setlist"], view, setlist)
            yield
        for rule in _BY_SCOPE["findings"]:
            for hit in rule.check(view, tuple(found)):
                found += [rule.finding(hit)] if hit is not None else []
                yield
        self.findings = _ranked(_with_waivers(rig, found))


def _found(rules: Iterable[Rule], view: View, row: Any) -> tuple[Finding, ...]:
    hits = ((rule, hit) for rule in rules for hit in rule.check(view, row))
    return tuple(rule.finding(hit) for rule, hit in hits if hit is not None)


_Memo = dict[int, tuple[Any, tuple[Finding, ...]]]
_memos: Remembered[_Memo] = Remembered()


def _memo_of(rig: Rig) -> _Memo:
    """Findings of single pedals, presets and songs, good while nothing else that they see moves."""
    parts = (rig.amp, rig.switcher, rig.pedals, rig.loops, rig.chain, rig.midi, rig.presets,
             rig.player)  # fmt: skip
    return _memos.get(parts, dict)


def _with_waivers(rig: Rig, found: list[Finding]) -> list[Finding]:
    """Mark the findings that the player accepts with the reason."""
    reasons = {(waiver.rule, waiver.where): waiver.reason for waiver in rig.waivers}
    if not reasons:
        return found
    return [
        replace(one, waived=reasons[one.rule, one.where])
        if (one.rule, one.where) in reasons
        else one
        for one in found
    ]


def _ranked(found: list[Finding]) -> tuple[Finding, ...]:
    rank = {severity: at for at, severity in enumerate(SEVERITIES)}
    return tuple(sorted(found, key=lambda one: rank[one.severity]))


def worst(findings: Iterable[Finding]) -> str | None:
    """Return the worst severity among findings that are not waived."""
    standing = {one.severity for one in findings if one.waived is None}
    return next((severity for severity in SEVERITIES if severity in standing), None)
