"""The board on the screen: everything that a board is made of, by keys alone."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, song, switcher
from screens import LARGE, SMALL, app_of, checked, lines, on_screen, shown, typed

from rigtui.checks import check
from rigtui.model.base import SIDES
from rigtui.model.rig import Amp, Chain, Loop, Pedal, Player, Rig, Switcher
from rigtui.tui.app import RigApp
from rigtui.tui.views.board.forms import edit_form
from rigtui.tui.views.board.rows import PEDAL_TRAITS, BoardRow, facts_of, rows_on
from rigtui.tui.views.board.view import BoardView
from rigtui.tui.widgets.dialogs import Confirm
from rigtui.tui.widgets.key_line import KeyLine
from rigtui.tui.widgets.pick import Pick

RIG: dict[str, Any] = {
    "amp": {"name": "Combo", "channels": ["clean", "drive"]},
    "switcher": switcher(memories=4, bank_size=2, name="Six"),
    "pedals": [
        pedal("tuner", "tuner", name="Tuner"), pedal("drive", "overdrive", name="Drive [x]"),
        pedal("echo", "delay", "fx", name="Echo"), pedal("old", "fuzz", name="Old", use="home"),
    ],
    "loops": [loop(1, "drive"), loop(2, "echo", side="fx"), loop(3)],
    "chain": {"front": ["tuner", 1, 3], "fx": [2]},
    "presets": [preset("clean", name="Clean", memory=1), preset("dirt", 1, name="Dirt", memory=2)],
    "songs": [song("low", "clean", "dirt", title="Low Fen")],
}  # fmt: skip


def rig_of(app: RigApp) -> Rig:
    """The rig as it is now."""
    assert app.document is not None
    return app.document.rig


def board(app: RigApp) -> BoardView:
    """The board on the screen."""
    return app.query_one(BoardView)


async def at(pilot: Any, app: RigApp, what: str, id: str = "") -> None:
    """Put the cursor on a thing."""
    view = board(app)
    place = next(n for n, row in enumerate(view.rows) if row[:2] == (what, id))
    view.grid.move_to(place)
    await pilot.pause()


@pytest.mark.parametrize("size", [SMALL, LARGE, (60, 20), (200, 60)])
async def test_the_signal_is_read_from_the_guitar_on(tmp_path: Path, size: tuple[int, int]) -> None:
    """In a line with loops in brackets, and in a list; what is at home comes last."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, size) as pilot:
        await pilot.press("1")
        await pilot.pause()
        text = " ".join(" ".join(lines(app)).split())
        assert (
            "Guitar > Tuner > [1 Drive [x]] > [3 empty] > amp input > amp send > [2 Echo]"
            " > amp return"
        ) in text
        assert [row.id or row.what for row in board(app).rows] == [
            "player", "tuner", "1", "drive", "3", "amp", "In the amp's effects loop", "2", "echo",
            "switcher", "Not in the signal", "old",
        ]  # fmt: skip


async def test_a_sound_is_lit_in_words_too(tmp_path: Path) -> None:
    """] goes from sound to sound: what is on says so, what is off stands in brackets."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("1", "]")
        await pilot.pause()
        assert "[1 (Drive [x])]" in shown(app)
        await pilot.press("]")
        await pilot.pause()
        assert "[1 Drive [x]]" in shown(app)
        assert any("Drive [x]" in line and line.split()[-1] == "on" for line in lines(app))
        await pilot.press("]")
        await pilot.pause()
        assert board(app).lit is None


async def test_a_pedal_from_nothing_to_its_loop_and_away(tmp_path: Path) -> None:
    """Added where its kind stands, moved along, put into a loop, deleted after a yes, undone."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        first = rig_of(app)
        await pilot.press("1", "a", *typed("Low Wah"), "down", "w", "enter")
        await pilot.pause()
        added = rig_of(app).pedals[-1]
        assert (added.id, added.kind, added.side) == ("low-wah", "wah", "front")
        assert rig_of(app).chain.front == ("tuner", "low-wah", 1, 3)
        assert board(app).row == BoardRow("pedal", "low-wah")
        await pilot.press("K")
        await pilot.pause()
        assert rig_of(app).chain.front == ("low-wah", "tuner", 1, 3)
        await pilot.press("i", *typed("loop 3"), "enter")
        await pilot.pause()
        if rig_of(app).loops[2].pedals == ():
            await pilot.press("y")
            await pilot.pause()
        assert rig_of(app).loops[2].pedals == ("low-wah",)
        assert rig_of(app).chain.front == ("tuner", 1, 3)
        await pilot.press("x")
        await pilot.pause()
        assert "Delete Low Wah?" in shown(app)
        await pilot.press("y")
        await pilot.pause()
        assert [row.id for row in rig_of(app).pedals] == ["tuner", "drive", "echo", "old"]
        for _ in range(4):
            await pilot.press("u")
        await pilot.pause()
        assert rig_of(app) == first


async def test_consequences_come_before_the_yes(tmp_path: Path) -> None:
    """Taking a pedal out says what it costs; Esc leaves everything as it is."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        before = rig_of(app)
        await pilot.press("1")
        await at(pilot, app, "pedal", "drive")
        await pilot.press("o")
        await pilot.pause()
        text = shown(app)
        assert "Take Drive [x] out of its loop?" in text
        assert "presets needed: 2 → 1" in text
        await pilot.press("escape")
        await pilot.pause()
        assert rig_of(app) is before
        await pilot.press("o", "y")
        await pilot.pause()
        assert rig_of(app).songs[0].sections[1].plus == ("drive",)


async def test_loops_come_go_and_change_numbers(tmp_path: Path) -> None:
    """A new loop, another number with the presets following, the other side, and away."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("1", "n", "enter")
        await pilot.pause()
        assert [row.number for row in rig_of(app).loops] == [1, 2, 3, 4]
        assert rig_of(app).chain.front == ("tuner", 1, 3, 4)
        await at(pilot, app, "loop", "1")
        await pilot.press("e", "4", "enter")
        await pilot.pause()
        assert rig_of(app).loops[3].pedals == ("drive",)
        assert rig_of(app).presets[1].loops == (4,)
        assert rig_of(app).chain.front == ("tuner", 4, 3, 1)
        await at(pilot, app, "loop", "1")
        await pilot.press("x")
        await pilot.pause()
        if len(rig_of(app).loops) == 4:
            await pilot.press("y")
            await pilot.pause()
        assert [row.number for row in rig_of(app).loops] == [2, 3, 4]


async def dragged(pilot: Any, app: RigApp, row: BoardRow, onto: BoardRow) -> None:
    """Drag the row of a thing over that of another, and let go there."""
    view = board(app)
    rows = {other[:2]: at + 1 for at, other in enumerate(view.rows)}
    await pilot.mouse_down(view.grid, offset=(3, rows[row[:2]]))
    await pilot.hover(view.grid, offset=(3, rows[onto[:2]]))
    await pilot.mouse_up(view.grid, offset=(3, rows[onto[:2]]))
    await pilot.pause()


async def answered_yes(pilot: Any, app: RigApp) -> None:
    """Click on the yes, where there is something to say before."""
    if isinstance(app.screen, Confirm):
        await pilot.click(".dialog--answer")
        await pilot.pause()


async def test_everything_can_be_done_by_mouse(tmp_path: Path) -> None:
    """The right button lists what can be done with a thing; a click on a line does it."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("1")
        await pilot.pause()
        place = [row.id for row in board(app).rows].index("drive") + 1
        await pilot.click(board(app).grid, offset=(3, place), button=3)
        await pilot.pause()
        assert isinstance(app.screen, Pick)
        text = shown(app)
        for words in (
            "Edit  (e)", "Delete  (x)", "Put into a loop  (i)", "Take out of its loop  (o)",
            "Add  (a)", "Nearer the guitar  (K)", "Further on  (J)", "New loop  (n)",
            "Step by step  (w)",
        ):  # fmt: skip
            assert words in text
        assert "Other side" not in text  # that is its loop's
        line = next(at for at, row in enumerate(lines(app)) if "Take out of its loop" in row)
        column = lines(app)[line].index("Take out")
        await pilot.click(offset=(column, line))
        await pilot.pause()
        await answered_yes(pilot, app)
        assert rig_of(app).loops[0].pedals == ()
        assert "drive" in rig_of(app).chain.front


async def test_a_row_in_hand_that_goes_is_let_go(tmp_path: Path) -> None:
    """A key can delete what the mouse holds; moving on and letting go then do nothing."""
    app = app_of(tmp_path, **{**RIG, "pedals": [*RIG["pedals"], pedal("spare", use="home")]})
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("1")
        await pilot.pause()
        view = board(app)
        last, top = len(view.rows), view.rows[1]
        await pilot.click(view.grid, offset=(3, last))
        await pilot.mouse_down(view.grid, offset=(3, last))
        await pilot.hover(view.grid, offset=(3, 2))
        await pilot.press("x")
        await pilot.pause()
        await answered_yes(pilot, app)
        assert "spare" not in [row.id for row in view.rows]
        before = rig_of(app)
        await pilot.hover(view.grid, offset=(3, 3))
        await pilot.mouse_up(view.grid, offset=(3, 3))
        await pilot.pause()
        assert rig_of(app) is before
        assert view.rows[1] == top
        assert "Let go to" not in shown(app)


async def test_a_pedal_is_dragged_to_where_it_goes(tmp_path: Path) -> None:
    """Into a loop, out again, straight after the guitar; it is said before the button is up."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("1")
        await pilot.pause()
        view = board(app)
        rows = {row.id or row.what: at + 1 for at, row in enumerate(view.rows)}
        await pilot.mouse_down(view.grid, offset=(3, rows["drive"]))
        await pilot.hover(view.grid, offset=(3, rows["3"]))
        assert "Let go to put Drive [x] into loop 3" in shown(app)
        await pilot.mouse_up(view.grid, offset=(3, rows["3"]))
        await pilot.pause()
        await answered_yes(pilot, app)
        assert rig_of(app).loops[2].pedals == ("drive",)
        assert view.row == BoardRow("pedal", "drive", inside=True)

        await dragged(pilot, app, BoardRow("pedal", "drive"), BoardRow("player"))
        await answered_yes(pilot, app)
        assert rig_of(app).chain.front == ("drive", "tuner", 1, 3)
        await dragged(pilot, app, BoardRow("loop", "3"), BoardRow("loop", "1"))
        await answered_yes(pilot, app)
        assert rig_of(app).chain.front == ("drive", "tuner", 3, 1)
        await dragged(pilot, app, BoardRow("pedal", "tuner"), BoardRow("switcher"))
        assert rig_of(app).chain.front == ("drive", "tuner", 3, 1)
        assert not isinstance(app.screen, Confirm)


async def test_the_footer_shows_what_the_row_can_do(tmp_path: Path) -> None:
    """Once the cursor rests: a pedal in a loop can go out, a loop cannot."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("1")
        for what, id, can in (("pedal", "drive", True), ("loop", "1", False)):
            await at(pilot, app, what, id)
            for _ in range(100):
                await pilot.pause(0.02)
                keys = {key.action: key.enabled for key in app.query_one(KeyLine).shown}
                if keys["out_of_loop"] is can:
                    break
            assert keys["out_of_loop"] is can
            assert keys["delete"] is True


async def test_faults_are_said_in_the_form(tmp_path: Path) -> None:
    """A value that no file can hold keeps the form open, with the reason."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("1")
        await at(pilot, app, "switcher")
        await pilot.press("e", "down", *typed("200"), "enter")
        await pilot.pause()
        assert "memories" in shown(app)
        assert rig_of(app).switcher is not None
        assert rig_of(app).switcher.memories == 4


async def test_findings_stand_beside_what_they_are_of(tmp_path: Path) -> None:
    """An empty loop says so where it is, and a finding leads there."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("1")
        await checked(pilot)
        assert any(finding.where == "loops.3" for finding in check(rig_of(app)))
        board(app).go_to("loops.3")
        await pilot.pause()
        assert board(app).row == BoardRow("loop", "3")
        assert "advice: " in shown(app)


@pytest.mark.parametrize(
    ("row", "table", "elsewhere"),
    [
        (BoardRow("pedal", "drive"), Pedal, {"id", "side"}),
        (BoardRow("loop", "1"), Loop, {"side", "pedals"}),
        (BoardRow("amp"), Amp, set()),
        (BoardRow("switcher"), Switcher, set()),
        (BoardRow("player"), Player, set()),
    ],
)
async def test_every_key_of_the_format_has_a_place(
    tmp_path: Path, row: BoardRow, table: Any, elsewhere: set[str]
) -> None:
    """A new key without a field fails here; sides, order and contents are set by moving things."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL):
        form = edit_form(app.view, rig_of(app), row)
        fields = {field.key: field for field in form._fields}
        assert fields.keys() == table.model_fields.keys() - elsewhere
        assert all(field.help for field in fields.values())


def test_the_chain_is_set_by_moving_things() -> None:
    """It holds the order of its two sides and nothing else that would need a field."""
    assert Chain.model_fields.keys() == set(SIDES)


@pytest.mark.parametrize(
    ("what", "id", "key", "value"),
    [
        ("pedal", "tuner", "delay_ms", 350), ("pedal", "tuner", "trails", True),
        ("pedal", "tuner", "use", "always"), ("pedal", "tuner", "kind", "fuzz"),
        ("amp", "", "channels", ("one", "two")), ("amp", "", "fx_loop", False),
        ("switcher", "", "display_chars", 8), ("switcher", "", "bank_wrap", False),
        ("player", "", "shoe_mm", 90), ("player", "", "extra_press_seconds", 0.25),
    ],
)  # fmt: skip
async def test_keys_are_set_from_the_form(
    tmp_path: Path, what: str, id: str, key: str, value: Any
) -> None:
    """Typed or chosen in the form, saved, and read back from the file."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("1")
        await at(pilot, app, what, id)
        await pilot.press("e")
        await pilot.pause()
        form: Any = app.screen
        for _ in range([field.key for field in form._fields].index(key)):
            await pilot.press("down")
        if isinstance(value, bool):
            await pilot.press("y" if value else "n")
        elif key in ("use", "kind"):
            await pilot.press({"always": "l", "fuzz": "f"}[value])
        else:
            text = ", ".join(value) if isinstance(value, tuple) else str(value)
            await pilot.press("ctrl+u", *typed(text))
        await pilot.press("enter", "s")
        await pilot.pause()
        await pilot.pause()
    data = tomllib.loads((tmp_path / "rig.toml").read_text(encoding="utf-8"))
    row = next(row for row in data["pedals"] if row["id"] == id) if id else data[what]
    assert row[key] == (list(value) if isinstance(value, tuple) else value)


def test_things_are_each_there_once() -> None:
    """However a rig is wired, each pedal and each loop has one row."""
    chain = {"front": ["tuner", 1]}  # one pedal and two loops stand nowhere
    rig = make_rig(**{**RIG, "chain": chain, "songs": [song("low", section("clean"))]})
    rows = [row[:2] for row in rows_on(rig) if row.what in ("pedal", "loop")]
    assert sorted(rows) == sorted(
        [("pedal", row.id) for row in rig.pedals] + [("loop", str(row.number)) for row in rig.loops]
    )


def test_the_board_says_all_that_is_so_of_a_pedal() -> None:
    """A new yes or no of a pedal without its words fails here."""
    assert set(PEDAL_TRAITS) == {
        key for key, field in Pedal.model_fields.items() if field.default is False
    }
    told = make_rig(pedals=[pedal("fuzz", "fuzz", **dict.fromkeys(PEDAL_TRAITS, True))])
    assert set(PEDAL_TRAITS.values()) < set(
        " and ".join(facts_of(told, BoardRow("pedal", "fuzz"))).replace(" and ", ", ").split(", ")
    )
