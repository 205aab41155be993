"""The questions of the plan view: behind the options, and before a plan is accepted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from rigtui.model.lookup import lookup
from rigtui.plan.ask.question import Question
from rigtui.tui.views.plan.options import (
    KINDS,
    LIMITS,
    OptionRow,
    evenings,
    in_memory,
    kept_apart,
    loops_of,
    memory_words,
)
from rigtui.tui.widgets.dialogs import Confirm, Field, Form
from rigtui.tui.widgets.pick import Pick

if TYPE_CHECKING:
    from textual.app import App

    from rigtui.model.rig import Rig
    from rigtui.tui.views.plan.worth import PlanWorth


_Change = Callable[[Question], None]
_EXPLAINED = {
    "all": "judged together, from the cables to the presses",
    "loops": "which pedals earn one, which share one, which stay outside",
    "switches": "which one holds which preset",
    "route": "which presets they are mapped to, what to press",
    "curve": "what would it buy, by loops, memories and switches of a bank",
}


def ask_for(
    app: App[object], option: OptionRow, question: Question, rig: Rig, change: _Change
) -> None:
    """Ask for the value of an option.

    Args:
        app: The app, which shows the question.
        option: The option.
        question: What is asked of the planner now.
        rig: The rig.
        change: Takes what is asked of it then; not called where the player leaves.
    """
    asked = _pick_of(option, question, rig)
    if asked is None:
        app.push_screen(number_form(question, option, rig, change))
    else:
        _push(app, *asked, change)


def _pick_of(
    option: OptionRow, question: Question, rig: Rig
) -> tuple[Pick, Callable[[str], Question]] | None:
    """The list of answers, and what an answer makes of the question; None for a form."""
    if option.key == "memory":
        pick = memory_pick(question, option, rig)
        return pick, lambda memory: in_memory(question, option.name, int(memory) or None)
    if option.name == "kind":
        return kind_pick(question), lambda kind: replace(question, kind=kind)
    if option.name == "setlist":
        pick = evening_pick(question, rig)
        return pick, lambda answer: replace(question, setlists=(answer,) if answer else ())
    if option.name == "seconds":
        return limit_pick(question), lambda limit: replace(question, seconds=_limit(limit))
    return None


def _limit(answer: str) -> float | None:
    return None if answer == str(None) else float(answer)


def ask_apart(
    app: App[object], option: OptionRow, question: Question, rig: Rig, change: _Change
) -> None:
    """Ask which pedal the one of an option may not share a loop with."""
    pick = apart_pick(rig, option.name)
    _push(app, pick, lambda answer: kept_apart(question, option.name, answer), change)


def _push(app: App[object], pick: Pick, made: Callable[[str], Question], change: _Change) -> None:
    def answered(answer: str | None) -> None:
        if answer is not None:
            change(made(answer))

    app.push_screen(pick, answered)


def kind_pick(question: Question) -> Pick:
    """Ask what may change."""
    choices = [(kind, f"{label}: {_EXPLAINED[kind]}") for kind, label in KINDS.items()]
    return Pick("What may change?", choices, question.kind)


def evening_pick(question: Question, rig: Rig) -> Pick:
    """Ask which setlist counts."""
    return Pick("Plan for?", list(evenings(rig).items()), next(iter(question.setlists), ""))


def limit_pick(question: Question) -> Pick:
    """Ask when to stop with the best so far."""
    choices = [(str(seconds), label) for seconds, label in LIMITS.items()]
    return Pick("Stop after how long, with the best so far?", choices, str(question.seconds))


def memory_pick(question: Question, row: OptionRow, rig: Rig) -> Pick:
    """Ask which memory a preset must have."""
    memories = question.memories or (rig.switcher.memories if rig.switcher else 0)
    choices = [("0", "any memory")]
    choices += [
        (str(memory), memory_words(memory, rig.switcher)) for memory in range(1, memories + 1)
    ]
    chosen = str(question.pin_switch.get(row.name, 0))
    return Pick(f"Which memory must {row.label} have?", choices, chosen)


def apart_pick(rig: Rig, pedal: str) -> Pick:
    """Ask which pedal another one may not share a loop with."""
    labels = {row.id: row.label for row in rig.pedals}
    others = [(row.id, row.label) for row in rig.pedals if row.id != pedal]
    return Pick(f"Never in one loop with {labels[pedal]}:", others)


def pedal_pick(rig: Rig) -> Pick:
    """Ask which pedal there is not tonight."""
    known = lookup(rig)
    choices = []
    for pedal in rig.pedals:
        number = known.loop_of.get(pedal.id)
        place = "outside the loops" if number is None else f"loop {number}"
        choices.append((pedal.id, f"{pedal.label}, {place}"))
    return Pick("Which pedal must you do without?", choices)


def number_form(question: Question, row: OptionRow, rig: Rig, change: _Change) -> Form:
    """Ask for loops and memories, or for copies."""
    if row.name == "copies":
        most = "" if question.copies is None else str(question.copies)
        field = Field("copies", "Copies at most", most)
        note = "Spare memories hold a preset again, to save bank steps. Empty: as many as help."

        def copies(given: dict[str, str]) -> str | None:
            number = _whole(given["copies"], 0, 127)
            if number is None and given["copies"].strip():
                return "copies must be a whole number, 0 to 127, or nothing for as many as help"
            change(replace(question, copies=number))
            return None

        return Form("Copies of presets", [field], copies, note)
    return _size_form(question, rig, change)


def _size_form(question: Question, rig: Rig, change: _Change) -> Form:
    from rigtui.plan.ask.other_switcher import MOST_MEMORIES, memories_fault

    now = loops_of(rig)
    wanted = question.loops or now
    has = rig.switcher.memories if rig.switcher else 1
    fields = [
        Field("front", "Loops in front", str(wanted["front"])),
        Field("fx", "Loops in fx", str(wanted["fx"])),
        Field("memories", "Memories", str(question.memories or has)),
    ]
    note = (
        f"Now: {now['front']} in front of the amp, {now['fx']} in its effects loop, {has} memories."
    )
    if question.kind == "switches":
        fields, note = fields[2:], f"Now: {has} memories."

    def submit(given: dict[str, str]) -> str | None:
        sizes = {side: _whole(given.get(side, str(known)), 0, 99) for side, known in wanted.items()}
        memories = _whole(given["memories"], 1, MOST_MEMORIES)
        if None in sizes.values():
            return "loops must be whole numbers, 0 to 99"
        if memories is None:
            return f"memories must be a whole number, 1 to {MOST_MEMORIES}"
        fault = memories_fault(rig, memories)
        if fault is not None:
            return fault
        loops = {side: size or 0 for side, size in sizes.items()}
        change(
            replace(
                question,
                loops=None if loops == now else loops,
                memories=None if memories == has else memories,
            )
        )
        return None

    return Form("Plan for a switcher with", fields, submit, note)


def accept_question(worth: PlanWorth, other: Sequence[str]) -> Confirm:
    """Ask whether to accept a plan that something speaks against.

    Args:
        worth: What the plan is worth.
        other: What is asked for otherwise now than when it was made.
    """
    doubts = worth.doubts
    answers = [("y", "accept it all the same, as one step that u takes back")]
    if other:
        doubts = [f"Made with other options; changed since: {', '.join(other)}", *doubts]
        answers.insert(0, ("p", "plan again, with the options as they are now"))
    question, *rest = doubts
    rest += [sentence for sentence in worth.sentences if sentence not in doubts]
    return Confirm(f"{question}.", answers, rest, "leave the rig as it is")


def again_question() -> Confirm:
    """Ask whether to plan again for a rig that has changed."""
    return Confirm(
        "The rig has changed since this plan was made, so it does not fit any more.",
        [("p", "plan again, for the rig as it is now")],
    )


def _whole(text: str, low: int, high: int) -> int | None:
    text = text.strip()
    if text.isascii() and text.isdigit() and len(text) < 6 and low <= int(text) <= high:
        return int(text)
    return None
