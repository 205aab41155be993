"""Work between keys: in small pieces, never ahead of a key, and what is on the screen first."""

from __future__ import annotations

import asyncio
import gc
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, pedal, preset, section, setlist, song, switcher
from screens import LARGE, app_of, checked, on_screen, painted, shown

from rigtui.model import edits
from rigtui.moves import count_setlist
from rigtui.tui import slices
from rigtui.tui.app import RigApp
from rigtui.tui.slices import Slices
from rigtui.tui.totals import totals_text
from rigtui.tui.widgets.bars import StatusLine
from rigtui.tui.widgets.grid import Grid, GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow, LazyRows

SONGS = 120


def long_evening(folder: Path) -> RigApp:
    """The program on an evening of many songs, all of the same two presets."""
    return app_of(
        folder,
        switcher=switcher(4, 2),
        pedals=[pedal("echo"), pedal("grit")],
        loops=[loop(1, "echo"), loop(2, "grit")],
        presets=[preset("dry", memory=1), preset("wet", 1, memory=3)],
        songs=[
            song(f"s{at}", section("dry"), section("wet"), section("dry")) for at in range(SONGS)
        ],
        setlists=[setlist("night", *(f"s{at}" for at in range(SONGS)))],
    )


def status(app: RigApp) -> tuple[str, str]:
    """The setlist and the moves in the line below the views."""
    line = app.query_one(StatusLine)
    return line.setlist, line.moves


async def counted(app: RigApp) -> None:
    """Wait until the rig is counted and checked."""
    while (
        app.reckoning.findings_of is not app.document.rig or app.reckoning.slices.work is not None
    ):
        await asyncio.sleep(0.01)


# Slices


class Keys:
    """Stands in for the app: how long the keys have been quiet, and timers that are set by hand."""

    is_running = True

    def __init__(self) -> None:
        self.quiet_seconds = 9.0
        self.waiting: list[Any] = []

    def set_interval(self, seconds: float, then: Any) -> Any:
        """Take note of a timer."""
        self.waiting.append((seconds, then))
        return self

    def call_next(self, act: Any) -> None:
        """Do at once what the app would do next."""
        act()

    def stop(self) -> None:
        """A timer is stopped."""

    def ring(self) -> float:
        """Let the latest timer go off; return how long it was set for."""
        seconds, then = self.waiting.pop()
        then()
        return float(seconds)


def test_work_is_done_in_slices_and_pauses_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """A slice ends when its time is up; a piece that can wait ends it too."""
    clock = [100.0]
    monkeypatch.setattr(slices.time, "monotonic", lambda: clock[0])
    done: list[int] = []

    def work() -> Iterator[float]:
        yield 0.5
        for at in range(10):
            clock[0] += slices.SLICE_SECONDS * 0.4
            done.append(at)
            yield 0.25 if at == 4 else 0.0

    keys = Keys()
    jobs = Slices(keys)  # type: ignore[arg-type]
    jobs.start(work())
    assert (keys.ring(), done) == (0.5, [0, 1, 2])
    assert keys.ring() < 0.01
    assert done == [0, 1, 2, 3, 4]
    assert (keys.ring(), done) == (0.25, [0, 1, 2, 3, 4, 5, 6, 7])
    keys.ring()
    assert (jobs.work, keys.waiting) == (None, [])


def test_keys_come_first_but_not_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    """While keys come in, work waits; after a quarter of a second it gets a slice all the same."""
    clock = [100.0]
    monkeypatch.setattr(slices.time, "monotonic", lambda: clock[0])
    done: list[float] = []

    def work() -> Iterator[float]:
        for _ in range(2):
            done.append(clock[0])
            yield 0.0

    keys = Keys()
    keys.quiet_seconds = 0.0
    jobs = Slices(keys)  # type: ignore[arg-type]
    jobs.start(work())
    while len(done) < 2:
        clock[0] += 0.01
        keys.ring()
    assert done[1] - done[0] == pytest.approx(0.25, abs=0.011)


def test_other_work_takes_the_place_of_what_was_being_done() -> None:
    """What was begun for a rig that is no more is left where it is."""
    keys = Keys()
    jobs = Slices(keys)  # type: ignore[arg-type]
    done: list[str] = []

    def work(name: str) -> Iterator[float]:
        yield 0.1
        done.append(name)

    jobs.start(work("old"))
    old = keys.waiting.pop()[1]
    jobs.start(work("new"))
    old()
    keys.ring()
    jobs.start(work("stopped"))
    jobs.stop()
    keys.ring()
    assert done == ["new"]


# On the screen


async def test_totals_come_in_slices_and_are_right(tmp_path: Path) -> None:
    """After an edit of a preset that every song uses, and after the next one at once."""
    app = long_evening(tmp_path)
    async with on_screen(app, LARGE):
        await counted(app)
        for loops in ((2,), (1, 2), ()):
            app.apply("x", lambda rig, loops=loops: edits.set_preset(rig, "wet", loops=loops))
        await counted(app)
        assert status(app) == totals_text(app.document.rig, "night")[:2]
        app.apply("x", lambda rig: edits.toggle_loop(rig, "dry", 2))
        await counted(app)
        assert status(app) == totals_text(app.document.rig, "night")[:2]


async def test_counting_that_takes_long_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rather than leave the totals of the rig before the edit."""
    app = long_evening(tmp_path)
    async with on_screen(app, LARGE):
        await counted(app)
        monkeypatch.setattr("rigtui.tui.reckoning._STALE_SECONDS", -1.0)
        rig = edits.toggle_loop(app.document.rig, "wet", 2)
        pieces = app.reckoning._count(rig)
        next(pieces)
        assert status(app)[1] == "counting moves ..."
        for _ in pieces:
            pass
        assert status(app) == totals_text(rig, "night")[:2]


@pytest.mark.parametrize("view", ["setlist", "report"])
async def test_what_is_on_the_screen_is_counted_first_and_the_rest_filled_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, view: str
) -> None:
    """Sums over the evening wait until all of it is counted, and then they are right."""
    app = long_evening(tmp_path)
    async with on_screen(app, LARGE) as pilot:
        await app.action_view(view)
        if view == "report":
            app.view.action_pane(1)  # to the songs
        await counted(app)
        with monkeypatch.context() as patch:
            patch.setattr(app.reckoning.slices, "start", lambda work: None)
            app.apply("x", lambda rig: edits.toggle_loop(rig, "wet", 2))
            await pilot.pause()
            assert len(list(app.view.songs_in_sight())) in range(5, SONGS)
            if view == "setlist":
                assert "counting moves ..." in shown(app)
                assert "s3 " in shown(app)
        app.reckoning.begin()
        await counted(app)
        await pilot.pause()
        night = app.document.rig.setlists[0]
        moves = count_setlist(app.document.rig, night).moves
        assert f"{moves} moves" in shown(app).partition("\n" * 3)[0]
        assert "counting" not in shown(app)


async def test_a_report_opened_at_once_is_filled_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its lists are empty until the moves are counted, and say why."""
    app = long_evening(tmp_path)
    async with on_screen(app, LARGE) as pilot:
        with monkeypatch.context() as held:
            held.setattr(app.reckoning, "begin", lambda: None)
            app.reckoning.stop()
            app.apply("x", lambda rig: edits.toggle_loop(rig, "wet", 2))
            await app.action_view("report")
            await painted(pilot)
            for _ in ("songs", "changes"):
                app.view.action_pane(1)
                await painted(pilot)
                assert "Counting the moves ..." in shown(app)
        await checked(pilot)
        assert "being counted" not in shown(app)
        app.view.action_pane(-1)
        await painted(pilot)
        assert " s0 " in shown(app)


async def test_a_row_is_made_when_it_comes_on_the_screen(tmp_path: Path) -> None:
    """A list of thousands costs no more than the part that is seen."""
    made: list[int] = []

    def row(at: int) -> GridRow:
        made.append(at)
        return GridRow(note="a heading") if at == 0 else GridRow((f"row {at}",))

    app = long_evening(tmp_path)
    async with on_screen(app) as pilot:
        grid = app.query_one(Grid)
        grid.show([GridColumn(("Song",), 30)], LazyRows(5000, row, {0}))
        await pilot.pause()
        assert max(made) < 40
        assert "row 1 " in shown(app)
        grid.move_to(0)
        assert grid.cursor_row == 1, "no cursor stands on a heading"
        await pilot.press("G")
        assert "row 4999 " in shown(app)
        assert len(made) == len(set(made)) < 80


async def test_an_empty_list_says_what_it_was_told_last(tmp_path: Path) -> None:
    """Also where neither before nor after there is a row to draw anew."""
    app = long_evening(tmp_path)
    async with on_screen(app) as pilot:
        grid = app.query_one(Grid)
        for words in ("One moment ...", "There is nothing here."):
            grid.empty_text = words
            grid.show([GridColumn(("Song",), 30)], [])
            await pilot.pause()
            assert words in shown(app)


async def test_garbage_is_looked_for_only_while_nobody_types(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Python's own look through everything is put off, and given back at the end."""
    before = gc.get_threshold()
    app = long_evening(tmp_path)
    async with on_screen(app):
        assert gc.get_threshold() == (*before[:2], 1_000_000)
        assert gc.get_freeze_count() > 10_000
        cleared: list[float] = []
        monkeypatch.setattr(app._garbage, "clear", lambda: cleared.append(time.monotonic()))
        monkeypatch.setattr(gc, "get_count", lambda: (0, 0, 10))
        app._rested = time.monotonic()
        app._garbage._look()
        assert cleared == []
        app._rested -= 10
        app._garbage._look()
        assert len(cleared) == 1
        monkeypatch.setattr(gc, "get_count", lambda: (0, 0, 9))
        app._garbage._look()
        assert len(cleared) == 1
    assert gc.get_threshold() == before
    assert gc.get_freeze_count() == 0
