"""The plan as text that reads well in 80 columns."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigtui.cli.plan.curve import curves_text
from rigtui.cli.plan.findings import NOT_COMPARED
from rigtui.cli.plan.tables import preset_table, song_table
from rigtui.cli.plan.typed import typed
from rigtui.cli.plan.walk import walk_text
from rigtui.cli.plan.without import night_text
from rigtui.model.cells import wrap
from rigtui.plan.verdict.mapping import mapped_anew
from rigtui.plan.verdict.worth import worth_of
from rigtui.plan.words.brief import head, songs_that_change, too_crowded
from rigtui.plan.words.caveats import brief_caveats
from rigtui.plan.words.mapping import change_lines
from rigtui.plan.words.outcome import headline, proofs, travel, worst
from rigtui.plan.words.pictures import CHANGED, Line, banks_picture, loops_picture
from rigtui.plan.words.reasons import reasons_in_words
from rigtui.plan.words.steps import ticks, title_of_ticks
from rigtui.plan.words.what_to_do import what_to_do

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
_MORE = {
    "loops": "every song, section and proof",
    "switches": "every song and bank, and the proof",
    "route": "what to press, section by section",
    "all": "every song, section and proof",
}
_NAME = 15
_MOST_BANKS, _MOST_SONGS = 4, 3
"""Banks that are drawn, and songs of each kind that are named, where not all are asked for."""


def plan_text(outcome: Outcome, terminal: Terminal, *, in_full: bool = False) -> str:
    """Write a plan for people.

    Args:
        outcome: The plan and what it was made of.
        terminal: Where it goes.
        in_full: Whether to write every song, section and proof, and not only what counts most.
    """
    lines = [*_title(outcome, terminal), ""]
    if outcome.plan.conflict is not None:
        lines += _conflict(outcome, terminal)
        lines += _before_accepting(outcome, terminal, in_full=True)
    elif outcome.plan.kind == "curve":
        lines += curves_text(outcome, terminal)
        lines += _before_accepting(outcome, terminal, in_full=True) if in_full else ()
    elif outcome.plan.rig is not None:
        lines += _brief(outcome, terminal, in_full=in_full)
        lines += _in_full(outcome, terminal) if in_full else ()
    else:
        lines += ["  Stopped before finding a plan: give it more --seconds"]
    if outcome.plan.kind != "curve":
        lines += _listed("Notes", outcome.plan.notes, terminal)
    if outcome.explained is not None:
        for title, said in reasons_in_words(outcome.explained):
            lines += _listed(title, tuple(said), terminal)
    lines += _last(outcome, terminal, in_full=in_full)
    while lines and not lines[-1]:
        lines.pop()
    return "\n".join(lines) + "\n"


def _last(outcome: Outcome, terminal: Terminal, *, in_full: bool) -> list[str]:
    """Where the plan was written, or how to have it written, and what more there is to see."""
    if outcome.written is not None:
        return wrap(terminal.show(f"Written to {outcome.written}"), terminal.width)
    if outcome.plan.rig is None:
        return []
    hints = [] if in_full else [f"--all: {_MORE[outcome.plan.kind]}"]
    if outcome.plan.rig != outcome.rig:
        hints.append("--write NEW: the plan as a new file")
    lines = ["; ".join(hints)] if hints else []
    if too_crowded(outcome.appraisal) and outcome.smaller is None:
        lines.append("Too crowded? plan compromise: sounds to give up; plan buy: another switcher")
    return [terminal.paint(line, "faint") for text in lines for line in wrap(text, terminal.width)]


def _title(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    title = f"{TITLES[outcome.plan.kind]}: {outcome.rig.name}"
    for line in wrap(terminal.show(title), terminal.width):
        yield terminal.paint(line, "bold")
    named = f"For {outcome.evening.words}"
    for line in wrap(terminal.show(f"{named} ({outcome.file})"), terminal.width, hang="  "):
        yield terminal.paint(line, "faint")
    yield from night_text(outcome.night, terminal)


def _brief(outcome: Outcome, terminal: Terminal, *, in_full: bool) -> Iterator[str]:
    """What counts most: what to do, four lines, the pictures, the songs that change most."""
    known, now, then = outcome.appraisal, outcome.rig, outcome.plan.rig
    assert then is not None
    for line in wrap(terminal.show(what_to_do(known)), terminal.width):
        yield terminal.paint(line, "bold")
    if outcome.smaller is not None:
        said = f"{outcome.smaller.text} (plan compromise)"
        yield from wrap(terminal.show(said), terminal.width)
    yield ""
    for name, text in head(known, interrupted=outcome.interrupted):
        start = f"  {name:<{_NAME}}"
        first, *rest = wrap(terminal.show(text), terminal.width, start, " " * len(start))
        yield terminal.paint(first[: len(start)], "bold") + first[len(start) :]
        yield from rest
    yield ""
    yield from _before_accepting(outcome, terminal, in_full=in_full)
    show, width = terminal.show, terminal.width
    if outcome.plan.kind in ("loops", "all") and now.loops:
        title = "Loops in signal order"
        yield from _picture(title, loops_picture(now, then, width, show), terminal)
    if outcome.plan.kind != "route":
        most = None if in_full else _MOST_BANKS
        title = "Footswitches, bank by bank"
        yield from _picture(title, banks_picture(now, then, width, show, most=most), terminal)
    things = tuple(tick.text for tick in ticks(now, then, outcome.evening))
    yield from _listed(title_of_ticks(worth_of(known)), things, terminal, mark="  [ ] ")
    if in_full:
        yield from song_table("Presses of each song", known.songs, terminal)
        return
    most_songs = _MOST_SONGS - (outcome.smaller is not None)
    better, worse = songs_that_change(known.songs, most_songs)
    if better or worse:
        title = "Songs that gain or lose most"
        yield from song_table(title, [*better, *worse], terminal)


def _picture(title: str, lines: list[Line], terminal: Terminal) -> Iterator[str]:
    if not lines:
        return
    legend = f"   {CHANGED} differs from now" if any(line.changed for line in lines) else ""
    yield terminal.paint(title, "bold") + terminal.paint(legend, "faint")
    for line in lines:
        text = "".join(
            terminal.paint(piece.text, "bold") if piece.changed else piece.text
            for piece in line.pieces
        )
        yield text.rstrip()
    yield ""


def _before_accepting(outcome: Outcome, terminal: Terminal, *, in_full: bool) -> Iterator[str]:
    """What the plan is worth and what it does to the findings."""
    said = list(outcome.caveats)
    if not in_full:
        not_compared = [caveat for caveat in said if caveat == NOT_COMPARED]
        said = [*brief_caveats(outcome.appraisal), *not_compared]
    if outcome.findings is not None:
        worse = outcome.findings.worse()
        said += [] if worse is None else [worse]
        if in_full:
            rules = outcome.findings.lines() if worse is None else outcome.findings.fewer()
            said.append("; ".join([outcome.findings.headline(), *rules]))
    then = outcome.plan.rig
    offered = then is not None and then != outcome.rig
    title = "Before you accept" if offered else "Know first"
    yield from _listed(title, tuple(said), terminal)


def _in_full(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    """Everything else: the presets by loops, each section, the walk, what is written, proofs."""
    now, then = outcome.rig, outcome.plan.rig
    assert then is not None
    if (now.presets, now.loops) != (then.presets, then.loops):
        yield from preset_table(now, then, terminal)
    yield from _mapped(outcome, terminal)
    if outcome.plan.kind == "route":
        yield from walk_text(outcome, terminal)
    made = outcome.plan
    written = made.steps[len(ticks(now, then, outcome.evening)) :]
    yield from _listed("Besides", written, terminal)
    figures = (headline(made), worst(made), travel(made))
    yield from _listed("Figures", tuple(text for text in figures if text), terminal)
    proved = tuple(proofs(made, interrupted=outcome.interrupted))
    yield from _listed("What was proved", proved, terminal)


def _mapped(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    """The sections that are played otherwise, song by song."""
    then = outcome.plan.rig
    assert then is not None
    changes = mapped_anew(outcome.rig, then)
    if not changes:
        return
    yield terminal.paint("Sections that change", "bold")
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
    title: str, texts: tuple[str, ...], terminal: Terminal, *, mark: str = "  - "
) -> Iterator[str]:
    if not texts:
        return
    yield terminal.paint(title, "bold")
    for text in texts:
        yield from wrap(terminal.show(text), terminal.width, mark, " " * len(mark))
    yield ""
