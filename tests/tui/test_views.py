"""The list of views: what a row in it brings, and that none is forgotten."""

from __future__ import annotations

import importlib
import pkgutil
from pathlib import Path

import pytest
from rigs_made import loop, pedal, preset, section, setlist, song
from screens import SMALL, app_of, on_screen, shown

import rigtui.tui.views
from rigtui.tui.palette import Palette
from rigtui.tui.views.all_views import FIRST, VIEWS, ViewFacts
from rigtui.tui.views.base import View


def test_every_view_is_in_the_list() -> None:
    """A module called view.py in a folder of views holds a view that the list names."""
    folders = [
        module.name for module in pkgutil.iter_modules(rigtui.tui.views.__path__) if module.ispkg
    ]
    assert {f"{folder}.view" for folder in folders} == {view.home for view in VIEWS}
    for facts in VIEWS:
        module = importlib.import_module(f"rigtui.tui.views.{facts.home}")
        made = getattr(module, facts.class_name)
        assert issubclass(made, View)
        assert made.title == facts.title
        for method in ("show_rig", "take_focus", *(["go_to"] if facts.tables else [])):
            assert getattr(made, method) is not getattr(View, method), f"{facts.id}: {method}"


def test_keys_names_and_tables_are_each_of_one_view() -> None:
    """No two views share a key, a name or a table, and the first one is among them."""
    for values in ([view.key for view in VIEWS], [view.id for view in VIEWS],
                   [table for view in VIEWS for table in view.tables]):  # fmt: skip
        assert len(values) == len(set(values))
    assert FIRST in {view.id for view in VIEWS}


@pytest.mark.parametrize("facts", VIEWS, ids=lambda facts: facts.id)
async def test_key_tab_palette_and_help_lead_to_a_view(tmp_path: Path, facts: ViewFacts) -> None:
    """Its key goes there, its tab is marked, the palette finds it by name, the help has its key."""
    app = app_of(tmp_path)
    other = next(view for view in VIEWS if view != facts)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press(other.key, facts.key)
        await pilot.pause()
        assert app.view_id == facts.id
        assert f"[{facts.key} {facts.title}]" in shown(app)
        await pilot.press(other.key, "question_mark")
        assert f"{facts.key} " in shown(app)
        await pilot.press("escape", "ctrl+p")
        assert isinstance(app.screen, Palette)
        await pilot.press(*facts.title.casefold())
        await pilot.pause()
        assert f"{facts.title}  ({facts.key})" in shown(app)


LONG = "A preset of such a long name that nothing has room beside it"
STEPS = {
    "board first": {
        "pedals": [pedal("low", name="Low drive"), pedal("echo"), pedal("wah")],
        "loops": [loop(1, "low"), loop(2, "echo")],
        "chain": {"front": ["wah", 1, 2]},
        "presets": [preset("long", 1, memory=1, name=LONG), preset("b", 2)],
        "songs": [song("one", section("b", plus=["wah"]), section("long", minus=["low"]))],
        "setlists": [setlist("all", "one")],
    },
    "songs first": {
        "songs": [song("one", section(), section())],
        "setlists": [setlist("all", "one")],
        "presets": [preset("long", memory=1, name=LONG), preset("b")],
        "pedals": [pedal("wah")],
    },
}
"""Tables in the order in which somebody makes them."""


@pytest.mark.parametrize(
    ("order", "far"), [(order, far) for order, steps in STEPS.items() for far in range(len(steps))]
)
@pytest.mark.parametrize("size", [(30, 6), (44, 9)])
async def test_a_rig_that_is_only_begun_shows_in_any_window(
    tmp_path: Path, order: str, far: int, size: tuple[int, int]
) -> None:
    """An empty rig, and one with a kind of thing more each time, on each screen."""
    app = app_of(tmp_path, **dict(list(STEPS[order].items())[:far]))
    async with on_screen(app, size) as pilot:
        for facts in VIEWS:
            await pilot.press(facts.key, "down", "right", "end")
            await pilot.pause()
            assert app.view_id == facts.id
