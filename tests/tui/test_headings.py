"""Headings: whole names where there is room, on few lines; what is off the screen is announced."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import loop, pedal, preset, section, song, switcher
from screens import app_of, burst, lines, on_screen

from rigtui.model.cells import cells
from rigtui.tui.views.setlist.song_rows import short_names
from rigtui.tui.widgets.headings import headings

NAMES = ["Slow squash compressor", "Low drive", "Solo boost"]


@pytest.mark.parametrize(
    ("room", "told"),
    [
        (45, [("Slow squash compressor",), ("Low drive",), ("Solo boost",)]),
        (24, [("Slow squash", "compressor"), ("Low", "drive"), ("Solo", "boost")]),
        (18, [("Slow", "squas"), ("Low", "drive"), ("Solo", "boost")]),
    ],
)
def test_names_are_whole_as_long_as_there_is_room(room: int, told: list[tuple[str, ...]]) -> None:
    """One line, else two, else the widest is cut."""
    made = headings(tuple(NAMES), room, 4, short_names, 2)
    assert [row.lines for row in made] == told
    assert sum(row.width for row in made) <= room


def test_without_names_there_are_no_headings() -> None:
    """A board without loops, in a window too narrow for what stands beside them."""
    assert headings((), -7, 3, short_names) == ()


@given(
    st.lists(st.text("abc é-", min_size=1, max_size=30), min_size=1, max_size=14, unique=True),
    st.integers(0, 120),
)
def test_no_heading_is_wider_than_its_column(names: list[str], room: int) -> None:
    """All have as many lines, each fits, and where all fit no name is cut."""
    made = headings(tuple(names), room, 3, short_names, 3)
    assert len({len(row.lines) for row in made}) == 1
    assert all(cells(line) < row.width for row in made for line in row.lines)
    if sum(len(name) + 3 for name in names) <= room:
        assert [" ".join(row.lines).split() for row in made] == [name.split() for name in names]


RIG = {
    "switcher": switcher(memories=12, bank_size=3),
    "pedals": [pedal("squash", name="Slow squash compressor"), pedal("low", name="Low drive")],
    "loops": [loop(1, "squash"), loop(2, "low")],
    "presets": [
        preset("wide", memory=5, name="Clean Wide"), preset("chop", memory=1, name="Clean Chop"),
        preset("none", name="Not Stored"), preset("rock", memory=4, name="Rock"),
        *(preset(f"spare-{at}", name=f"Spare {at}") for at in range(20)),
    ],
    "songs": [song("low", section("rock", name="Verse"))],
}  # fmt: skip


async def test_presets_by_bank_and_the_bank_as_a_picture(tmp_path: Path) -> None:
    """b sorts; the cursor stays on its preset, edits reach it, and its switch is marked."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, (80, 24)) as pilot:
        text = "\n".join(lines(app))
        assert "compressor" in text
        assert "(2/1) Rock  [2/2] Clean Wide  (2/3) -" in text
        await burst(pilot, "b")
        rows = [row.cells[0].strip() for row in app.view.grid.rows]
        assert rows[:4] == ["Clean Chop", "Rock", "Clean Wide", "Not Stored"]
        assert app.view.here == "presets.wide"
        await burst(pilot, "up", "space", "K")
        rock = app.document.rig.presets[3]
        assert (rock.id, rock.loops) == ("rock", (1,))
        await burst(pilot, "b")
        assert app.view.here == "presets.rock"
        await burst(pilot, "K")
        assert [row.id for row in app.document.rig.presets[2:4]] == ["rock", "none"]


async def test_a_songs_own_presets_come_first_and_the_rest_is_announced(tmp_path: Path) -> None:
    """Its mark is never off the screen; how many columns are, stands at the edge."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, (80, 24)) as pilot:
        await burst(pilot, "3", "tab")
        assert any("›" in line for line in lines(app))
        (row, *_) = [
            line for line in lines(app) if "Verse" in line and " Rock " in line and "│" in line
        ]
        assert "on" in row.split("Rock ")[1]
        columns = app.view.song.grid.columns
        assert columns[app.view.song._laid_out.frozen].heads[0] == "2/1"
        await burst(pilot, "end")
        assert any("‹" in line for line in lines(app))
