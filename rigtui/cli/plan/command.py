"""`rigtui plan`: read the question, ask the planner, and print or write the plan."""

from __future__ import annotations

import signal
import sys
from argparse import Namespace
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from rigtui.advice.giving_up.smaller import smaller_way, sought
from rigtui.cli.arguments import BAD_USAGE
from rigtui.cli.plan.arguments import faults
from rigtui.cli.plan.findings import NOT_COMPARED, findings_compared
from rigtui.cli.plan.outcome import Outcome
from rigtui.cli.plan.progress import Ticker
from rigtui.cli.plan.without import Night, night_without
from rigtui.cli.terminal import complain, complain_of_file, put
from rigtui.model.errors import BadRigError
from rigtui.plan.answer import nonsense, plan
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.goal import FIRST
from rigtui.plan.ask.question import SECONDS, Question
from rigtui.plan.ask.result import Plan, PlanError
from rigtui.plan.verdict.appraisal import appraise
from rigtui.plan.words.caveats import caveats
from rigtui.store.atomic import SaveError
from rigtui.store.fresh import taken
from rigtui.store.load import Source, load
from rigtui.store.save import save_new

NOTHING = 1
"""Exit status where there is no plan."""
INTERRUPTED = 130
_SMALLER_SECONDS = 1.0
"""How long something with less to learn may be looked for though the time is up."""


def run(arguments: Namespace) -> int:
    """Plan, print and perhaps write; return the exit status."""
    wrong = [*faults(arguments), *in_the_way(arguments.write)]
    try:
        source, rig = load(Path(arguments.file))
    except BadRigError as error:
        _complain(arguments.file, wrong, [problem.text() for problem in error.problems])
        return BAD_USAGE
    question, senseless = question_of(arguments)
    try:
        night = night_without(rig, arguments.without)
        senseless += nonsense(night.rig, question)
    except PlanError as error:
        senseless += error.reasons
    if wrong or senseless:
        _complain(arguments.file, wrong, senseless)
        return BAD_USAGE
    try:
        outcome = _planned(arguments.file, night, question, arguments.explain)
    except PlanError as error:
        _complain(arguments.file, [], error.reasons)
        return BAD_USAGE
    try:
        written = _write(arguments.write, outcome.plan, source)
    except SaveError as error:
        complain(f"{arguments.write}: {error}")
        return BAD_USAGE
    outcome = replace(outcome, written=written)
    put(_text(outcome, arguments))
    if outcome.interrupted:
        return INTERRUPTED
    made = outcome.plan
    has_answer = made.rig is not None or (made.kind == "curve" and made.conflict is None)
    return 0 if has_answer else NOTHING


def _complain(file: str, usage: Sequence[str], of_file: Sequence[str]) -> None:
    """Tell all that is wrong at once: with what was typed, then with the file or for its rig."""
    complain(*(f"rigtui plan: {text}" for text in usage))
    complain_of_file(file, of_file)
    if usage:
        complain("`rigtui plan --help` explains it")


def question_of(arguments: Namespace) -> tuple[Question, list[str]]:
    """Make the question of what was typed, and say where two options are about the same thing."""
    twice = []
    pins: dict[str, str] = {}
    for pedal, where in arguments.pin:
        if pins.setdefault(pedal, where) != where:
            twice.append(
                f"--pin {pedal}=in and --pin {pedal}=out contradict each other: choose one"
            )
    pin_switch: dict[str, int] = {}
    for preset, memory in arguments.pin_switch:
        if pin_switch.setdefault(preset, memory) != memory:
            twice.append(f"--pin-switch gives {preset} two memories: give it one")
    loops: tuple[int, ...] = arguments.loops or ()
    question = Question(
        kind=arguments.kind,
        setlists=tuple(arguments.setlist),
        seconds=arguments.seconds or SECONDS,
        pins=pins,
        keep=tuple(dict.fromkeys(arguments.keep)),
        apart=tuple(dict.fromkeys(arguments.apart)),
        sharing=not arguments.no_sharing,
        keep_order=arguments.keep_order,
        loops=dict(zip(("front", "fx"), loops)) if len(loops) == 2 else None,
        total_loops=next(iter(loops), None) if len(loops) == 1 else None,
        memories=arguments.memories,
        pin_switch=pin_switch,
        first=arguments.first or FIRST[0],
        copies=arguments.copies,
    )
    return question, list(dict.fromkeys(twice))


def _planned(file: str, night: Night, question: Question, explain: bool) -> Outcome:
    rig = night.rig
    evening = evening_of(rig, question.setlists)
    with Ticker(sys.stderr) as ticker, _stopping() as stopped:
        control = Control(ticker.tell, lambda: bool(stopped), question.seconds)
        made = plan(rig, question, control)
        said = None
        if explain and made.rig is not None:
            more = Control(ticker.tell, lambda: bool(stopped), question.seconds)
            said = plan(made.rig, replace(question, kind="explain"), more)
        appraisal = appraise(made, rig, evening)
        told = caveats(appraisal)
        findings = None if made.rig is None else findings_compared(rig, made.rig, control)
        if made.rig is not None and findings is None:
            told += (NOT_COMPARED,)
        wanted, smaller = sought(appraisal, question), None
        if wanted is not None:
            smaller = smaller_way(rig, wanted, control.finishing(_SMALLER_SECONDS))
        return Outcome(
            file, night, evening, question, made, bool(stopped), appraisal, told, findings, said,
            smaller,
        )  # fmt: skip


@contextmanager
def _stopping() -> Iterator[list[int]]:
    """Have the first Ctrl-C ask for the best so far; a second one ends the program as ever."""
    pressed: list[int] = []

    def press(number: int, frame: object) -> None:
        if pressed:
            raise KeyboardInterrupt
        pressed.append(number)

    try:
        before = signal.signal(signal.SIGINT, press)
    except ValueError:  # not the main thread: then Ctrl-C never comes here
        yield pressed
        return
    try:
        yield pressed
    finally:
        signal.signal(signal.SIGINT, before)


def in_the_way(new: str | None) -> Iterator[str]:
    """Why the new file cannot be written, as far as that can be told before planning."""
    if new is None:
        return
    path = Path(new)
    reason = taken(path)
    if reason is None and not path.parent.is_dir():
        reason = f"there is no folder {path.parent}; make it first"
    if reason is not None:
        yield f"--write {new}: {reason}"


def _write(new: str | None, made: Plan, source: Source) -> str | None:
    """Write the rig as planned into a new file, the comments of the old one kept."""
    if new is None or made.rig is None:
        return None
    for note in save_new(made.rig, Path(new), source):
        complain(f"{new}: {note}")
    return new


def _text(outcome: Outcome, arguments: Namespace) -> str:
    if arguments.json:
        from rigtui.cli.plan.json_text import json_text

        return json_text(outcome)
    from rigtui.cli.plan.text import plan_text
    from rigtui.cli.terminal import terminal_of

    return plan_text(outcome, terminal_of(sys.stdout), in_full=arguments.all)
