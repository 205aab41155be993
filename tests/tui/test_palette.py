"""The command palette: every action, every preset, song and setlist by name, and the colours."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import pedal, preset, section, setlist, song, switcher
from screens import SMALL, app_of, checked, on_screen, shown
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from rigtui.store.kept import read_settings, settings_path
from rigtui.tui.app import RigApp
from rigtui.tui.palette import Palette
from rigtui.tui.settings import THEMES
from rigtui.tui.views.presets.view import PresetsView

RIG: dict[str, Any] = {
    "switcher": switcher(),
    "presets": [preset("one", name="One"), preset("bad", name="[/foo]"), preset("third")],
    "songs": [song("low", section("one", name="A"), title="[@click=app.quit]Low[/]")],
    "setlists": [setlist("friday", "low", name="Friday [b]night"), setlist("late", "low")],
}


async def search(pilot: Pilot[Any], words: str) -> list[str]:
    """Open the palette, type, and return what it lists."""
    await pilot.press("ctrl+p")
    pilot.app.screen.query_one(Input).value = words
    await pilot.pause()
    options = pilot.app.screen.query_one(OptionList)
    return [str(option.prompt) for option in options.options]


async def choose(pilot: Pilot[Any], words: str) -> None:
    """Open the palette, type, and take the first that it lists."""
    await search(pilot, words)
    await pilot.press("enter")
    await pilot.pause()


async def test_every_action_is_listed(tmp_path: Path) -> None:
    """Before anything is typed, all actions of the view and of the program stand there."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        listed = await search(pilot, "")
        words = {row.split("  (")[0] for row in listed}
        view = {binding.description for binding in PresetsView.BINDINGS}  # type: ignore[union-attr]
        program = {binding.description for binding in RigApp.BINDINGS}  # type: ignore[union-attr]
        assert view | program - {"Find anything", "Hide the finding"} <= words
        assert "Save a picture of the screen" in words
        assert {f"Theme: colours {name.replace('-', ' ')}" for name in THEMES} <= {
            word.removesuffix(" (now)") for word in words
        }
        assert not {"Theme", "Keys", "Maximize", "Minimize"} & words, "nothing of the library's own"
        assert "Undo  (u, ^z)" in listed


async def test_a_preset_named_like_markup_is_found(tmp_path: Path) -> None:
    """A preset called [/foo] neither crashes the palette nor vanishes, and is gone to."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        assert await search(pilot, "[/foo]") == ["Go to preset: [/foo]"]
        assert "Go to preset: [/foo]" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert not isinstance(app.screen, Palette)
        assert app.query_one("#matrix").cursor_row == 1


@pytest.mark.parametrize(
    ("words", "where"),
    [
        ("click", "songs.low"),
        ("song low", "songs.low"),
        ("friday", "setlists.friday"),
        ("late", "setlists.late"),
        ("THIRD", "presets.third"),
    ],
)
async def test_places_by_name(tmp_path: Path, words: str, where: str) -> None:
    """Part of a name, in any case and with other words, finds the place."""
    app = app_of(tmp_path, **RIG)
    seen: list[str] = []

    async def go_to(place: str) -> None:
        seen.append(place)

    app.go_to = go_to  # type: ignore[method-assign]
    async with on_screen(app, SMALL) as pilot:
        await choose(pilot, words)
    assert seen == [where]


async def test_an_action_of_the_view_is_done(tmp_path: Path) -> None:
    """Choosing an action does what its key does, at the cursor where it was."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("down")
        await choose(pilot, "copy")
        assert [preset.label for preset in app.document.rig.presets][1:3] == [
            "[/foo]",
            "[/foo] copy",
        ]
        assert app.focused is app.query_one("#matrix")


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("phaser", "Go to pedal: Swirl"),
        ("tremolo pedal", "Go to pedal: Pulse"),
        ("mute", "Go to pedal: Needle"),
        ("tap dancing", "Report  (4)"),
        ("bigger switcher", "Plan: what a bigger switcher would buy"),
        ("curve", "Plan: what a bigger switcher would buy"),
        ("midi", "Write MIDI: tempo, sections, presets of the setlist"),
        ("csv", "Export the songs as a table (CSV)"),
        ("screenshot", "Save a picture of the screen"),
        ("waive", "Waive all of unused-preset: 2 findings"),
        ("plan give", "Plan: Give up  (5 t)"),
        ("every chorus", "Sections: Map all of this name  (3 M)"),
        ("fix", "Report: Fix  (4 f)"),
        ("print floor", "Sheet: floor sheet"),
    ],
)
async def test_common_names_and_other_screens(tmp_path: Path, words: str, first: str) -> None:
    """What a player calls it finds it, whatever screen it is on."""
    pedals = [
        pedal("swirl", name="Swirl", kind="modulation"),
        pedal("pulse", name="Pulse", kind="tremolo"),
        pedal("needle", name="Needle", kind="tuner"),
    ]
    app = app_of(tmp_path, **{**RIG, "pedals": pedals})
    async with on_screen(app, SMALL) as pilot:
        await checked(pilot)
        listed = await search(pilot, words)
        assert first in listed[:3]


FOUND = {
    "add song to set": "Add", "add to": "Add", "new song": "Add", "new setlist": "Add",
    "split": "Split the set: a new set from here",
    "split set": "Split the set: a new set from here",
    "break": "Split the set: a new set from here",
    "merge": "Join the set with the one before", "join sets": "Join the set with the one before",
    "copy mapping": "Sections: Fill the mapping down",
    "change tempo": "Edit", "capo": "Edit", "transpose": "Edit", "rename song": "Edit",
    "rename setlist": "Edit", "gig date": "Edit", "gap": "Edit", "set slot": "Edit",
    "print": "Sheet: set sheet", "print setlist": "Sheet: set sheet", "pdf": "Sheet: set sheet",
    "battery": "Sheet: packing list", "undo": "Undo", "backup": "Saved versions",
    "wah": "Go to pedal: Sweep", "tuner": "Go to pedal: Needle", "mute": "Go to pedal: Needle",
    **dict.fromkeys(("dead pedal", "dead", "broken", "dies", "pedal died"),
                    "Plan: Play without a pedal"),
    "song sheet": "Sheet: floor sheet",
    "song page": "Sheet: floor sheet", "rename pedal": "Board: Edit", "tap tempo": "Board: Edit",
    "take pedal off board": "Board: Edit", "add pedal": "Board: Add", "new pedal": "Board: Add",
    "remove pedal": "Board: Delete", "swap pedals": "Board: Nearer the guitar",
    "pedal order": "Board: Further on", "rename preset": "Presets: Edit",
    "new preset": "Presets: Add", "delete preset": "Presets: Delete",
    "swap presets": "Presets: Memory", "bank": "Presets: Sort by bank, or as in the file",
    "delete song": "Remove", "remove song": "Remove", "delete setlist": "Remove",
    "copy song": "Copy", "paste songs": "Paste songs", "reorder songs": "Move up",
    "select several": "Tick, for keys that act on several", "change bars": "Sections: A bar more",
    "new section": "Sections: Add", "change preset": "Sections: Map",
    "cable length": "Wiring: Measure", "buy cables": "Wiring", "chords": "Import songs from a file",
    "dark mode": "Theme: colours dark (now)",
}  # fmt: skip
"""What a guitarist would type on the setlist, and one command that does it."""


async def test_what_guitarists_type_finds_what_does_it(tmp_path: Path) -> None:
    """Among the first four, so that no list has to be read."""
    pedals = [
        pedal("sweep", name="Sweep", kind="wah"),
        pedal("needle", name="Needle", kind="tuner"),
    ]
    app = app_of(tmp_path, **{**RIG, "pedals": pedals})
    async with on_screen(app, SMALL) as pilot:
        await checked(pilot)
        await pilot.press("3")
        await pilot.pause()
        palette = Palette(app)
        found = {
            words: [label.split("  (")[0] for _, label in palette.narrowed(words)[:4]]
            for words in FOUND
        }
        assert {words: row for words, row in found.items() if FOUND[words] not in row} == {}
        assert palette.narrowed("phantom") == [], "nothing here feeds a microphone"


async def test_a_key_of_another_screen_is_pressed_there(tmp_path: Path) -> None:
    """The screen is gone to, and its list has the keys."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await choose(pilot, "sections: write")
        await pilot.pause()
        assert app.view_id == "setlist"
        assert "in one line" in shown(app)


async def test_a_rule_is_waived_as_a_whole(tmp_path: Path) -> None:
    """A reason is asked for, and undo takes it back."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await checked(pilot)
        await choose(pilot, "waive all of unused")
        await pilot.press("enter")
        assert "a waiver needs a reason" in shown(app)
        await pilot.press(*"later", "enter")
        await pilot.pause()
        (waiver,) = app.document.rig.waivers
        assert (waiver.rule, waiver.where, waiver.reason) == ("unused-preset", "rig", "later")


async def test_midi_and_a_table_are_written(tmp_path: Path) -> None:
    """Beside the rig, and said so; what the MIDI file cannot hold without a device too."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        for words, ending, begins in (("midi", "mid", b"MThd"), ("csv", "csv", b"song,title")):
            await choose(pilot, words)
            await pilot.press("enter")
            await pilot.pause()
            (path,) = tmp_path.glob(f"*.{ending}")
            assert path.read_bytes().startswith(begins)
            said = [notice.message for notice in app._notifications]
            assert any(f"Wrote {path}" in text for text in said)
            assert any("has no MIDI device" in text for text in said)


async def test_nothing_found(tmp_path: Path) -> None:
    """Words that fit nothing list nothing to choose, and Esc closes the palette."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        assert not await search(pilot, "no such [thing")
        assert 'Nothing matches "no such [thing".' in shown(app)
        await pilot.press("enter", "pageup", "down")
        await pilot.press("escape")
        assert not isinstance(app.screen, Palette)


async def test_no_palette_over_a_question(tmp_path: Path) -> None:
    """While a form waits, ctrl+p does not leave it behind."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("e", "ctrl+p")
        await pilot.pause()
        assert not isinstance(app.screen, Palette)


async def test_colours_are_kept(tmp_path: Path) -> None:
    """A theme chosen is there at the next start too."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        assert app.theme == "dark"
        await choose(pilot, "colours light")
        assert app.theme == "light"
    assert read_settings() == {"theme": "light"}
    assert app_of(tmp_path, **RIG).theme == "light"


@pytest.mark.parametrize("text", ['theme = "no such"', "theme = 3", "theme", "[keys]\n3 = 4"])
async def test_bad_settings_do_no_harm(tmp_path: Path, text: str) -> None:
    """Settings that make no sense are passed over."""
    path = settings_path()
    path.parent.mkdir(parents=True)
    path.write_text(text)
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL):
        assert app.theme == "dark"


async def test_other_keys(tmp_path: Path) -> None:
    """The settings file may give an action another key, by the action's id."""
    path = settings_path()
    path.parent.mkdir(parents=True)
    path.write_text('[keys]\n"presets.duplicate" = "z"\n"app.undo" = ""\n"no.such" = "+,+"\n')
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("d")
        assert len(app.document.rig.presets) == 3
        await pilot.press("z")
        await pilot.pause()
        assert len(app.document.rig.presets) == 4


async def test_picture_of_the_screen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture of the screen is saved as SVG where the program was started."""
    monkeypatch.chdir(tmp_path)
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await choose(pilot, "picture")
    assert [path.read_text()[:4] for path in tmp_path.glob("*.svg")] == ["<svg"]
