"""Open the screens, or say why there is nothing to open."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from pathlib import Path

from rigtui.cli.arguments import BAD_USAGE, COMMANDS
from rigtui.cli.terminal import complain, complain_of_file
from rigtui.model.text import nearest


def run(arguments: Namespace) -> int:
    """Open the screens on a file, or on the last one, and return the exit status."""
    files: list[str] = arguments.files
    if files and not os.path.lexists(files[0]):
        complain(_no_such(files[0]))
        return BAD_USAGE
    if len(files) > 1:
        complain(f"rigtui: one file at a time: open {files[0]} without {' '.join(files[1:])}")
        return BAD_USAGE
    path = Path(files[0]) if files else None
    if os.environ.get("TERM") == "dumb":
        return _as_text(path) if path is not None else _without_terminal(None)
    if not (_is_terminal(sys.stdin) and _is_terminal(sys.stdout)):
        return _without_terminal(path)
    from rigtui.tui.opening import run as run_screens

    return run_screens(path)


def _as_text(path: Path) -> int:
    """Print the report: this terminal shows lines of text and nothing else."""
    from rigtui.cli.report import run as report

    asked = {"setlist": None, "song": None, "all": False, "json": False, "fail_on": "error"}
    return report(Namespace(file=str(path), **asked))


def _is_terminal(stream: object) -> bool:
    return bool(getattr(stream, "isatty", bool)())


def _no_such(word: str) -> str:
    """Say that something is neither a file nor a command, and what may have been meant."""
    folder, name = os.path.split(word)
    try:
        files = sorted(n for n in os.listdir(folder or ".") if n.endswith(".toml"))
    except OSError:
        return f"{word}: no such file (and there is no folder {folder})"
    if not folder and "." not in name:
        close = nearest(name, [*COMMANDS, *files])
        guess = f"; did you mean {close}?" if close else f"; commands: {', '.join(COMMANDS)}"
        return f"{word}: no such file, and no such command{guess}"
    close = nearest(name, files)
    guess = f"did you mean {os.path.join(folder, close)}? " if close else ""
    return f"{word}: no such file; {guess}`rigtui new {word}` writes a starter rig"


def _without_terminal(path: Path | None) -> int:
    """A script cannot use the screens, but it should hear first what is wrong with its file."""
    if path is not None:
        from rigtui.model.errors import BadRigError
        from rigtui.store.load import load

        try:
            load(path)
        except BadRigError as error:
            complain_of_file(str(path), (problem.text() for problem in error.problems))
            return BAD_USAGE
    complain(f"the screens need a terminal; `rigtui report {path or 'FILE'}` prints a report")
    return BAD_USAGE
