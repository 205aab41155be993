"""What to do first, at the head of a report."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigtui.advice.words import TITLE, does, nothing_helps, remedy_in_full, untried
from rigtui.model.cells import wrap

if TYPE_CHECKING:
    from rigtui.advice.first import First
    from rigtui.cli.terminal import Terminal


def first_text(first: First, terminal: Terminal, *, in_full: bool) -> Iterator[str]:
    """List the remedies, best first, or say that there are none; nothing where none was tried.

    Args:
        first: What was found.
        terminal: What it is written to.
        in_full: Whether each says where and how as well.
    """
    if first.remedies:
        yield terminal.paint(TITLE, "bold")
        for number, remedy in enumerate(first.remedies, 1):
            proposal = remedy.proposal
            yield from _said(terminal, proposal.what, f"{number:4}  ")
            lines = [does(remedy)]
            if in_full:
                lines += remedy_in_full(remedy)
            for line in lines:
                yield from _said(terminal, line, " " * 8)
    nothing, rest = nothing_helps(first), untried(first)
    if nothing is not None:
        yield from _said(terminal, nothing, "")
    if rest is not None:
        yield from _said(terminal, rest, "  ")
    if first.remedies or nothing or rest:
        yield ""


def _said(terminal: Terminal, text: str, start: str) -> list[str]:
    return wrap(terminal.show(text), terminal.width, start, " " * len(start))
