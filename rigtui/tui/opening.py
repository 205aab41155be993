"""From the command line to the screens and back: which file to open, and what to say of a bad
one.
"""

from __future__ import annotations

import contextlib
import sys
from pathlib import Path

from rigtui.model.errors import BadRigError, RigError
from rigtui.model.text import visible
from rigtui.store.load import Source, read_plain
from rigtui.tui.app import RigApp
from rigtui.tui.last_breath import signals_as_ever


def run(path: Path | None) -> int:
    """Open the screens on a file and return the exit status.

    Raises:
        BaseException: the program broke off; a note says what became of unsaved edits.
    """
    source = None
    if path is not None:
        try:
            source = read_plain(path)
        except BadRigError as error:
            return _refuse(path, error)
    else:
        source = _last_file()
    app = RigApp(source, asked_for=path is not None)
    try:
        status = app.run()
    except BaseException as fault:  # outside of what the screen library watches over
        app.break_off(fault)
    finally:
        signals_as_ever()
    if app.broken_by is not None:
        if app.edits_kept:
            app.broken_by.add_note(app.edits_kept)
        raise app.broken_by
    if app.ended_by is not None:
        kept = app.edits_kept or "Nothing was unsaved."
        print(visible(f"{app.ended_by.name} ended rigtui. {kept}"), file=sys.stderr)
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
    for problem in error.problems if isinstance(error, BadRigError) else (error,):
        text = problem.text() if hasattr(problem, "text") else str(problem)
        print(f"{visible(str(path))}: {visible(text)}", file=sys.stderr)
    return 2
