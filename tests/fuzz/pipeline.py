"""A file's whole way through the program: read, report, screens, save. It may only refuse."""

from __future__ import annotations

import contextlib
import io
import json
import signal
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import Any

from rigtui.cli import main
from rigtui.model import Rig, edits
from rigtui.model.errors import BadRigError, EditError, Problem
from rigtui.model.text import visible
from rigtui.store.formats import rig_to_look_at
from rigtui.store.load import load, read_plain
from rigtui.store.save import SaveError, draft
from rigtui.tui.app import RigApp
from rigtui.tui.document import Document

PATIENCE_SECONDS = 60
"""What takes longer than this on a busy machine hangs."""
counts: Counter[str] = Counter()


@contextlib.contextmanager
def no_hang() -> Iterator[None]:
    """Fail, with where it was, if something does not end."""

    def give_up(number: int, frame: FrameType | None) -> None:
        raise AssertionError("hangs")

    if not hasattr(signal, "SIGALRM"):
        yield
        return
    before = signal.signal(signal.SIGALRM, give_up)
    signal.alarm(PATIENCE_SECONDS)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def through(path: Path, content: bytes) -> Rig | None:
    """Take a file through everything but the screens; return its rig if it is a good one.

    Raises:
        AssertionError: the program failed, or was silent about a file that it refused.
    """
    path.write_bytes(content)
    counts["files"] += 1
    with no_hang():
        rig = _loaded(path)
        for more in ([], ["--json"]):
            status, out, err = _ran("report", str(path), *more)
            assert status in ((0, 1) if rig is not None else (2,)), err
            assert bool(err) == (rig is None)
            assert not _acts(out + err)
        if rig is None:
            counts["refused"] += 1
            return None
        json.loads(out)
        _saved(path, rig)
    assert path.read_bytes() == content
    counts["good"] += 1
    return rig


def _loaded(path: Path) -> Rig | None:
    problems: tuple[Problem, ...] = ()
    try:
        return load(path)[1]
    except BadRigError as error:
        problems = error.problems
    assert problems
    assert all(problem.message for problem in problems)
    with contextlib.suppress(BadRigError):
        rig_to_look_at(read_plain(path))
    return None


def _ran(*words: str) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = main(words)
    return status, out.getvalue(), err.getvalue()


def _acts(text: str) -> bool:
    """Whether a terminal would act on something in it."""
    return visible(text, keep="\n") != text


def _saved(path: Path, rig: Rig) -> None:
    """An edit goes into the text, and reads back."""
    source, _ = load(path)
    assert draft(rig, source).text == source.text, "saving without an edit changes nothing"
    new = edits.set_amp(rig, name="Edited")
    if new.songs:
        with contextlib.suppress(EditError):
            new = edits.duplicate_song(new, new.songs[0].id)
        new = edits.delete_song(new, new.songs[-1].id)
    with contextlib.suppress(SaveError):
        made = draft(new, source)
        assert made.rewritten == ()
        copy = path.with_name("copy.toml")
        copy.write_bytes(made.text.encode())
        assert load(copy)[1] == new


async def shown_everywhere(app: RigApp, pilot: Any, path: Path, rig: Rig) -> None:
    """Open a rig in an app that runs, and go through its views."""
    source = read_plain(path)
    app.open_document(Document(rig, path, source))
    for view in ("2", "3", "4"):
        await pilot.press(view)
    counts["shown"] += 1
