"""The lines above and below the views."""

from __future__ import annotations

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher
from screens import lines
from textual.app import App, ComposeResult

from rigtui.tui.totals import totals_text
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


async def test_figures_are_shortened_before_names_are_lost() -> None:
    """Where all figures leave no room for the names, those that count most stand alone."""
    shown = {
        "file": "quay-street.toml",
        "setlist": "Summer wedding at the boathouse",
        "moves": "13 can't be played, 234 moves (least 215), 7 extra, +30 set-up",
        "brief": "234 moves, 13 can't play, 7 extra",
        "faults": "5 errors, 75 warnings",
    }
    wide, narrow = await status(120, **shown), await status(80, **shown)
    assert shown["moves"] in wide
    assert shown["brief"] in narrow
    assert "quay-street.toml" in narrow
    assert "Summer" in narrow


@pytest.mark.parametrize(
    ("presets", "after", "moves", "brief"),
    [
        ([1, 2], [], "1 moves (least 1) +1 set-up", "1 moves"),
        ([1, 2], ["wah"], "2 moves (least 2), 1 extra, +1 set-up", "2 moves, 1 extra"),
        ([1, None], [], "1 can't be played, 1 moves (least 1) +1 set-up", "1 moves, 1 can't play"),
        (
            [1, None],
            ["wah"],
            "1 can't be played, 2 moves (least 2), 1 extra, +1 set-up",
            "2 moves, 1 can't play, 1 extra",
        ),
    ],
)
def test_what_the_status_line_sums_up(
    presets: list[int | None], after: list[str], moves: str, brief: str
) -> None:
    """What can't be played and extra presses stand beside the moves, where there are any."""
    rig = make_rig(
        switcher=switcher(4, 4),
        pedals=[pedal("wah", "wah"), pedal("drive")],
        loops=[loop(1, "drive")],
        presets=[
            preset(name, *loops, **({} if memory is None else {"memory": memory}))
            for name, loops, memory in zip(("clean", "loud"), ((), (1,)), presets, strict=True)
        ],
        songs=[song("air", "clean", section("loud", plus=after))],
        setlists=[setlist("night", "air")],
    )
    assert totals_text(rig, "night") == ("night", moves, brief)
    without = moves.replace(", +1 set-up", "").replace(" +1 set-up", "")
    assert totals_text(rig, None) == ("all songs", without, brief)
