"""Say in sentences what remedies do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.checks.troubles import each_said, troubles
from rigtui.model.text import count, listed, number_text

if TYPE_CHECKING:
    from rigtui.advice.first import First
    from rigtui.advice.remedy import Remedy

TITLE = "Do these first"
_MOST_NEW = 6
"""New findings that are given word by word."""


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
            more.append(count(-number, f"more {noun}", f"more {nouns}"))
    if clears["findings"]:
        less.append(count(clears["findings"], "finding"))
    if remedy.proposal.costs.get("seconds"):
        more.append(f"{number_text(remedy.proposal.costs['seconds'])} s between songs")
    parts = [
        f"{verb} {listed(words)}"
        for verb, words in (
            ("clears", less),
            ("costs", more),
            ("adds", [troubles(remedy.new)] if remedy.new else []),
        )
        if words
    ]
    text = "; ".join(parts) or "changes nothing that is counted"
    text = text[0].upper() + text[1:]
    if remedy.stays:
        stay = (
            "of these changes is still" if len(remedy.stays) == 1 else "of these changes are still"
        )
        text += f"; {len(remedy.stays)} {stay} late"
    return text


def remedy_in_full(remedy: Remedy) -> list[str]:
    """Say where and how, what is new, and what can be done as well, a sentence each."""
    proposal = remedy.proposal
    lines = [*proposal.detail, *each_said(remedy.new, _MOST_NEW)]
    return [*lines, *filter(None, [goes_with(remedy)])]


def goes_with(remedy: Remedy) -> str | None:
    """Say which of the others can be done as well; None where none can."""
    if not remedy.goes_with:
        return None
    return f"Goes together with {listed(str(at + 1) for at in remedy.goes_with)}"


def nothing_helps(first: First) -> str | None:
    """Say that there is nothing to do first; None where there is, or where nothing was tried."""
    if first.remedies or not first.tried:
        return None
    if first.tried == 1:
        return "Nothing to do first: 1 way was tried on this rig, and it doesn't help"
    return f"Nothing to do first: {first.tried} ways were tried on this rig, and none helps"


def untried(first: First) -> str | None:
    """Say what was too much to try; None where nothing was."""
    return f"Not tried on a rig of this size: {listed(first.untried)}" if first.untried else None
