"""`rigtui plan compromise`: what to give up, asked, written down and perhaps put in a new file."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path

from rigtui.advice.giving_up.answer import JointFrontier, what_to_give_up
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.plan.command import in_the_way
from rigtui.cli.plan.compromise_text import compromise_text, json_text, undone_text
from rigtui.cli.plan.progress import Ticker
from rigtui.cli.plan.without import night_without
from rigtui.cli.terminal import complain, complain_of_file, put, terminal_of
from rigtui.model.edits.wanted import give_back
from rigtui.model.errors import BadRigError
from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.result import PlanError
from rigtui.store.atomic import SaveError
from rigtui.store.load import Source, load
from rigtui.store.save import save_new


def run(arguments: Namespace) -> int:
    """Work it out, print it and perhaps write a rig; return the exit status."""
    wrong = [*_mistyped(arguments), *in_the_way(arguments.write)]
    try:
        source, rig = load(Path(arguments.file))
    except BadRigError as error:
        _complain(arguments.file, wrong, [problem.text() for problem in error.problems])
        return BAD_USAGE
    if wrong:
        _complain(arguments.file, wrong, [])
        return BAD_USAGE
    try:
        then, text = _undone(arguments, rig) if arguments.undo else _found(arguments, rig)
    except PlanError as error:
        _complain(arguments.file, [], list(error.reasons))
        return BAD_USAGE
    try:
        _write(arguments.write, then, source)
    except SaveError as error:
        complain(f"{arguments.write}: {error}")
        return BAD_USAGE
    put(text)
    return 0


def _mistyped(arguments: Namespace) -> Iterator[str]:
    if isinstance(arguments.at_most, str):
        yield arguments.at_most
    if isinstance(arguments.seconds, str):
        yield arguments.seconds
    others = (arguments.keep, arguments.move_pedals, arguments.setlist, arguments.without)
    if arguments.undo and (arguments.at_most is not None or any(others)):
        yield "--undo gives all sounds back; only --write and --json go with it"
    elif arguments.write is not None and arguments.at_most is None and not arguments.undo:
        yield "--write needs --at-most SECTIONS, to say which row of the table to write"


def _complain(file: str, usage: list[str], of_file: list[str]) -> None:
    complain(*(f"rigtui plan compromise: {text}" for text in usage))
    complain_of_file(file, of_file)
    if usage:
        complain("`rigtui plan compromise --help` explains it")


def _found(arguments: Namespace, rig: Rig) -> tuple[Rig, str]:
    night = night_without(rig, arguments.without)
    rig = night.rig
    with Ticker(sys.stderr) as ticker:
        control = Control(ticker.tell, None, arguments.seconds)
        answer: JointFrontier = what_to_give_up(
            rig, arguments.setlist, tuple(dict.fromkeys(arguments.keep)),
            boards=arguments.move_pedals, control=control,
        )  # fmt: skip
    taken = None if arguments.at_most is None else answer.within(arguments.at_most)
    then = rig if taken is None else answer.point(taken).rig
    if arguments.json:
        return then, json_text(night, answer, taken, arguments.write)
    terminal = terminal_of(sys.stdout)
    return then, compromise_text(arguments.file, night, answer, taken, arguments.write, terminal)


def _undone(arguments: Namespace, rig: Rig) -> tuple[Rig, str]:
    then = give_back(rig)
    terminal = terminal_of(sys.stdout)
    return then, undone_text(rig, then, arguments.write, arguments.json, terminal)


def _write(new: str | None, rig: Rig, source: Source) -> None:
    if new is not None:
        for note in save_new(rig, Path(new), source):
            complain(f"{new}: {note}")
