"""Sheets from the command palette: looked through, written to a file, noted as printed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import preset, section, setlist, song, switcher
from screens import LARGE, SMALL, app_of, lines, on_screen, shown, until
from textual.pilot import Pilot
from textual.widgets import Input, Static

from rigtui.model.base import SheetKind
from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.sheets.make import pages_in_words
from rigtui.tui.app import RigApp
from rigtui.tui.sheet_preview import SheetPreview, sheet_commands

RIG: dict[str, Any] = {
    "switcher": switcher(),
    "presets": [preset("one", name="[/foo] One", memory=1)],
    "songs": [
        song("low", section("one", name="[@click=app.quit]A[/]"), title="Low"),
        song("long", *(section("one", name=f"Part {n}") for n in range(60)), title="Long"),
    ],
    "setlists": [setlist("friday", "low", "long", name="Friday"), setlist("late", "low")],
}


async def preview(pilot: Pilot[Any], kind: SheetKind) -> SheetPreview:
    """Show a sheet as the palette does."""
    app = pilot.app
    assert isinstance(app, RigApp)
    dict(sheet_commands(app))[f"Sheet: {SHEET_KINDS[kind].name}"]()
    await pilot.pause()
    assert isinstance(app.screen, SheetPreview)
    return app.screen


async def test_the_palette_shows_a_sheet(tmp_path: Path) -> None:
    """Typed and chosen in the palette, the sheet lies over the view; Esc leads back."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await pilot.press("ctrl+p")
        await app.workers.wait_for_complete()
        app.screen.query_one(Input).value = "floor sheet"
        await pilot.pause()
        await app.workers.wait_for_complete()
        await pilot.press("enter")
        await pilot.pause()
        assert "Floor sheet, revision " in shown(app)
        assert "1  Low" in shown(app)
        await pilot.press("escape")
        assert not isinstance(app.screen, SheetPreview)


@pytest.mark.parametrize(
    ("kind", "size"),
    [*((kind, SMALL) for kind in SHEET_KINDS), ("floor", (50, 15)), ("floor", LARGE)],
)
async def test_every_sheet_is_shown_as_it_is_written(
    tmp_path: Path, kind: SheetKind, size: tuple[int, int]
) -> None:
    """Names stay text, nothing is cut off at the right, and the screen keeps its size."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, size) as pilot:
        await preview(pilot, kind)
        text = shown(app)
        assert text.count("w write to a file") == 1
        assert all(len(line) == size[0] for line in lines(app))
        if size == LARGE and kind == "floor":
            assert "[@click=app.quit]A[/]" in text
            assert "[/foo] One" in text


async def test_keys_scroll(tmp_path: Path) -> None:
    """The end of a long sheet is reached and the name stays in sight."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await preview(pilot, "floor")
        assert "Part 59" not in shown(app)
        await pilot.press("end")
        await until(pilot, lambda: "Part 59" in shown(app))
        assert "Floor sheet, revision " in shown(app)


async def test_the_setlist_at_hand_is_shown(tmp_path: Path) -> None:
    """Not the first one of the file."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        app.setlist_id = "late"
        screen = await preview(pilot, "floor")
        assert screen.sheet.title == "late"
        await pilot.press("escape")
        screen = await preview(pilot, "wiring")
        assert screen.setlist is None


async def fill(pilot: Pilot[Any], **fields: str) -> None:
    """Open the form and type into it."""
    await pilot.press("w")
    await pilot.pause()
    for key, value in fields.items():
        pilot.app.screen.query_one(f"#field-{key}", Input).value = value
    await pilot.pause()


@pytest.mark.parametrize(
    ("name", "begin"), [("s.pdf", b"%PDF"), ("s.html", b"<!DOCTYPE"), ("s.txt", b"Friday\n====")]
)
async def test_written_in_the_format_of_its_ending(tmp_path: Path, name: str, begin: bytes) -> None:
    """Enter in the form writes the file, and says so."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await preview(pilot, "floor")
        await fill(pilot, file=str(tmp_path / name))
        await pilot.press("enter")
        await pilot.pause()
        assert (tmp_path / name).read_bytes().startswith(begin)
        assert isinstance(app.screen, SheetPreview)


async def test_a_name_beside_the_rig_is_offered(tmp_path: Path) -> None:
    """As it stands, Enter writes a PDF into the folder of the rig."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await preview(pilot, "deputy")
        await fill(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert (tmp_path / "deputy-friday.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"file": "s.doc"}, "the name doesn't say a format"),
        ({"file": "there.txt"}, "already exists"),
        ({"file": "none/s.txt"}, "was not written"),
        ({"file": "s.pdf", "metres": "40"}, "metres from 0.3 to 4"),
    ],
)
async def test_what_cannot_be_written_is_told_in_the_form(
    tmp_path: Path, fields: dict[str, str], says: str
) -> None:
    """The form stays, and nothing that was there has changed."""
    (tmp_path / "there.txt").write_text("a letter")
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, LARGE) as pilot:
        await preview(pilot, "floor")
        await fill(pilot, **{**fields, "file": str(tmp_path / fields["file"])})
        await pilot.press("enter")
        await pilot.pause()
        assert says in " ".join(shown(app).replace("│", " ").split())
        assert (tmp_path / "there.txt").read_text() == "a letter"
        assert not (tmp_path / "s.pdf").exists()


async def test_what_is_there_is_replaced_if_that_is_chosen(tmp_path: Path) -> None:
    """The last field says what becomes of it."""
    (tmp_path / "there.txt").write_text("a letter")
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await preview(pilot, "floor")
        await fill(pilot, file=str(tmp_path / "there.txt"))
        await pilot.press("up", "right", "enter")
        await pilot.pause()
        assert (tmp_path / "there.txt").read_text().startswith("Friday\n")


async def test_noting_is_an_edit_that_can_be_undone(tmp_path: Path) -> None:
    """n puts the sheet on record; undo takes it off."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        screen = await preview(pilot, "floor")
        await pilot.press("n")
        assert app.document is not None
        (row,) = app.document.rig.printed
        assert (row.sheet, row.setlist, row.revision) == ("floor", "friday", screen.sheet.revision)
        await pilot.press("escape", "u")
        assert app.document.rig.printed == ()


async def test_pages_are_counted_before_anything_is_written(tmp_path: Path) -> None:
    """In the preview as usual, in the form as it would be written: other paper, other distance."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, LARGE) as pilot:
        screen = await preview(pilot, "floor")
        await app.workers.wait_for_complete()
        await pilot.pause()
        usual = pages_in_words(screen.sheet)
        assert f"revision {screen.sheet.revision}: {usual}" in shown(app)
        await fill(pilot)

        def said() -> str:
            return str(app.screen.query_one("#help", Static).visual)

        await pilot.press("down", "right")
        await pilot.pause()
        letter = pages_in_words(screen.sheet, "letter")
        assert said() == letter
        await pilot.press("down", "0", "full_stop", "5")
        await pilot.pause()
        near = pages_in_words(screen.sheet, "letter", 0.5)
        assert near != letter
        assert said() == near
        assert [path.name for path in tmp_path.iterdir()] == ["rig.toml"]


@pytest.mark.parametrize("columns", [60, 120, 200])
async def test_the_preview_takes_the_whole_width(tmp_path: Path, columns: int) -> None:
    """A line that needs it runs from edge to edge."""
    note = "word " * 60
    app = app_of(tmp_path, **{**RIG, "deputy_note": note})
    async with on_screen(app, (columns, 30)) as pilot:
        await preview(pilot, "deputy")
        longest = max(len(line.rstrip()) for line in lines(app) if "word word" in line)
        assert columns - 10 < longest <= columns
