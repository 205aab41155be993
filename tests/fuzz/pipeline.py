"""A file's whole way through the program: read, report, screens, save. It may only refuse."""

from __future__ import annotations

import asyncio
import contextlib
import io
import json
import signal
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import Any

from patience import PATIENCE_SECONDS

from rigtui.cli import main
from rigtui.model import Rig, edits
from rigtui.model.errors import BadRigError, EditError, Problem
from rigtui.model.text import visible
from rigtui.store.formats import rig_to_look_at
from rigtui.store.load import load, read_plain
from rigtui.store.save import SaveError, rig_text
from rigtui.tui.app import RigApp
from rigtui.tui.document import Document

counts: Counter[str] = Counter()


class HangsError(BaseException):
    """Something did not end; no handler of the program is to take it for a fault of its own."""


@contextlib.contextmanager
def no_hang() -> Iterator[None]:
    """Fail, with where it was, if something does not end."""

    def give_up(number: int, frame: FrameType | None) -> None:
        raise HangsError

    if not hasattr(signal, "SIGALRM"):
        yield
        return
    before = signal.signal(signal.SIGALRM, give_up)
    signal.setitimer(signal.ITIMER_REAL, PATIENCE_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
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
            status, out, err = ran("report", str(path), *more)
            assert status in ((0, 1) if rig is not None else (2,)), err
            assert bool(err) == (rig is None)
            assert not acts(out + err)
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


def ran(*words: str) -> tuple[int, str, str]:
    """Run a command in this process; return its exit status, and what it printed."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = main(words)
    return status, out.getvalue(), err.getvalue()


def acts(text: str) -> bool:
    """Whether a terminal would act on something in it."""
    return visible(text, keep="\n") != text


def _saved(path: Path, rig: Rig) -> None:
    """An edit goes into the text, and reads back."""
    source, _ = load(path)
    assert rig_text(rig, source).text == source.text, "saving without an edit changes nothing"
    new = edits.set_amp(rig, name="Edited")
    if new.songs:
        with contextlib.suppress(EditError):
            new = edits.duplicate_song(new, new.songs[0].id)
        new = edits.delete_song(new, new.songs[-1].id)
    with contextlib.suppress(SaveError):
        made = rig_text(new, source)
        assert made.rewritten == ()
        copy = path.with_name("copy.toml")
        copy.write_bytes(made.text.encode())
        assert load(copy)[1] == new


async def shown_everywhere(app: RigApp, pilot: Any, path: Path, rig: Rig) -> None:
    """Open a rig in an app that runs, and go through its views."""
    source = read_plain(path)
    app.open_document(Document(rig, path, source))
    for view in ("2", "3", "4", "5", "6"):
        await pilot.press(view)
    counts["shown"] += 1


async def sheets_looked_at(app: RigApp, pilot: Any, folder: Path) -> None:
    """Choose each sheet as the palette offers it, and write it in each format."""
    from rigtui.tui.sheet_preview import SheetPreview, sheet_commands

    for _, show in sheet_commands(app):
        show()
        await pilot.pause()
        preview = app.screen
        assert isinstance(preview, SheetPreview)
        for ending in ("txt", "md", "html", "pdf"):
            form = {"file": str(folder / f"sheet.{ending}"), "paper": "a4", "metres": "1.5"}
            assert preview._submit({**form, "there": "go"}) is None
            counts["sheets written from the screen"] += 1
        await pilot.press("escape")


async def planned(app: RigApp, pilot: Any, seconds: float) -> str:
    """Start a plan in the view of plans, and see how it ends; it is stopped after some seconds."""
    from rigtui.tui.views.plan.view import PlanView

    await pilot.press("5", "p")
    runs = app.query_one(PlanView).runs
    stopped = False
    start = time.monotonic()
    while runs.running:
        await asyncio.sleep(0.01)
        waited = time.monotonic() - start
        assert waited < PATIENCE_SECONDS, "a planner that was stopped does not end"
        if waited > seconds and not stopped:
            stopped = True
            await pilot.press("c")
    await pilot.pause()
    assert "broke off" not in runs.fault, runs.fault
    end = "refused" if runs.fault else "stopped" if stopped else "ended"
    counts[f"plan on the screen {end}"] += 1
    return end
