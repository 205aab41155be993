"""`rigtui import`: songs out of another file into a rig."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.cli.chosen import NotThereError, named_row, opened
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, complain_of_file, put, terminal_of
from rigtui.model.errors import BadRigError
from rigtui.model.text import count
from rigtui.moves.clock import song_seconds
from rigtui.store.atomic import SaveError
from rigtui.store.importing.answers import FilledDraft, fill
from rigtui.store.importing.draft import Draft, ImportFault, Kind
from rigtui.store.importing.into import Slot, put_in
from rigtui.store.importing.questions import (
    ANSWERED,
    Answer,
    OpenQuestion,
    answers_of,
    base_name,
    checked,
)
from rigtui.store.importing.rig_songs import only
from rigtui.store.importing.sources import MAX_TEXT_BYTES, read_content, read_source
from rigtui.store.save import save, save_new

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.store.load import Source

Ask = Callable[[str], str | None]
"""Shows a prompt and returns what was typed; None where no more will come."""


class NoAnswerError(Exception):
    """The player stopped answering."""


def run(arguments: Namespace) -> int:
    """Import songs and return the exit status."""
    read = opened(arguments.file)
    if read is None:
        return BAD_USAGE
    source, rig = read
    if arguments.write is not None and os.path.lexists(arguments.write):
        complain(f"rigtui import: {arguments.write} already exists: --write makes a new file")
        return BAD_USAGE
    try:
        slot = _slot(rig, arguments.setlist)
    except NotThereError as error:
        complain(f"{arguments.file}: {error}")
        return BAD_USAGE
    try:
        draft = _draft(arguments)
    except BadRigError as error:
        complain_of_file(arguments.source, (problem.text() for problem in error.problems))
        return BAD_USAGE
    except ImportFault as fault:
        complain_of_file(arguments.source, str(fault).splitlines())
        return BAD_USAGE
    try:
        answers: list[Answer] = []
        for what in ANSWERED:
            answers += answers_of(what, getattr(arguments, what))
        filled = _filled(draft, answers, rig, arguments.same)
        if filled is None:
            return BAD_USAGE
        new, lines = put_in(rig, filled, slot, song_seconds)
    except ImportFault as fault:
        complain(*(f"rigtui import: {line}" for line in str(fault).splitlines()))
        return BAD_USAGE
    except NoAnswerError:
        complain("rigtui import: stopped; nothing was written")
        return BAD_USAGE
    target = Path(arguments.write or arguments.file)
    if not arguments.check:
        try:
            notes = _written(new, source, arguments)
        except SaveError as error:
            complain(f"rigtui import: {error}" + ("" if error.landed else "; nothing was written"))
            return BAD_USAGE
        complain(*(f"{target}: written, but {note}" for note in notes))
    _tell(draft, lines, None if arguments.check else target)
    return 0


def _written(rig: Rig, source: Source, arguments: Namespace) -> tuple[str, ...]:
    """Write the rig; return what to tell the player although it is written."""
    if arguments.write is None:
        return save(rig, source.path, source)[1]
    try:
        return save_new(rig, Path(arguments.write), source)
    except SaveError as error:
        error.args = (f"{arguments.write}: {error}",)
        raise


def _slot(rig: Rig, setlist_id: str | None) -> Slot | None:
    """The end of a setlist, if songs are to be played in one."""
    if setlist_id is None:
        return None
    sets = named_row("setlist", setlist_id, rig.setlists).sets
    return Slot(setlist_id, max(0, len(sets) - 1), len(sets[-1].songs) if sets else 0)


def _draft(arguments: Namespace) -> Draft:
    if arguments.source == "-":
        draft = _piped(arguments.kind)
    else:
        draft = read_source(Path(arguments.source), arguments.kind)
    if arguments.songs is None:
        return draft
    return only(
        draft, [song_id.strip() for song_id in arguments.songs.split(",") if song_id.strip()]
    )


def _piped(kind: Kind | None) -> Draft:
    """Read what another program hands over, such as the clipboard."""
    if kind in (None, "rig"):
        raise ImportFault("say what it is: --as list, chordpro, midi or csv")
    stream = sys.stdin.buffer
    return read_content(stream.read(MAX_TEXT_BYTES + 1), kind, "song")


def _filled(draft: Draft, answers: list[Answer], rig: Rig, same: str | None) -> FilledDraft | None:
    """Fill the draft: what is open is asked on a terminal, and listed where nobody is there."""
    filled = fill(draft, answers, rig, same)
    if not filled.questions:
        return filled
    if not (_is_terminal(sys.stdin) and _is_terminal(sys.stdout)):
        _list_open(filled.questions)
        return None
    return ask_all(draft, answers, rig, same, _typed)


def _is_terminal(stream: object) -> bool:
    return bool(getattr(stream, "isatty", bool)())


def ask_all(
    draft: Draft, answers: list[Answer], rig: Rig, same: str | None, ask: Ask
) -> FilledDraft:
    """Ask for all that is open, in one go, and return the filled draft.

    Args:
        draft: What the source says.
        answers: What the options say.
        rig: The rig that the songs go into.
        same: What to do with songs that are there already, if the options say it.
        ask: Shows a prompt and returns what was typed.

    Raises:
        NoAnswerError: no more answers come.
    """
    show = terminal_of(sys.stdout).show
    presets = ", ".join(preset.id for preset in rig.presets) or "none yet"
    put(show(f"Presets: {presets}. - leaves a section unmapped, 0 bars leave it out.") + "\n")
    given = list(answers)
    last: dict[tuple[str, str], str] = {}
    while True:
        filled = fill(draft, given, rig, same, strict=False)
        if not filled.questions:
            return filled
        # One at a time, for an answer can raise a question (only where the meter is known can the
        # beat be asked) and settle others (a section left out needs no preset).
        question = filled.questions[0]
        kin = (question.what, base_name(question.name).casefold())
        value = _ask_one(question, question.hint or last.get(kin, ""), rig, ask)
        last[kin] = value
        if question.what == "same":
            same = value
        else:
            given.append(question.answer(value))


def _ask_one(question: OpenQuestion, hint: str, rig: Rig, ask: Ask) -> str:
    """Ask one question until its answer can be; an empty line takes what is in brackets."""
    show = terminal_of(sys.stdout).show
    times = f" ({question.times} times)" if question.times > 1 else ""
    offered = f" [{hint}]" if hint else ""
    while True:
        typed = ask(show(f"{question.words}{times}{offered}: "))
        if typed is None:
            raise NoAnswerError
        value = typed.strip() or hint
        if not value:
            continue
        try:
            checked(question.what, value, rig)
        except ImportFault as fault:
            put(show(f"  {fault}") + "\n")
        else:
            return value


def _typed(prompt: str) -> str | None:
    put(prompt)
    line = sys.stdin.readline()
    return line if line else None


_OPTIONS = {
    "bars": '--bars "{name}=16"',
    "map": '--map "{name}=PRESET"',
    "tempo": '--tempo "{song}=120"',
    "meter": '--meter "{song}=4/4"',
    "beat": '--beat "{song}=3/8"',
    "same": "--same replace",
}


def _list_open(questions: tuple[OpenQuestion, ...]) -> None:
    """List everything that is missing, each with the option that says it."""
    lines = []
    for question in questions:
        times = f", {question.times} times" if question.times > 1 else ""
        option = _OPTIONS[question.what].format(
            name=question.name, song=question.song or question.name
        )
        if question.hint:
            option = option.replace("PRESET", question.hint)
        lines.append(f"  {question.words}{times}: {option}")
    complain(
        f"rigtui import: {count(len(lines), 'answer')} missing; nothing was written. "
        'One answer can cover many: --bars "Verse=16,*=8" --map "*=-"',
        *lines,
    )


def _tell(draft: Draft, lines: tuple[str, ...], target: Path | None) -> None:
    """Say what came in, and what was read in a way that should be known."""
    show = terminal_of(sys.stdout).show
    text = [*lines, *(f"note: {note}" for note in draft.notes)]
    text.append(f"Wrote {target}" if target else "Nothing is missing; nothing was written.")
    put("".join(f"{show(line)}\n" for line in text))
