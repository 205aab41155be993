"""The report's list opens with what to do first: it comes when it is ready, and is tried first."""

from __future__ import annotations

import asyncio
import io
import time
from pathlib import Path
from typing import Any

import pytest
from patience import PATIENCE_SECONDS
from rigs_made import loop, pedal, preset, section, setlist, song, switcher
from screens import DEMOS, LARGE, app_of, app_on, checked, lines, on_screen, shown
from textual.pilot import Pilot

from rigtui.advice.__main__ import answer_line, main
from rigtui.advice.first import First, do_first
from rigtui.advice.wire import first_of, first_task
from rigtui.advice.words import nothing_helps
from rigtui.checks import Finding
from rigtui.model.lines import read_line
from rigtui.store.load import load
from rigtui.tui.app import RigApp
from rigtui.tui.document import Document
from rigtui.tui.sheet_preview import SheetPreview, sheet_commands
from rigtui.tui.views.report.first import FirstKey
from rigtui.tui.views.report.remedy_preview import RemedyPreview
from rigtui.tui.views.report.view import ReportView

FIRST_RIG = DEMOS / "first-rig.toml"
pytestmark = pytest.mark.usefixtures("adviser_starts")


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The adviser's work is done in this process; what goes over its pipes is the same."""

    async def answer(adviser: Any) -> Any:
        return adviser._made_of(answer_line(read_line(adviser._task())))

    monkeypatch.setattr("rigtui.tui.adviser.Adviser.answer", answer)
    monkeypatch.setattr("rigtui.tui.views.report.first.FirstSteps.WAIT_SECONDS", 0.01)


async def ready(pilot: Pilot[Any]) -> ReportView:
    """Wait until what to do first is known."""
    view = pilot.app.query_one(ReportView)
    end = time.monotonic() + PATIENCE_SECONDS
    while view._first.waiting or not view._first.is_of(view.rig):
        assert time.monotonic() < end, "what to do first does not come"
        await asyncio.sleep(0.02)
    await pilot.pause()
    return view


def rig_of(app: RigApp) -> Any:
    """The rig as it is now."""
    assert app.document is not None
    return app.document.rig


def test_what_goes_over_the_wire_says_the_same() -> None:
    """Each remedy comes back with its figures, its rig and an edit that fits no other rig."""
    for demo in ("first-rig", "quay-street"):
        rig = load(DEMOS / f"{demo}.toml")[1]
        told = do_first(rig)
        heard = first_of(read_line(answer_line(read_line(first_task(rig))))["first"], rig)
        assert heard.untried == told.untried
        for there, here in zip(heard.remedies, told.remedies, strict=True):
            assert (there.clears, there.after, there.goes_with) == (
                here.clears, here.after, here.goes_with,
            )  # fmt: skip
            assert there.rig == here.rig == there.proposal.edit(rig)
            assert [f.message for f in there.added] == [f.message for f in here.added]
            assert there.stays == tuple(f for f in there.added if f in there.stays)


async def test_the_adviser_works_beside_the_screen() -> None:
    """The findings are there at once; the remedies come a moment later, out of a process."""
    async with on_screen(app_on(FIRST_RIG)) as pilot:
        await pilot.press("4")
        await checked(pilot)
        assert "Do these first: trying them on your rig ..." in shown(pilot.app)
        view = await ready(pilot)
        assert [key for key in view._listings["findings"].keys if isinstance(key, FirstKey)]
        assert isinstance(view.key, FirstKey)  # the cursor had not been moved


@pytest.mark.usefixtures("at_once")
async def test_a_remedy_is_looked_at_and_accepted_as_one_step() -> None:
    """Enter shows it section by section, y does it, u takes all of it back."""
    app = app_on(FIRST_RIG)
    async with on_screen(app) as pilot:
        await pilot.press("4")
        await checked(pilot)
        view = await ready(pilot)
        before = rig_of(app)
        await pilot.press("down", "enter")
        assert isinstance(app.screen, RemedyPreview)
        text = shown(app)
        assert "Leave Rocker wah off in 1 section" in text
        assert "Clears 2 extra presses, 2 moves and 2 findings" in text
        assert "3 Chorus 1" in text
        await pilot.press("escape")
        assert rig_of(app) is before
        await pilot.press("f", "y")
        assert rig_of(app).songs[2].sections[2].plus == ()
        await pilot.press("u")
        assert rig_of(app) == before
        assert view.rig is rig_of(app)


@pytest.mark.usefixtures("at_once")
async def test_from_the_preview_to_the_section() -> None:
    """Enter on a section leads there; nothing is changed."""
    app = app_on(FIRST_RIG)
    async with on_screen(app) as pilot:
        await pilot.press("4")
        await checked(pilot)
        await ready(pilot)
        before = rig_of(app)
        await pilot.press("down", "down", "enter", "enter")
        assert app.view_id == "setlist"
        assert rig_of(app) is before


@pytest.mark.usefixtures("at_once")
async def test_a_remedy_of_before_an_edit_is_not_done() -> None:
    """While it is tried again the rows stay, and do nothing."""
    app = app_on(FIRST_RIG)
    async with on_screen(app) as pilot:
        await pilot.press("4")
        await checked(pilot)
        view = await ready(pilot)
        remedy = view._first.first.remedies[0] if view._first.first else None
        assert remedy is not None
        app.apply("other gap", lambda rig: rig.model_copy(update={"name": "Another"}))
        changed = rig_of(app)
        await pilot.pause()
        app.apply("late", remedy.proposal.edit)
        assert rig_of(app) is changed


@pytest.mark.usefixtures("at_once")
async def test_another_file_begins_anew() -> None:
    """The remedies of the file before are not shown for the next one."""
    app = app_on(FIRST_RIG)
    async with on_screen(app) as pilot:
        await pilot.press("4")
        await checked(pilot)
        view = await ready(pilot)
        source, rig = load(DEMOS / "three-piece.toml")
        app.open_document(Document(rig, source.path, source))
        assert view._first.first is None
        await checked(pilot)
        await ready(pilot)
        assert "Noise gate" in shown(app)


@pytest.mark.usefixtures("at_once")
async def test_a_cursor_that_was_moved_stays() -> None:
    """Rows that come above it do not take the cursor off its finding."""
    app = app_on(FIRST_RIG)
    async with on_screen(app) as pilot:
        app.query_one("#stage")
        await pilot.press("4")
        await checked(pilot)
        view = app.query_one(ReportView)
        await ready(pilot)
        await pilot.press(*["down"] * 4)
        key = view.key
        assert isinstance(key, Finding)
        view._first_ready()
        assert view.key is key


@pytest.mark.usefixtures("at_once")
async def test_the_rehearsal_sheet_on_the_screen_opens_with_it() -> None:
    """It comes into the sheet that is looked at; other sheets do without."""
    app = app_on(FIRST_RIG)
    async with on_screen(app) as pilot:
        await checked(pilot)
        commands = dict(sheet_commands(app))
        for name, there in (("rehearsal sheet", True), ("floor sheet", False)):
            commands[f"Sheet: {name}"]()
            await pilot.pause()
            await app.workers.wait_for_complete()
            await pilot.pause()
            assert isinstance(app.screen, SheetPreview)
            titles = [part.title for part in app.screen.sheet.parts]
            assert (titles[0] == "Do these first") == there
            assert ("Do these first" in shown(app)) == there
            await pilot.press("escape")


def test_the_process_says_what_is_wrong(tmp_path: Path) -> None:
    """A rig that cannot be read is no traceback on the screen."""
    from rigtui.tui.adviser import Adviser

    rig = load(FIRST_RIG)[1]
    adviser = Adviser(lambda: first_task(rig).replace('"rig"', '"gir"'), lambda data: data)
    told = asyncio.run(adviser.answer())
    assert told.startswith("something in rigtui failed; please report what ")


@pytest.mark.usefixtures("at_once")
async def test_what_no_remedy_clears_comes_before_them(tmp_path: Path) -> None:
    """A section without a preset can't be played, whatever is done first; else remedies lead."""
    text = FIRST_RIG.read_text(encoding="utf-8")
    path = tmp_path / "rig.toml"
    path.write_text(text.replace(', preset = "crunch"', "", 1), encoding="utf-8")
    for file, rows in (
        (FIRST_RIG, ["Do these first", "Rehearse these"]),
        (path, ["Can't be played", "Do these first", "Rehearse these"]),
    ):
        app = app_on(file)
        async with on_screen(app, LARGE) as pilot:
            await pilot.press("4")
            await checked(pilot)
            view = await ready(pilot)
            heads = [line for line in lines(app) if line.startswith(tuple(ORDER))]
            assert [head.partition(" (")[0].rstrip() for head in heads] == rows
            assert view.grid.cursor_row == heads_end(lines(app), heads[0])


ORDER = ("Do these first", "Can't be played", "Rehearse these")


def heads_end(shown_lines: list[str], head: str) -> int:
    """The row of the list below its first heading."""
    first = next(at for at, line in enumerate(shown_lines) if line.startswith("    fix Where"))
    return shown_lines.index(head) - first


async def test_nothing_helps_is_said(tmp_path: Path) -> None:
    """Where everything was tried for nothing a line says so, but not while it is being tried."""
    app = app_of(
        tmp_path,
        switcher=switcher(),
        pedals=[pedal("wah", "wah"), pedal("drive", "overdrive")],
        loops=[loop(1, "drive")],
        chain={"front": ["wah", 1]},
        presets=[preset("clean", memory=1), preset("dirt", 1, memory=2)],
        songs=[song("low", section("clean", name="A"), section("dirt", name="B"))],
        setlists=[setlist("friday", "low")],
    )
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("4")
        await checked(pilot)
        assert "Do these first: trying them on your rig ..." in shown(app)
        assert "Nothing to do first" not in shown(app)
        view = await ready(pilot)
        first = view._first.first
        assert first is not None
        assert first == First((), tried=1)
        told = "Nothing to do first: 1 way was tried on this rig, and it doesn't help"
        assert told in shown(app)
        assert told == nothing_helps(do_first(rig_of(app)))
    assert nothing_helps(First((), tried=7)) == (
        "Nothing to do first: 7 ways were tried on this rig, and none helps"
    )
    assert nothing_helps(First(())) is None


def test_whatever_fails_in_the_adviser_is_told(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A fault of the program ends as a sentence for the screen, and in a log file."""

    def fails(*_: object) -> None:
        raise KeyError("a fault of ours")

    monkeypatch.setattr("rigtui.advice.__main__.do_first", fails)
    monkeypatch.setattr("sys.stdin", io.StringIO(first_task(load(FIRST_RIG)[1])))
    monkeypatch.setattr("rigtui.advice.__main__.signal.signal", lambda *_: None)
    monkeypatch.setattr("rigtui.advice.__main__.os.nice", lambda _: 0)
    assert main() == 0
    told = read_line(capsys.readouterr().out)["error"]
    assert told.startswith("something in rigtui failed; please report what ")
    assert "KeyError" in told
