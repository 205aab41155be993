"""The findings of a report: by weight, then by rule, each with its place in the player's words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from rigtui.checks import SEVERITIES, Finding
from rigtui.cli.terminal import Terminal
from rigtui.model.cells import wrap
from rigtui.model.place_words import place_in_words
from rigtui.model.rig import Rig
from rigtui.model.text import count
from rigtui.store.locate import Locator

_WORD = re.compile(r"\w+")
_KINDS = {"preset", "pedal", "setlist", "the", "of"}
_HEADINGS = {"error": "Errors", "warning": "Warnings", "advice": "Advice"}


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
    standing = [one for one in findings if one.waived is None]
    waived = [one for one in findings if one.waived is not None]
    for severity in SEVERITIES:
        of_weight = [one for one in standing if one.severity == severity]
        if of_weight:
            yield terminal.paint(f"{_HEADINGS[severity]} ({len(of_weight)})", severity)
            yield from _by_rule(rig, of_weight, terminal, locator if severity == "error" else None)
            yield ""
    if waived:
        yield terminal.paint(f"Waived ({len(waived)})", "bold")
        for one in waived:
            yield from _finding(rig, one, terminal, f"{one.rule}, ")
        yield ""
    yield from wrap(_sum(standing, len(waived)), terminal.width, hang="  ")


def _by_rule(
    rig: Rig, findings: Iterable[Finding], terminal: Terminal, locator: Locator | None
) -> Iterator[str]:
    groups: dict[tuple[str, str], list[Finding]] = {}
    for one in findings:
        groups.setdefault((one.rule, one.why), []).append(one)
    for (rule, why), group in groups.items():
        yield "  " + terminal.paint(terminal.show(rule), "bold")
        for one in group:
            number = locator.line_of(one.where) if locator is not None else None
            yield from _finding(rig, one, terminal, at=f" (line {number})" if number else "")
        for line in wrap(terminal.show(f"Why: {why}"), terminal.width, "    "):
            yield terminal.paint(line, "faint")


def _finding(
    rig: Rig, one: Finding, terminal: Terminal, rule: str = "", at: str = ""
) -> Iterator[str]:
    place = place_in_words(rig, one.where)
    text = rule + (one.message if _names(one.message, place) else f"{place}: {one.message}") + at
    yield from wrap(terminal.show(text), terminal.width, "  - " if rule else "    - ", "      ")
    if one.waived is not None:
        reason = f"Accepted: {one.waived}" if one.waived else "Accepted, with no reason given"
        yield from wrap(terminal.show(reason), terminal.width, "      ")
    elif one.fix:
        yield from wrap(terminal.show(f"Fix: {one.fix.label}"), terminal.width, "      ")


def _names(message: str, place: str) -> bool:
    """Whether a message says its place itself, so that it need not be said twice."""
    said = set(_WORD.findall(message.casefold()))
    return said.issuperset(set(_WORD.findall(place.casefold())) - _KINDS)


def _sum(standing: Sequence[Finding], waived: int) -> str:
    if not standing and not waived:
        return "No findings"
    counted = dict.fromkeys(SEVERITIES, 0)
    for one in standing:
        counted[one.severity] += 1
    words = [count(counted["error"], "error"), count(counted["warning"], "warning")]
    words.append(f"{count(counted['advice'], 'piece')} of advice")
    if waived:
        words.append(f"{waived} waived")
    return "Findings: " + ", ".join(words)
