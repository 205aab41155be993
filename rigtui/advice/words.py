"""What remedies do, in sentences."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rigtui.checks import SEVERITIES, Finding
from rigtui.model.text import count, listed, number_text

if TYPE_CHECKING:
    from rigtui.advice.first import First
    from rigtui.advice.remedy import Remedy

TITLE = "Do these first"
_WEIGHTS = {
    "error": ("error", "errors"),
    "warning": ("warning", "warnings"),
    "advice": ("piece of advice", "pieces of advice"),
}


def does(remedy: Remedy) -> str:
    """Say what a remedy clears and what it costs, in one line."""
    clears = remedy.clears
    less, more = [], []
    if clears["unplayable"]:
        less.append(f"{count(clears['unplayable'], 'section')} that can't be played")
    for key, noun, nouns in (
        ("extra_presses", "extra press", "extra presses"),
        ("moves", "move", "moves"),
    ):
        number = clears[key]
        if number > 0:
            less.append(count(number, noun, nouns))
        elif number < 0:
            more.append(f"{count(-number, noun, nouns)} more")
    if clears["findings"]:
        less.append(count(clears["findings"], "finding"))
    if remedy.proposal.costs.get("seconds"):
        more.append(f"{number_text(remedy.proposal.costs['seconds'])} s between songs")
    if remedy.added:
        more.append(named_findings(remedy.added))
    return f"Clears {listed(less)}" + (f"; costs {listed(more)}" if more else "")


def named_findings(findings: Sequence[Finding]) -> str:
    """Name findings by weight and rule: "1 warning (bank-hop) and 2 pieces of advice (...)"."""
    said = []
    for severity in SEVERITIES:
        rules = Counter(finding.rule for finding in findings if finding.severity == severity)
        if rules:
            names = ", ".join(
                rule if number == 1 else f"{rule} {number}x" for rule, number in rules.items()
            )
            said.append(f"{count(rules.total(), *_WEIGHTS[severity])} ({names})")
    return listed(said)


def goes_with(remedy: Remedy) -> str | None:
    """Say which of the others can be done as well; None where none can."""
    if not remedy.goes_with:
        return None
    return f"Goes together with {listed(str(at + 1) for at in remedy.goes_with)}"


def untried(first: First) -> str | None:
    """Say what was too much to try; None where nothing was."""
    return f"Not tried on a rig of this size: {listed(first.untried)}" if first.untried else None
