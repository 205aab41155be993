"""Beginning: the last file, the start screen, and opening another rig from within."""

from __future__ import annotations

from pathlib import Path

import pytest
from rigs_made import preset
from screens import DEMOS, LARGE, SMALL, app_of, app_on, on_screen, shown
from textual.widgets import Input

from rigtui.store.kept import recent_files, remember_file
from rigtui.store.load import load
from rigtui.store.recovery import Journal
from rigtui.tui.app import RigApp
from rigtui.tui.files import save_to
from rigtui.tui.opening import run as open_screens
from rigtui.tui.start import StartScreen
from rigtui.tui.widgets.dialogs import Confirm, Form

GOOD = 'format = 1\nname = "Good [/] rig"\n'


def rename(app: RigApp) -> None:
    """An edit."""
    app.apply("rename", lambda rig: rig.model_copy(update={"name": "Edited"}))


async def test_without_a_file_it_asks(tmp_path: Path) -> None:
    """With nothing opened before, the demo rigs and a new one are offered."""
    app = RigApp(None)
    async with on_screen(app, SMALL):
        assert isinstance(app.screen, StartScreen)
        text = shown(app)
        assert "Opened last" not in text
        assert "Quay Street function rig" in text
        assert "A new rig" in text


async def test_files_opened_before_come_first(tmp_path: Path) -> None:
    """Files opened before stand at the top, shown literally, and enter opens the latest."""
    path = tmp_path / "[bold]mine.toml"
    path.write_text(GOOD)
    remember_file(path)
    app = RigApp(None)
    async with on_screen(app, LARGE) as pilot:
        assert "[bold]mine.toml" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert app.document.path == path
        assert app.document.rig == load(path)[1]


async def test_a_demo_opens_as_a_copy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A demo belongs to no file: saving asks for a name, and the shipped file stays as it is."""
    monkeypatch.chdir(tmp_path)
    demo = DEMOS / "first-rig.toml"
    shipped = demo.read_bytes()
    app = RigApp(None)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        assert app.document.path is None
        assert app.document.rig == load(demo)[1]
        assert not app.document.dirty
        rename(app)
        await pilot.pause()
        assert "copy of first-rig.toml UNSAVED" in shown(app)
        await pilot.press("s")
        assert isinstance(app.screen, Form)
        app.screen.query_one(Input).value = str(demo)
        await pilot.press("enter")
        assert isinstance(app.screen, Form), "a shipped file is not saved over"
        app.screen.query_one(Input).value = "mine.toml"
        await pilot.press("enter")
        await pilot.pause()
        assert not app.document.dirty
    assert demo.read_bytes() == shipped
    saved = (tmp_path / "mine.toml").read_text()
    assert saved.count("#") == shipped.decode().count("#"), "comments come along"
    assert load(tmp_path / "mine.toml")[1].name == "Edited"
    assert recent_files()[0] == tmp_path / "mine.toml"


async def test_a_small_example_has_no_file(tmp_path: Path) -> None:
    """A small example is the starter rig, without a file."""
    app = RigApp(None)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("e")
        await pilot.pause()
        assert app.document.path is None
        assert app.document.name == "new rig"
        assert app.document.rig.songs


async def test_quitting_the_start_screen() -> None:
    """`q` on the start screen leaves the program, and there is no way back to nothing."""
    app = RigApp(None)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("escape")
        assert isinstance(app.screen, StartScreen)
        await pilot.press("q")
        await pilot.pause()
    assert app.return_value == 0


async def test_another_rig_from_within(tmp_path: Path) -> None:
    """`O` shows the ways to begin; Esc goes back to the rig that is open."""
    app = app_of(tmp_path, presets=[preset("one")])
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("O")
        assert isinstance(app.screen, StartScreen)
        before = app.document
        await pilot.press("escape")
        assert app.document is before
        await pilot.press("O", "e")
        await pilot.pause()
        assert app.document.name == "new rig"
        assert "drive" in shown(app)


@pytest.mark.parametrize(("answer", "saved"), [("s", True), ("d", False)])
async def test_unsaved_edits_are_asked_for(tmp_path: Path, answer: str, saved: bool) -> None:
    """With something unsaved, `O` asks first: it is saved or dropped, as the player says."""
    app = app_of(tmp_path, presets=[preset("one")])
    async with on_screen(app, SMALL) as pilot:
        rename(app)
        await pilot.press("O")
        assert isinstance(app.screen, Confirm)
        await pilot.press(answer)
        await pilot.pause()
        assert isinstance(app.screen, StartScreen)
    assert (load(tmp_path / "rig.toml")[1].name == "Edited") == saved


async def test_quitting_with_an_unsaved_copy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Quitting an edited copy asks, then asks for a name, then saves and quits."""
    monkeypatch.chdir(tmp_path)
    app = RigApp(None)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("e")
        await pilot.pause()
        rename(app)
        await pilot.press("ctrl+q")
        assert isinstance(app.screen, Confirm)
        await pilot.press("s", "enter")
        await pilot.pause()
    assert app.return_value == 0
    assert load(tmp_path / "my-rig.toml")[1].name == "Edited"


async def test_bad_files_are_refused_with_reasons(tmp_path: Path) -> None:
    """A file that is no good rig is refused with what is wrong, and the choice stands again."""
    path = tmp_path / "bad.toml"
    path.write_text('format = 1\nname = "x"\ntuner = 3\n')
    remember_file(path)
    app = RigApp(None)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        assert "line 3" in shown(app)
        assert "unknown key" in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, StartScreen)
        await pilot.press("o")
        app.screen.query_one(Input).value = str(path)
        await pilot.press("enter")
        await pilot.pause()
        assert "unknown key" in shown(app)
        path.write_text(GOOD)
        await pilot.press("enter")
        await pilot.pause()
        assert app.document.rig.name == "Good [/] rig"


@pytest.mark.parametrize(
    ("content", "expected"),
    [(GOOD, "rig.toml"), ("format = [", None), (None, None)],
)
def test_last_file_is_opened_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, content: str | None, expected: str | None
) -> None:
    """`rigtui` alone opens the last file if it still reads, and asks otherwise."""
    path = tmp_path / "rig.toml"
    remember_file(path)
    if content is not None:
        path.write_text(content)
    made: list[RigApp] = []

    def run(self: RigApp) -> int:
        made.append(self)
        return 0

    monkeypatch.setattr(RigApp, "run", run)
    assert open_screens(None) == 0
    assert (made[0].source.path.name if made[0].source else None) == expected


async def test_a_last_file_that_is_no_rig_leads_to_the_start(tmp_path: Path) -> None:
    """A last file that is TOML but no rig any more does not keep the program from starting."""
    path = tmp_path / "rig.toml"
    path.write_text("format = 1\n")
    app = app_on(path)
    app.asked_for = False
    async with on_screen(app, SMALL) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, StartScreen)


async def test_files_are_remembered(tmp_path: Path) -> None:
    """A file that is opened, or saved to, comes first the next time."""
    app = app_of(tmp_path, presets=[preset("one")])
    async with on_screen(app, SMALL):
        assert recent_files() == (tmp_path / "rig.toml",)
        save_to(app, tmp_path / "other.toml")
        assert recent_files() == (tmp_path / "other.toml", tmp_path / "rig.toml")


async def test_saving_over_another_file_is_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A name that is another file's brings up the question, which stays until it is answered."""
    monkeypatch.chdir(tmp_path)
    other = tmp_path / "other.toml"
    other.write_text(GOOD)
    app = app_of(tmp_path, presets=[preset("one")])
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("S")
        app.screen.query_one(Input).value = "other.toml"
        await pilot.press("enter")
        await pilot.pause()
        assert [type(screen) for screen in app.screen_stack[1:]] == [Confirm]
        assert other.read_text() == GOOD
        await pilot.press("y")
        await pilot.pause()
        assert len(app.screen_stack) == 1
        assert app.document.path == Path("other.toml")
    assert load(other)[1].presets[0].id == "one"


async def test_a_typed_path_offers_what_a_crash_left(tmp_path: Path) -> None:
    """A file opened by its path asks about unsaved edits, and the question stays."""
    left = tmp_path / "left.toml"
    left.write_text(GOOD)
    source, rig = load(left)
    journal = Journal(left)
    journal.write(rig.model_copy(update={"name": "Edited"}), source)
    journal._lock.release()
    app = app_of(tmp_path, presets=[preset("one")])
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("O", "o")
        app.screen.query_one(Input).value = str(left)
        await pilot.press("enter")
        await pilot.pause()
        assert [type(screen) for screen in app.screen_stack[1:]] == [Confirm]
        await pilot.press("t")
        await pilot.pause()
        assert app.document.rig.name == "Edited"
