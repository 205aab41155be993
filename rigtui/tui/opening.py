"""From the command line to the screens and back: which file to open, and what a bad one is told."""

from __future__ import annotations

import contextlib
import sys
from pathlib import Path

from rigtui.model.errors import BadRigError, RigError
from rigtui.store.load import Source, read_plain
from rigtui.tui.app import RigApp


def run(path: Path | None) -> int:
    """Open the screens on a file and return the exit status."""
    source = None
    if path is not None:
        try:
            source = read_plain(path)
        except BadRigError as error:
            return _refuse(path, error)
    else:
        source = _last_file()
    app = RigApp(source, asked_for=path is not None)
    status = app.run()
    if app.fault is not None and path is not None:
        return _refuse(path, app.fault)
    return status or app.return_code or 0


def _last_file() -> Source | None:
    """The file opened last, if it is still there and can be read."""
    from rigtui.store.kept import recent_files

    for path in recent_files()[:1]:
        with contextlib.suppress(BadRigError):
            return read_plain(path)
    return None


def _refuse(path: Path, error: RigError) -> int:
    from rigtui.model.text import visible

    for problem in error.problems if isinstance(error, BadRigError) else (error,):
        text = problem.text() if hasattr(problem, "text") else str(problem)
        print(f"{visible(str(path))}: {visible(text)}", file=sys.stderr)
    return 2
