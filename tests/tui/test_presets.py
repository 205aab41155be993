"""The presets view, by keys."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, pedal, preset, section, song, switcher
from screens import DEMOS, LARGE, SMALL, app_of, app_on, lines, on_screen, shown, until

from rigtui.model import Preset
from rigtui.tui.app import RigApp
from rigtui.tui.views.presets.words import short_names

PARTS: dict[str, Any] = {
    "amp": {"channels": ["clean", "drive"]},
    "switcher": switcher(memories=4, bank_size=2),
    "pedals": [pedal("squash", "compressor"), pedal("drive", "overdrive"), pedal("echo", "delay")],
    "loops": [loop(1, "squash"), loop(2, "drive"), loop(3, "echo")],
    "chain": {"front": [1, 2, 3]},
    "presets": [
        preset("thin", 1, name="Thin", memory=1),
        preset("thick", 2, name="Thick", memory=2),
        preset("far", 3, name="Far"),
    ],
    "songs": [song("one", section("thin"), section("thick"), section("thick"))],
}
SIZES = pytest.mark.parametrize("size", [SMALL, LARGE], ids=["80x24", "120x40"])


def rows_of(app: RigApp) -> tuple[Preset, ...]:
    assert app.document is not None
    return app.document.rig.presets


async def typed(pilot: Any, text: str) -> None:
    await pilot.press(*(("space" if char == " " else char) for char in text))


@SIZES
async def test_space_switches_the_loop_under_the_cursor(tmp_path: Path, size: Any) -> None:
    """The cell turns, the totals follow, and undo takes exactly that back."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app, size) as pilot:
        before = app.document.rig  # type: ignore[union-attr]
        await pilot.press("right", "space")
        assert rows_of(app)[0].loops == (1, 2)
        assert "Thin" in lines(app)[3]
        assert lines(app)[3].split()[2:5] == ["on", "on", "."]
        await pilot.press("u")
        assert app.document.rig == before  # type: ignore[union-attr]
        await pilot.press("r")
        assert rows_of(app)[0].loops == (1, 2)


async def test_the_preset_under_the_cursor_is_told_in_words(tmp_path: Path) -> None:
    """Pedals in signal order, memory by bank and switch, and how many sections use it."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        await pilot.press("down")
        assert "memory 2 (bank 1, switch 2), used in 2 sections of 1 song" in shown(app)
        assert "Pedals: drive" in shown(app)


async def test_a_new_preset_goes_into_the_first_free_memory(tmp_path: Path) -> None:
    """The form takes a name; role and memory are offered."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        await pilot.press("a")
        await typed(pilot, "Wide Open")
        await pilot.press("enter")
        new = rows_of(app)[-1]
        assert (new.id, new.name, new.memory, new.loops) == ("wide-open", "Wide Open", 3, ())
        assert app.screen is app.screen_stack[0]


async def test_a_form_stays_open_with_what_is_wrong(tmp_path: Path) -> None:
    """A memory that the switcher does not have is refused in the form, and nothing changes."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        before = rows_of(app)
        await pilot.press("e", "down", "down", "backspace", "9", "enter")
        assert "memory 9 does not exist: the switcher has 4" in shown(app)
        await pilot.press("escape")
        assert rows_of(app) == before


async def test_edit_changes_all_at_once_in_one_step(tmp_path: Path) -> None:
    """Name, role, volume and hands come in one edit that one undo takes back."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        before = rows_of(app)
        await pilot.press("e")
        await typed(pilot, "Bell")
        await pilot.press("down", "right", *3 * ["down"], "right", "down", "7", "enter")
        row = rows_of(app)[0]
        assert (row.id, row.name, row.channel, row.guitar_volume) == ("thin", "Bell", "clean", 7)
        assert row.role != before[0].role
        await pilot.press("u")
        assert rows_of(app) == before


async def test_a_copy_stands_behind_and_is_stored_nowhere(tmp_path: Path) -> None:
    """d copies the preset; the cursor goes to the copy."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        await pilot.press("d")
        await pilot.pause()
        assert [row.id for row in rows_of(app)] == ["thin", "thin-copy", "thick", "far"]
        assert rows_of(app)[1].memory is None
        assert "Thin copy  other, not stored in a memory yet, not used" in shown(app)


async def test_moving_a_preset_takes_the_cursor_along(tmp_path: Path) -> None:
    """J twice moves the same preset to the end."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        await pilot.press("J")
        await pilot.pause()
        await pilot.press("J")
        await pilot.pause()
        assert [row.id for row in rows_of(app)] == ["thick", "far", "thin"]


async def test_taking_a_full_memory_swaps(tmp_path: Path) -> None:
    """m and a memory that another preset holds: the two swap."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        await pilot.press("m")
        await typed(pilot, "thick")
        await pilot.press("enter")
        assert [row.memory for row in rows_of(app)] == [2, 1, None]


async def test_deleting_a_preset_in_use_asks_what_its_sections_get(tmp_path: Path) -> None:
    """The sections go where the player says; a preset that nothing uses goes at once."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        await pilot.press("down", "x")
        assert "2 sections use Thick; they get" in shown(app)
        await typed(pilot, "far")
        await pilot.press("enter")
        assert [row.id for row in rows_of(app)] == ["thin", "far"]
        assert app.document is not None
        used = [section.preset for section in app.document.rig.songs[0].sections]
        assert used == ["thin", "far", "far"]
        await pilot.press("u", "down", "x")
        assert [row.id for row in rows_of(app)] == ["thin", "thick"]


async def test_role_channel_and_volume_have_keys_of_their_own(tmp_path: Path) -> None:
    """o, c, [ and ] step through what a preset can have, and back to nothing."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        await pilot.press("o", "c", "left_square_bracket", "left_square_bracket")
        row = rows_of(app)[0]
        assert (row.role, row.channel, row.guitar_volume) == ("clean", "clean", 9)
        await pilot.press("right_square_bracket", "right_square_bracket", "c", "c")
        row = rows_of(app)[0]
        assert (row.channel, row.guitar_volume) == (None, None)


async def test_a_click_goes_to_a_cell_and_a_second_one_switches_it(tmp_path: Path) -> None:
    """The mouse does what the keys do."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        # Line 4 is the second preset (top bar, two heading lines); its third loop is "echo".
        column = lines(app)[2].index("ech")
        await pilot.click("#matrix", offset=(column, 3))
        assert rows_of(app)[1].loops == (2,)
        await pilot.click("#matrix", offset=(column, 3))
        assert rows_of(app)[1].loops == (2, 3)


async def test_a_rig_without_presets_says_what_to_press(tmp_path: Path) -> None:
    """An empty matrix names the key that fills it, and other keys do no harm."""
    app = app_of(tmp_path, **{**PARTS, "presets": [], "songs": []})
    async with on_screen(app) as pilot:
        assert "press a to add one" in shown(app)
        await pilot.press("space", "e", "d", "x", "m", "o", "J")
        assert rows_of(app) == ()


async def test_a_new_preset_is_under_the_cursor(tmp_path: Path) -> None:
    """After adding, the next key changes the new preset and not the one that was last before."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        await pilot.press("a")
        await typed(pilot, "Surf")
        await pilot.press("enter", "o")
        await pilot.pause()
        assert [row.role for row in rows_of(app)] == ["other", "other", "other", "clean"]


@pytest.mark.parametrize(
    ("names", "width", "shorts"),
    [
        (["low-drive", "long-delay"], 2, ["lo", "ld"]),
        (["echo", "echo", "echo"], 3, ["ech", "ece", "ecc"]),
        (["a", "a"], 2, ["a", "aa"]),
        (["-", "-"], 3, ["-", "-"]),
        (["boost", "drive"], 6, ["boost", "drive"]),
    ],
)
def test_short_names_of_loops_differ(names: list[str], width: int, shorts: list[str]) -> None:
    """Two loops never carry the same letters while other letters are to be had."""
    assert short_names(names, width) == shorts


@pytest.mark.parametrize("size", [(40, 10), (60, 16)])
async def test_small_terminals_show_rows_rather_than_words(tmp_path: Path, size: Any) -> None:
    """Down to 40 by 10 the matrix itself is there."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app, size):
        assert "Thin" in shown(app)
        assert "Thick" in shown(app)


async def test_a_terminal_that_is_too_small_says_so(tmp_path: Path) -> None:
    """Where nothing would be readable one line says what is needed, and growing brings it back."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app, (30, 7)) as pilot:
        assert "Too small" in shown(app)
        await pilot.resize_terminal(80, 24)
        await until(pilot, lambda: "Thin" in shown(app))
        assert "Too small" not in shown(app)


async def test_copies_are_typed_shown_and_refused_where_another_preset_is(tmp_path: Path) -> None:
    """Memories of copies in the form; one undo takes them back."""
    app = app_of(tmp_path, **PARTS)
    async with on_screen(app) as pilot:
        before = rows_of(app)
        await pilot.press("e", "down", "down", "down")
        await typed(pilot, "2")
        await pilot.press("enter")
        assert "copies need free memories: memory 2 holds Thick" in shown(app)
        await pilot.press("backspace")
        await typed(pilot, "x")
        await pilot.press("enter")
        assert "copies must be a number, not x" in shown(app)
        await pilot.press("backspace")
        await typed(pilot, "4, 3")
        await pilot.press("enter")
        assert rows_of(app)[0].memories == (1, 4, 3)
        assert lines(app)[3].split()[:3] == ["Thin", "1/1", "+2"]
        assert "Thin  other, memories 1 (1/1), 4 (2/2) and 3 (2/1), used in 1 section" in shown(app)
        await pilot.press("u")
        assert rows_of(app) == before


async def test_channel_and_volume_are_reached_at_80_columns() -> None:
    """They are announced at the edge, come into sight with the cursor, and space acts on them."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("2")
        await pilot.pause()
        assert "2›" in shown(app)
        assert "Channel" not in shown(app)
        await pilot.press("end")
        await pilot.pause()
        assert "Channel  volume" in shown(app)
        before = app.document.rig.presets[0]
        await pilot.press("left", "space", "left", "space")
        await pilot.pause()
        after = app.document.rig.presets[0]
        assert (before.channel, after.channel) == ("clean", "drive")
        assert (before.role, after.role) == ("clean", "rhythm")
        assert before.loops == after.loops
