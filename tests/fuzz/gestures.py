"""A player of no sense: random keys and gestures of the mouse, and an account of what must hold."""

from __future__ import annotations

import asyncio
import os
import time
from collections import Counter, deque
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest
from fuzz.near_valid import DEMOS, near_valid
from fuzz.pipeline import no_hang
from patience import PATIENCE_SECONDS
from screens import app_on
from textual import events
from textual.await_complete import AwaitComplete
from textual.pilot import Pilot

from rigtui.model.errors import BadRigError
from rigtui.store.load import load
from rigtui.store.recovery import _read as read_journal
from rigtui.store.save import rig_text
from rigtui.tui import typed_path
from rigtui.tui.app import RigApp
from rigtui.tui.document import Document
from rigtui.tui.widgets.dialogs import Confirm

SIZES = ((80, 24), (80, 24), (120, 40), (200, 50), (60, 20), (44, 9), (30, 6))
CHARACTERS = "abcdefghijklmnopqrstuvwxyz0123456789 .,-+/?!~*'\"[]{}()<>:;|&%$#@ä♯\u200b漢"
ALWAYS = (
    "up", "down", "left", "right", "pageup", "pagedown", "home", "end", "ctrl+home", "ctrl+end",
    "enter", "enter", "escape", "escape", "tab", "shift+tab", "backspace", "delete", "space",
    "2", "3", "4", "5", "6", "ctrl+p", "ctrl+c", "ctrl+a", "ctrl+v", "ctrl+w", "f1", "f5", "ctrl+u",
    "ctrl+z", "ctrl+y", "ctrl+left", "shift+right", "ctrl+l", "insert", "ctrl+@", "ctrl+o",
)  # fmt: skip
PASTES = ("x", "two words", "two\nlines", "\x1b[31m\x00", "1e999", "../..", "~nosuch/x", "n" * 3000)
WHAT = ("click", "click", "twice", "drag", "drag", "wheel", "move", "up", "down")
CHECK_EVERY = 100


class Player:
    """Plays at one running program, and remembers what it did last."""

    def __init__(self, app: RigApp, pilot: Pilot[Any], rng: Random, counts: Counter[str]) -> None:
        self.app, self.pilot, self.rng, self.counts = app, pilot, rng, counts
        self.last: deque[str] = deque(maxlen=40)

    async def play(self, most: int) -> int:
        """Play until the program ends, or for so many events; return how many there were."""
        done, check_at = 0, CHECK_EVERY
        with no_hang():
            await self._settled()
        while done < most and self.app.is_running:
            with no_hang():
                done += await self._act()
                await self._settled()
            if done >= check_at:
                check_at += CHECK_EVERY
                await self.check()
        return done

    # What it does

    async def _act(self) -> int:
        rng = self.rng
        draw = rng.random()
        if draw < 0.01:
            size = rng.choice(SIZES)
            self.last.append(f"size {size}")
            self.counts["changes of size"] += 1
            await self.pilot.resize_terminal(*size)
            return 1
        if draw < 0.02:
            self._post(rng.choice((events.AppBlur, events.AppFocus))())
            return 1
        burst = [event for _ in range(rng.choice((1, 1, 1, 2, 4, 12))) for event in self._some()]
        for event in burst:
            self._post(event)
            if rng.random() < 0.3:
                await asyncio.sleep(0)
        return len(burst)

    def _post(self, event: events.Event) -> None:
        self.last.append(_in_words(event))
        kind = "keys" if isinstance(event, events.Key | events.Paste) else "events of the mouse"
        if isinstance(event, events.InputEvent):
            self.counts[kind] += 1
        self.app.post_message(event)

    def _some(self) -> list[events.Event]:
        if self.rng.random() < 0.3:
            return list(self._gesture())
        if self.rng.random() < 0.03:
            return [events.Paste(self.rng.choice(PASTES))]
        return [self._key()]

    def _key(self) -> events.Key:
        rng, draw = self.rng, self.rng.random()
        if draw < 0.5:
            key = rng.choice([*self._bound(), "escape"])
        elif draw < 0.8:
            key = rng.choice(ALWAYS)
        else:
            key = rng.choice(CHARACTERS)
        if key in ("q", "ctrl+q") and rng.random() < 0.9:
            key = "down"  # or it would do little else but begin anew
        character = {"space": " ", "question_mark": "?"}.get(key, key if len(key) == 1 else None)
        return events.Key(key, character)

    def _bound(self) -> list[str]:
        screen = self.app.screen
        return sorted(screen.active_bindings) if screen.is_mounted else []

    def _gesture(self) -> Iterator[events.Event]:
        rng, (width, height) = self.rng, self.app.size
        x, y = rng.randrange(max(1, width)), rng.randrange(max(1, height))
        button = rng.choice((1, 1, 1, 1, 2, 3))
        what = rng.choice(
            ("click", "click", "twice", "drag", "drag", "wheel", "move", "up", "down")
        )
        if what == "wheel":
            kind = rng.choice((events.MouseScrollDown, events.MouseScrollUp))
            yield from (_mouse(kind, x, y, 0) for _ in range(rng.choice((1, 3))))
        elif what == "move":
            yield _mouse(events.MouseMove, x, y, 0)
        elif what in ("up", "down"):
            yield _mouse(events.MouseUp if what == "up" else events.MouseDown, x, y, button)
        else:
            for _ in range({"click": 1, "drag": 1, "twice": rng.choice((2, 3))}[what]):
                yield _mouse(events.MouseDown, x, y, button)
                if what == "drag":
                    for _ in range(rng.choice((1, 3, 6))):
                        x = min(max(0, x + rng.randint(-20, 20)), max(0, width - 1))
                        y = min(max(0, y + rng.randint(-6, 6)), max(0, height - 1))
                        yield _mouse(events.MouseMove, x, y, button)
                yield _mouse(events.MouseUp, x, y, button)

    # What must hold

    async def _settled(self) -> None:
        """Wait until what was done is dealt with; it may not take for ever, nor end the program."""
        await self._until(lambda: not self.app.keys_waiting, "a key is never dealt with")
        await self._until(lambda: self.app._message_queue.empty(), "messages are left lying")
        assert self.app.broken_by is None, self._told(f"ended by {self.app.broken_by!r}")

    async def _until(self, true: Callable[[], bool], otherwise: str) -> None:
        end = time.monotonic() + PATIENCE_SECONDS
        await asyncio.sleep(0)
        while self.app.is_running and not true():
            assert time.monotonic() < end, self._told(otherwise)
            await asyncio.sleep(0)

    def _told(self, what: str) -> str:
        return f"{what}; before that: {' | '.join(self.last)}"

    async def check(self) -> None:
        """Whatever was done, the file is what was saved last, and what is unsaved is kept."""
        document = self.app.document
        if document is None or not self.app.is_running:
            return
        self.counts["looks at file and journal"] += 1
        if document.path is not None:
            assert load(document.path)[1] == document.saved, self._told("the file is another")
        keeper = self.app.keeper
        assert keeper is not None
        assert keeper._writer is not None
        assert keeper._journal is not None
        writer, journal = keeper._writer, keeper._journal
        await self._until(lambda: not writer.busy, "the journal is never written")
        if document is not self.app.document or journal is not keeper._journal:
            return  # another rig was opened meanwhile
        assert document.dirty == journal._file.exists(), self._told("the journal is wrong")
        if document.dirty:
            assert read_journal(journal._file).rig == document.rig, self._told("edits are lost")
        await asyncio.to_thread(_can_be_saved, document)
        self.counts["steps that undo goes back"] += len(document.history.past)


def _can_be_saved(document: Document) -> None:
    rig_text(document.rig, document.source)  # raises where the text would not read back


def _in_words(event: events.Event) -> str:
    if isinstance(event, events.Key):
        return event.key
    if isinstance(event, events.MouseEvent):
        return f"{type(event).__name__} {event.x},{event.y} b{event.button}"
    return repr(event.text[:20]) if isinstance(event, events.Paste) else type(event).__name__


def _mouse(kind: type[events.MouseEvent], x: int, y: int, button: int) -> events.MouseEvent:
    return kind(None, x, y, 0, 0, button, False, False, False, x, y)


def _rig(rng: Random, file: Path) -> None:
    """Write a rig that can be opened: a demo, or one with odd things in it."""
    file.write_bytes(rng.choice(DEMOS))
    if rng.random() < 0.5:
        return
    for _ in range(20):
        content = near_valid(rng)
        odd = file.with_name("odd.toml")
        odd.write_bytes(content)
        try:
            load(odd)
        except BadRigError:
            continue
        file.write_bytes(content)
        return


def stays_in(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Have paths that are typed lead into a folder, and let nobody quit with edits unasked."""
    monkeypatch.chdir(folder)
    real = typed_path.typed_path

    def caged(text: str) -> Path:
        path = real(text)
        if not os.path.realpath(path).startswith(f"{os.path.realpath(folder)}{os.sep}"):
            raise typed_path.PathFault("outside of the folder of this test")
        return path

    for module in ("files", "start", "importing", "sheet_preview"):
        monkeypatch.setattr(f"rigtui.tui.{module}.typed_path", caged)
    leave, dismiss = RigApp.leave, Confirm.dismiss
    answers: list[str | None] = [None]

    def left(app: RigApp) -> None:
        dropped = answers[-1] == "d"
        assert app.document is None or not app.document.dirty or dropped, "edits are lost"
        leave(app)

    def answered(question: Confirm, answer: str | None = None) -> AwaitComplete:
        answers.append(answer)
        return dismiss(question, answer)

    monkeypatch.setattr(RigApp, "leave", left)
    monkeypatch.setattr(Confirm, "dismiss", answered)


async def played(seed: int, most: int, folder: Path, counts: Counter[str]) -> None:
    """Play so many events at program after program; each begins with a rig of its own."""
    rng = Random(seed)
    file = folder / "rig.toml"
    done = 0
    while done < most:
        _rig(rng, file)
        app = app_on(file)
        counts["programs"] += 1
        async with app.run_test(size=rng.choice(SIZES), notifications=True, tooltips=True) as pilot:
            player = Player(app, pilot, rng, counts)
            done += await player.play(most - done)
            await player.check()
        assert app.broken_by is None
