"""Songs from another file, by way of the command palette and two forms."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rigs_made import preset, song, switcher
from screens import app_of, on_screen, shown
from textual.pilot import Pilot

from rigtui.tui.app import RigApp
from rigtui.tui.importing import ask_file
from rigtui.tui.widgets.dialogs import Form

SHEET = "{title: Low Fen}\n{tempo: 60}\n{time: 6/8}\n{sov}\nla\n{eov}\n{soc}\nla\n{eoc}\n{chorus}\n"


def app_with_sheet(folder: Path, sheet: str = SHEET) -> RigApp:
    """The program on a rig of two presets, a song sheet beside it."""
    (folder / "low.cho").write_text(sheet)
    return app_of(
        folder,
        switcher=switcher(),
        presets=[preset("clean", name="Clean"), preset("rock", name="Rock")],
        songs=[song("old-one", "clean", title="Old One")],
    )


def said(app: RigApp) -> list[str]:
    """What was said below the views."""
    return [notification.message for notification in app._notifications]


async def open_file(pilot: Pilot[Any], path: Path) -> None:
    """Name the file in the first form."""
    assert isinstance(pilot.app, RigApp)
    ask_file(pilot.app)
    await pilot.pause()
    await type_in(pilot, str(path))
    await accept(pilot)


async def accept(pilot: Pilot[Any]) -> None:
    """Hand a form in, and wait for what comes after it: the next form is asked for by the first."""
    await pilot.press("enter")
    for _ in range(4):  # the first form goes, its answer is taken, the next form comes
        await pilot.pause()


async def type_in(pilot: Pilot[Any], text: str) -> None:
    """Type a text into the field in focus, in place of what stands there."""
    from textual.widgets import Input

    field = pilot.app.focused
    assert isinstance(field, Input)
    field.value = text
    await pilot.pause()


async def test_songs_come_in_as_one_step(tmp_path: Path) -> None:
    """All that the sheet does not say is asked in one form; undo takes the songs out again."""
    app = app_with_sheet(tmp_path)
    async with on_screen(app) as pilot:
        assert app.document is not None
        before = app.document.rig
        await open_file(pilot, tmp_path / "low.cho")
        assert isinstance(app.screen, Form)
        text = shown(app)
        assert "doesn't say 5 things" in text
        assert "Import Low Fen" in text
        assert "Verse: bars" in text
        await type_in(pilot, "16")
        await pilot.press("down", "right", "right", "down")  # Verse: clean
        await type_in(pilot, "8")
        await pilot.press("down", "right", "right", "right", "down")  # Chorus: rock
        await type_in(pilot, "3/8")
        await accept(pilot)
        song = app.document.rig.songs[1]
        assert (song.title, song.beat) == ("Low Fen", "3/8")
        assert [(s.name, s.bars, s.preset) for s in song.sections] == [
            ("Verse", 16, "clean"), ("Chorus", 8, "rock"), ("Chorus", 8, "rock"),
        ]  # fmt: skip
        await pilot.press("u")
        await pilot.pause()
        assert app.document.rig == before


async def test_what_is_missing_or_wrong_keeps_the_form_open(tmp_path: Path) -> None:
    """With the first thing that is open, or what an answer should have been."""
    app = app_with_sheet(tmp_path)
    async with on_screen(app) as pilot:
        await open_file(pilot, tmp_path / "low.cho")
        await accept(pilot)
        assert "not answered: Low Fen, Verse: bars" in shown(app)
        await type_in(pilot, "many")
        await accept(pilot)
        assert 'must be a number, not "many"' in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert app.document is not None
        assert len(app.document.rig.songs) == 1
        assert "Import songs" in shown(app)  # the form before, with what was typed there
        assert "low.cho" in shown(app)


async def test_a_file_that_is_none_keeps_the_first_form_open(tmp_path: Path) -> None:
    """Missing, of an unknown kind, or not named at all."""
    app = app_with_sheet(tmp_path)
    async with on_screen(app) as pilot:
        for name, says in (
            (tmp_path / "gone.cho", "it does not exist"),
            (tmp_path / "rig.doc", "its name doesn't say what it is"),
            ("", "a file needs a name"),
        ):
            ask_file(app)
            await pilot.pause()
            await type_in(pilot, str(name))
            await pilot.press("enter")
            await pilot.pause()
            assert says in shown(app)
            await pilot.press("escape")
            await pilot.pause()


async def test_an_answer_can_raise_a_question(tmp_path: Path) -> None:
    """The meter is asked first; now that it is 6/8, so is the beat."""
    sheet = "{title: Low Fen}\n{tempo: 60}\n"
    app = app_with_sheet(tmp_path, sheet)
    async with on_screen(app) as pilot:
        await open_file(pilot, tmp_path / "low.cho")
        await type_in(pilot, "6/8")
        await accept(pilot)
        assert "which note gets the beat at 60 in 6/8" in shown(app)
        await type_in(pilot, "3/8")
        await accept(pilot)
        assert app.document is not None
        assert app.document.rig.songs[1].beat == "3/8"


async def test_a_song_that_is_there_is_asked_about(tmp_path: Path) -> None:
    """Skip leaves the rig as it was, and nothing is there to undo."""
    app = app_with_sheet(tmp_path, "{title: old one}\n{tempo: 60}\n{time: 4/4}\n")
    async with on_screen(app) as pilot:
        assert app.document is not None
        before = app.document.rig
        await open_file(pilot, tmp_path / "low.cho")
        assert "already there: replace, add or skip" in shown(app)
        await pilot.press("left")
        await accept(pilot)
        assert app.document.rig == before
        assert said(app)[0].startswith("old one: already there, unchanged")


async def test_too_many_questions_are_for_the_command_line(tmp_path: Path) -> None:
    """Answers stand for many at once there."""
    many = "".join(f"{{sov: Part {at}x}}\nla\n{{eov}}\n" for at in range(40))
    app = app_with_sheet(tmp_path, "{title: X}\n{tempo: 60}\n{time: 4/4}\n" + many)
    async with on_screen(app) as pilot:
        await open_file(pilot, tmp_path / "low.cho")
        assert "Import songs" in shown(app)
        assert said(app)[0].startswith("80 answers are missing, too many for a form")


async def test_the_palette_finds_it(tmp_path: Path) -> None:
    """By its words."""
    app = app_with_sheet(tmp_path)
    async with on_screen(app) as pilot:
        await pilot.press("ctrl+p")
        await pilot.pause()
        await pilot.press(*"import songs")
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        assert "Import songs from a file" in shown(app)
