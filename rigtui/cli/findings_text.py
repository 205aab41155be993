"""The findings of a report: by what to do about them, or all by weight and rule."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from rigtui.checks import SEVERITIES, Finding
from rigtui.checks.registry import RULES_BY_ID
from rigtui.cli.first_text import first_text
from rigtui.cli.terminal import Terminal
from rigtui.model.cells import wrap
from rigtui.model.place_words import place_in_words
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed
from rigtui.paper.causes import MOST_REHEARSED, ByCause, Cause, HardChange, by_cause
from rigtui.store.locate import Locator

if TYPE_CHECKING:
    from rigtui.advice.first import First

_WORD = re.compile(r"\w+")
_KINDS = {"preset", "pedal", "setlist", "the", "of"}
_HEADINGS = {"error": "Errors", "warning": "Warnings", "advice": "Advice"}
_MARKS = {"warning": "!", "advice": "-"}


def causes_text(
    rig: Rig,
    findings: Sequence[Finding],
    terminal: Terminal,
    locator: Locator | None,
    first: First | None = None,
    *,
    in_full: bool,
) -> Iterator[str]:
    """Say what cannot be played, what to do first, what to rehearse, and the rest by cause.

    What to do first comes first of all, unless there is what it leaves unplayable.

    Args:
        rig: The rig.
        findings: Its findings.
        terminal: What they are written to.
        locator: Tells the line of each error in the file; None for a rig of no file.
        first: What to do first, if that was asked.
        in_full: Whether every finding is listed after that, in place of the causes.
    """
    standing = [finding for finding in findings if finding.waived is None]
    causes = by_cause(rig, standing)
    errors = [finding for cause in causes.cannot for finding in cause.remarks]
    to_do = [*first_text(first, terminal, in_full=in_full)] if first is not None else []
    leads = first is None or not first.leaves(errors)
    if leads:
        yield from to_do
    if errors:
        yield terminal.paint(f"Can't be played ({len(errors)})", "error")
        yield from _by_rule(rig, errors, terminal, locator)
        yield ""
    if not leads:
        yield from to_do
    yield from _to_rehearse(rig, causes, terminal)
    if in_full:
        yield from findings_text(rig, findings, terminal, locator)
        return
    if causes.rest:
        rest = [finding for cause in causes.rest for finding in cause.remarks]
        yield terminal.paint("The rest, by cause", "bold") + f" ({_weights(rest)})"
        for cause in causes.rest:
            yield from _cause(rig, cause, terminal)
        yield ""
    yield from wrap(_sum(standing, len(findings) - len(standing)), terminal.width, hang="  ")
    if findings:
        yield from wrap("--all lists every finding, with its reason", terminal.width, hang="  ")


def _to_rehearse(rig: Rig, causes: ByCause[Finding], terminal: Terminal) -> Iterator[str]:
    """The changes that need rehearsing most, those alike in a song once."""
    if not causes.rehearse:
        return
    shown = causes.rehearse[:MOST_REHEARSED]
    of = f" ({len(shown)} of {len(causes.rehearse)})" if len(causes.rehearse) > len(shown) else ""
    yield terminal.paint("Rehearse these", "warning") + of
    for number, change in enumerate(shown, 1):
        yield from _hard_change(rig, number, change, terminal)
    yield ""


def _hard_change(
    rig: Rig, number: int, change: HardChange[Finding], terminal: Terminal
) -> Iterator[str]:
    first, *more = change.remarks
    again = ""
    if change.again:
        noun = "section" if len(change.again) == 1 else "sections"
        again = f"; the same into {noun} {listed(str(at + 1) for at in change.again)}"
    yield from wrap(terminal.show(first.message + again), terminal.width, f"{number:4}  ", " " * 6)
    for finding in more:
        yield from wrap(terminal.show(finding.message), terminal.width, " " * 6)


def _cause(rig: Rig, cause: Cause[Finding], terminal: Terminal) -> Iterator[str]:
    """A cause in a line: how often and where; what it is about where it comes once."""
    number = cause.times
    mark = terminal.paint(_MARKS[cause.severity], cause.severity)
    if len(cause.remarks) == 1:
        text = _placed(rig, cause.remarks[0])
    else:
        words = [f"in {count(cause.songs, 'song')}"] if cause.songs else []
        if 0 < cause.patterns < number:
            words.append(count(cause.patterns, "pattern"))
        where = f" ({', '.join(words)})" if words else ""
        text = f"{cause.rule}: {_summary(cause)}{where}"
    head, *lines = wrap(terminal.show(text), terminal.width - 8) or [""]
    yield f"  {mark}{number:4} {head}"
    yield from (" " * 8 + line for line in lines)


def findings_text(
    rig: Rig, findings: Sequence[Finding], terminal: Terminal, locator: Locator | None = None
) -> Iterator[str]:
    """List findings, heaviest first and the waived last, and add them up.

    Args:
        rig: The rig.
        findings: Its findings.
        terminal: What they are written to.
        locator: Tells the line of each error in the file; None for a rig of no file.
    """
    standing = [finding for finding in findings if finding.waived is None]
    waived = [finding for finding in findings if finding.waived is not None]
    for severity in SEVERITIES:
        of_weight = [finding for finding in standing if finding.severity == severity]
        if of_weight:
            yield terminal.paint(f"{_HEADINGS[severity]} ({len(of_weight)})", severity)
            yield from _by_rule(rig, of_weight, terminal, locator if severity == "error" else None)
            yield ""
    if waived:
        yield terminal.paint(f"Waived ({len(waived)})", "bold")
        for finding in waived:
            yield from _finding(rig, finding, terminal, f"{finding.rule}, ")
        yield ""
    yield from wrap(_sum(standing, len(waived)), terminal.width, hang="  ")


def _by_rule(
    rig: Rig, findings: Iterable[Finding], terminal: Terminal, locator: Locator | None
) -> Iterator[str]:
    groups: dict[tuple[str, str], list[Finding]] = {}
    for finding in findings:
        groups.setdefault((finding.rule, finding.why), []).append(finding)
    for (rule, why), group in groups.items():
        yield "  " + terminal.paint(terminal.show(rule), "bold")
        for finding in group:
            number = locator.line_of(finding.where) if locator is not None else None
            yield from _finding(rig, finding, terminal, at=f" (line {number})" if number else "")
        for line in wrap(terminal.show(f"Why: {why}"), terminal.width, "    "):
            yield terminal.paint(line, "faint")


def _finding(
    rig: Rig, finding: Finding, terminal: Terminal, rule: str = "", at: str = ""
) -> Iterator[str]:
    text = rule + _placed(rig, finding) + at
    yield from wrap(terminal.show(text), terminal.width, "  - " if rule else "    - ", "      ")
    if finding.waived is not None:
        reason = (
            f"Accepted: {finding.waived}" if finding.waived else "Accepted, with no reason given"
        )
        yield from wrap(terminal.show(reason), terminal.width, "      ")
    elif finding.fix:
        yield from wrap(terminal.show(f"Fix: {finding.fix.label}"), terminal.width, "      ")


def _summary(cause: Cause[Finding]) -> str:
    rule = RULES_BY_ID.get(cause.rule)
    return cause.remarks[0].message if rule is None else rule.summary.rstrip(".")


def _placed(rig: Rig, finding: Finding) -> str:
    """What a finding says, with its place where it does not say that itself."""
    place = place_in_words(rig, finding.where)
    return finding.message if _names(finding.message, place) else f"{place}: {finding.message}"


def _names(message: str, place: str) -> bool:
    """Whether a message says its place itself, so that it need not be said twice."""
    said = set(_WORD.findall(message.casefold()))
    return said.issuperset(set(_WORD.findall(place.casefold())) - _KINDS)


def _sum(standing: Sequence[Finding], waived: int) -> str:
    if not standing and not waived:
        return "No findings"
    counted = [_weights(standing)] if standing else []
    return "Findings: " + ", ".join([*counted, *([f"{waived} waived"] if waived else [])])


def _weights(findings: Sequence[Finding]) -> str:
    """How many findings of each weight."""
    numbers = Counter(finding.severity for finding in findings)
    nouns = {"error": ("error", "errors"), "warning": ("warning", "warnings"),
             "advice": ("piece of advice", "pieces of advice")}  # fmt: skip
    return ", ".join(
        count(numbers[severity], *nouns[severity]) for severity in SEVERITIES if numbers[severity]
    )
