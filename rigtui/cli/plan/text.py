"""The plan as text that reads well in 80 columns."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigtui.cli.plan.curve import curves_text
from rigtui.cli.plan.tables import loop_table, preset_table, song_table
from rigtui.cli.plan.typed import typed
from rigtui.cli.plan.walk import walk_text
from rigtui.model.cells import wrap
from rigtui.plan.verdict.compare import board_differs
from rigtui.plan.verdict.mapping import mapped_anew
from rigtui.plan.words.mapping import change_lines
from rigtui.plan.words.outcome import headline, proofs, travel, worst
from rigtui.plan.words.reasons import reasons_in_words

if TYPE_CHECKING:
    from rigtui.cli.plan.outcome import Outcome
    from rigtui.cli.terminal import Terminal

TITLES = {
    "loops": "Which pedals earn a loop",
    "switches": "Which memory holds which preset",
    "route": "What to press",
    "all": "Loops, switches and route",
    "curve": "What would it buy",
}


def plan_text(outcome: Outcome, terminal: Terminal) -> str:
    """Write a plan for people."""
    lines = [*_head(outcome, terminal), ""]
    if outcome.plan.conflict is not None:
        lines += _conflict(outcome, terminal)
        lines += _before_accepting(outcome, terminal)
    elif outcome.plan.kind == "curve":
        lines += curves_text(outcome, terminal)
        lines += _before_accepting(outcome, terminal)
    elif outcome.plan.rig is not None:
        lines += _figures(outcome, terminal)
        lines += _changes(outcome, terminal)
    else:
        lines += ["  Stopped before any plan was found: give it more --seconds"]
    if outcome.plan.kind != "curve":
        lines += _listed("Notes", outcome.plan.notes, terminal)
    if outcome.explained is not None:
        for title, said in reasons_in_words(outcome.explained):
            lines += _listed(title, tuple(said), terminal)
    if outcome.written is not None:
        lines += wrap(terminal.show(f"Written to {outcome.written}"), terminal.width)
    while lines and not lines[-1]:
        lines.pop()
    return "\n".join(lines) + "\n"


def _head(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    title = f"{TITLES[outcome.plan.kind]}: {outcome.rig.name}"
    for line in wrap(terminal.show(title), terminal.width):
        yield terminal.paint(line, "bold")
    named = f"For {outcome.evening.words}"
    for line in wrap(terminal.show(f"{named} ({outcome.file})"), terminal.width, hang="  "):
        yield terminal.paint(line, "faint")


def _figures(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    made = outcome.plan
    for line in wrap(terminal.show(headline(made)), terminal.width, "  ", "    "):
        yield terminal.paint(line, "bold")
    for text in (worst(made), travel(made)):
        if text is not None:
            yield from wrap(terminal.show(text), terminal.width, "  ", "    ")
    for text in proofs(made, interrupted=outcome.interrupted):
        yield from wrap(terminal.show(text), terminal.width, "  ", "    ")
    yield ""
    yield from _before_accepting(outcome, terminal)


def _before_accepting(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    """What the plan is worth and what it does to the findings."""
    said = list(outcome.caveats)
    if outcome.findings is not None:
        worse = outcome.findings.worse()
        said += [] if worse is None else [worse]
        rules = outcome.findings.lines() if worse is None else outcome.findings.fewer()
        said.append("; ".join([outcome.findings.headline(), *rules]))
    then = outcome.plan.rig
    offered = then is not None and then != outcome.rig
    title = "Before you accept" if offered else "To know first"
    yield from _listed(title, tuple(said), terminal)


def _changes(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    now, then = outcome.rig, outcome.plan.rig
    assert then is not None
    if board_differs(now, then):
        yield from loop_table(now, then, terminal)
    if (now.presets, now.loops) != (then.presets, then.loops):
        yield from preset_table(now, then, terminal)
    yield from song_table(now, then, outcome.evening, terminal)
    yield from _mapped(outcome, terminal)
    if outcome.plan.kind == "route":
        yield from walk_text(outcome, terminal)
    steps = outcome.plan.steps or ("nothing: the rig is as the plan would have it",)
    yield from _listed("What to do", steps, terminal, numbered=bool(outcome.plan.steps))


def _mapped(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    """The sections that are played otherwise, song by song."""
    then = outcome.plan.rig
    assert then is not None
    changes = mapped_anew(outcome.rig, then)
    if not changes:
        return
    yield terminal.paint("Sections mapped anew", "bold")
    for change in changes:
        yield from wrap(terminal.show(change.title), terminal.width, "    ", "      ")
        for line in change_lines(change, outcome.rig, then):
            yield from wrap(terminal.show(line), terminal.width, "      ", "          ")
    yield ""


def _conflict(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    from rigtui.plan.words.conflict import conflict_words

    said = conflict_words(outcome.plan, outcome.rig)
    yield terminal.paint(f"  {said.title}.", "bold")
    yield from wrap(terminal.show(said.reason), terminal.width, "  ")
    for line, _ in said.sounds:
        yield from wrap(terminal.show(line), terminal.width, "  - ", "    ")
    yield ""
    asked = outcome.question
    lines = tuple(
        f"{line}: {words}" if (words := typed(asked, way.changes)) else line
        for line, way in said.relaxations
    )
    yield from _listed(said.offer, lines, terminal)
    if said.untried:
        yield from wrap(terminal.show(said.untried), terminal.width)


def _listed(
    title: str, texts: tuple[str, ...], terminal: Terminal, *, numbered: bool = False
) -> Iterator[str]:
    if not texts:
        return
    yield terminal.paint(title, "bold")
    for at, text in enumerate(texts, 1):
        mark = f"{at:4}. " if numbered else "  - "
        yield from wrap(terminal.show(text), terminal.width, mark, " " * len(mark))
    yield ""
