"""The lines above and below the views."""

from __future__ import annotations

import pytest
from screens import lines
from textual.app import App, ComposeResult

from rigtui.tui.widgets.bars import StatusLine

LONG = "a-very-long-name-of-a-rig-file-that-someone-chose.toml"
MOVES = "1234 moves (least 1215) +130 set-up"


class _Line(App[None]):
    def compose(self) -> ComposeResult:
        yield StatusLine()


async def status(width: int, **shown: object) -> str:
    """The status line at a width."""
    app = _Line()
    async with app.run_test(size=(width, 3)) as pilot:
        for name, value in shown.items():
            setattr(app.query_one(StatusLine), name, value)
        await pilot.pause()
        return lines(app)[0]  # type: ignore[arg-type]


@pytest.mark.parametrize("width", [80, 120])
@pytest.mark.parametrize(
    "faults", ["no findings", "123 warnings, 7 advice", "12 errors, 3 warnings"]
)
@pytest.mark.parametrize("unsaved", [True, False])
@pytest.mark.parametrize("file", ["rig.toml", LONG, "演奏会の夜のためのリグ.toml"])
async def test_what_counts_is_always_whole(
    width: int, faults: str, unsaved: bool, file: str
) -> None:
    """Moves, the worst finding and UNSAVED stand whole, however long the names are."""
    line = await status(
        width,
        file=file,
        unsaved=unsaved,
        setlist="Summer wedding at the boathouse, 12 June",
        moves=MOVES,
        faults=faults,
    )
    assert MOVES in line
    assert faults.split(", ")[0] in line
    assert ("UNSAVED" in line) == unsaved
    assert line.startswith(f" {file[:4]}")


async def test_all_of_it_where_there_is_room() -> None:
    """At 120 columns names of usual length and the second kind of finding stand whole too."""
    line = await status(
        120,
        file="quay-street.toml",
        unsaved=True,
        setlist="Summer wedding at the boathouse",
        moves="234 moves (least 215) +30 set-up",
        faults="1 error, 75 warnings",
    )
    assert line.startswith(" quay-street.toml UNSAVED  ")
    assert line.endswith(
        "  Summer wedding at the boathouse: 234 moves (least 215) +30 set-up  1 error, 75 warnings "
    )


async def test_names_share_what_is_left() -> None:
    """At 80 columns both names are clipped, neither is lost."""
    line = await status(
        80,
        file=LONG,
        setlist="Summer wedding at the boathouse",
        moves="234 moves (least 215) +30 set-up",
        faults="no findings",
    )
    assert line == (
        " a-very-long-na…  Summer weddin…: 234 moves (least 215) +30 set-up  no findings "
    )
