"""No name is shown cut while there is room for it beside where it stands: a walk over all screens.

Whatever shortens a name ends it in an ellipsis (`rigtui.tui.text.fit`, `rigtui.model.cells.clip`),
so what is looked at is what stands on the screen: each ellipsis, and what is left blank behind it.
"""

from __future__ import annotations

from collections.abc import AsyncIterator, Iterator
from typing import Any, NamedTuple

import pytest
from rich.cells import cell_len
from screens import DEMOS, LARGE, app_on, burst, checked, lines, on_screen
from textual.geometry import Region
from textual.pilot import Pilot
from textual.widgets import Static

from rigtui.model.place_words import set_title
from rigtui.model.rig import Rig
from rigtui.store.load import load
from rigtui.tui.app import RigApp
from rigtui.tui.views.all_views import VIEWS
from rigtui.tui.widgets.grid import Grid
from rigtui.tui.widgets.panes import PaneBar

ELLIPSIS = "…"
LEAST = 3
"""Letters of a name that tell that it is this name."""
DEMO_FILES = ("quay-street", "three-piece", "first-rig")


def names_of(rig: Rig) -> frozenset[str]:
    """Names of all that has one."""
    rows = (*rig.pedals, *rig.presets, *rig.songs, *rig.setlists, rig.amp)
    names = {row.label for row in rows[:-1]} | {rig.name, rig.amp.name}
    names |= {section.name for song in rig.songs for section in song.sections}
    names |= {set_title(part, at) for row in rig.setlists for at, part in enumerate(row.sets)}
    names |= {f"Loop {loop.number}" for loop in rig.loops}
    names |= {rig.switcher.name} if rig.switcher else set()
    return frozenset(filter(None, names))


class Cut(NamedTuple):
    """A name that is cut though it need not be."""

    where: str
    name: str
    line: str


def cut_in(line: str, names: frozenset[str]) -> Iterator[str]:
    """Names that are cut in a line of one part of the screen, and have room behind them in it."""
    for at, letter in enumerate(line):
        if letter != ELLIPSIS:
            continue
        before, behind = line[:at], line[at + 1 :]
        text = behind.lstrip()
        blank = len(behind) - len(text) - bool(text)  # one keeps the next text apart
        for name in names:
            most = min(len(name) - 1, len(before))
            for size in range(most, LEAST - 1, -1):
                if before.endswith(name[:size].rstrip()) and name[:size].rstrip() == name[:size]:
                    if blank + 1 >= cell_len(name) - cell_len(name[:size]):
                        yield name
                    break


def clipped_in(line: str, names: frozenset[str]) -> Iterator[str]:
    """Names that run off the edge of a part of the screen without a sign of it."""
    if not line or line[-1] in f" {ELLIPSIS}" or not line[-1].isalnum():
        return
    for name in names:
        for size in range(len(name) - 1, LEAST, -1):
            starts = line.endswith(name[:size]) and not line[: -size or None][-1:].isalnum()
            if starts and name[size] != " " and name[:size] not in names:
                yield name
                break


@pytest.mark.parametrize(
    ("line", "cut"),
    [
        ("   10 The Lamplighter's Neph…    12", {"The Lamplighter's Nephew"}),
        ("   10 The Lamplighter's Neph… 12   ", set()),
        ("   10 The Lamplighter's Neph…", set()),
        ("   10 The Lamplighter's Nephew 12", set()),
        ("takes 2 moves on the beat, switch 2 and Rocker w…   crowded", {"Rocker wah"}),
        ("takes 2 moves on the beat, and it is so hard t…   crowded", set()),
    ],
)
def test_what_counts_as_cut(line: str, cut: set[str]) -> None:
    """An ellipsis within a name, with as many blank cells behind it as the name lacks."""
    assert set(cut_in(line, frozenset({"The Lamplighter's Nephew", "Rocker wah"}))) == cut


def test_what_counts_as_clipped() -> None:
    """A name that ends at the edge in the middle of a word; a line may end between words."""
    names = frozenset({"Rocker wah", "Solo", "Solo boost"})
    assert set(clipped_in("the Rock", names)) == {"Rocker wah"}
    for line in ("the Rocker", "the Solo", "the Rocker wah", "on the Rock…", "Rock "):
        assert set(clipped_in(line, names)) == set(), line


def parts_of(app: RigApp) -> Iterator[tuple[str, Region]]:
    """The parts of the screen that show text, each with where it stands."""
    for part in app.screen.walk_children():
        if isinstance(part, Grid | Static | PaneBar) and part.display and part.region.area:
            name = part.id or " ".join(sorted(part.classes)) or type(part).__name__
            yield name, part.content_region


def cuts_on(app: RigApp, names: frozenset[str]) -> Iterator[Cut]:
    """Names that are cut on the screen as it stands."""
    drawn = lines(app)
    for where, region in parts_of(app):
        for line in drawn[region.y : region.bottom]:
            text = line[region.x : region.right]
            for name in (*cut_in(text, names), *clipped_in(text, names)):
                yield Cut(f"{app.view_id}: {where}", name, text.strip())


async def every_screen(pilot: Pilot[Any]) -> AsyncIterator[None]:
    """Every view, every list of it, every row of each list, and every song of the setlist."""
    app = pilot.app
    assert isinstance(app, RigApp)
    for view in VIEWS:
        await pilot.press(view.key)
        await checked(pilot)
        if view.id == "wiring":
            yield
            await pilot.press("p")
            await pilot.pause()
        for _ in range(4):
            grid = app.screen.focused
            if isinstance(grid, Grid):
                await burst(pilot, "g")
                while True:
                    yield
                    before = grid.cursor_row
                    await burst(pilot, *(["down"] if view.id == "setlist" else ["pagedown"]))
                    if grid.cursor_row == before:
                        break
            else:
                yield
            await burst(pilot, "tab")


@pytest.mark.parametrize("demo", DEMO_FILES)
async def test_no_name_is_cut_while_there_is_room(demo: str) -> None:
    """At 120x40: pedals, presets, songs, sections, setlists, sets, loops, amp and switcher."""
    file = DEMOS / f"{demo}.toml"
    names = names_of(load(file)[1])
    app = app_on(file)
    cuts: set[Cut] = set()
    screens = 0
    async with on_screen(app, LARGE) as pilot:
        async for _ in every_screen(pilot):
            cuts |= set(cuts_on(app, names))
            screens += 1
    assert screens > 30
    assert sorted(cuts) == []
