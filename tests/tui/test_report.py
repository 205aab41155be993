"""The report view: its lists, and what can be done from them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, pedal, preset, section, setlist, song, switcher
from screens import (
    DEMOS,
    LARGE,
    SMALL,
    app_of,
    app_on,
    burst,
    checked,
    lines,
    on_screen,
    shown,
)
from textual.pilot import Pilot

from rigtui.checks import Finding
from rigtui.moves import Press
from rigtui.tui.app import RigApp
from rigtui.tui.views.board.rows import BoardRow
from rigtui.tui.views.board.view import BoardView
from rigtui.tui.views.report.findings import CauseKey
from rigtui.tui.views.report.lists import ChangeKey, SongKey
from rigtui.tui.views.report.view import ReportView
from rigtui.tui.widgets.dialogs import Confirm

RIG: dict[str, Any] = {
    "switcher": switcher(),
    "pedals": [pedal("drive", "overdrive"), pedal("wah", "wah"), pedal("spare")],
    "loops": [loop(1, "drive"), loop(2), loop(3, "spare")],
    "chain": {"front": ["wah", 1, 2, 3]},
    "presets": [
        preset("clean", name="Clean", memory=1),
        preset("dirt", 1, name="Dirt", memory=6),
        preset("more", 3, name="More", memory=9),
    ],
    "songs": [
        song("low", "clean", "dirt", "clean", title="Low Fen"),
        song(
            "tin",
            section("clean", name="Verse"),
            section("dirt", name="Solo", plus=["wah"], hands="bridge pickup"),
            title="Tin Moth",
        ),
        song("not-played", "clean"),
    ],
    "setlists": [setlist("friday", "low", "tin", "low", name="Friday")],
}


def report(app: RigApp) -> ReportView:
    """The report on the screen."""
    return app.query_one(ReportView)


def keys_of(view: ReportView) -> tuple[Any, ...]:
    """What the rows of the list of findings stand for."""
    return view._listings["findings"].keys


def has_fix(key: Any) -> bool | None:
    """Whether a finding has a fix; None for a row that is no finding."""
    return key.fix is not None if isinstance(key, Finding) else None


async def findings_list(pilot: Pilot[Any]) -> ReportView:
    """Go to the list of findings, with the rules gone through and every cause opened."""
    await pilot.press("4")
    await checked(pilot)
    view = pilot.app.query_one(ReportView)
    causes = frozenset(key for key in keys_of(view) if isinstance(key, CauseKey))
    view._shown = view._shown._replace(opened=causes)
    view._draw_findings()
    await pilot.pause()
    view.grid.move_to(0)
    await pilot.pause()
    return view


async def stand_on(pilot: Pilot[Any], rule: str) -> Finding:
    """Put the cursor on the first finding of a rule."""
    view = pilot.app.query_one(ReportView)
    keys = keys_of(view)
    at = next(at for at, key in enumerate(keys) if isinstance(key, Finding) and key.rule == rule)
    view.grid.move_to(at)
    await pilot.pause()
    assert isinstance(view.key, Finding)
    return view.key


async def test_songs_of_the_setlist_at_hand(tmp_path: Path) -> None:
    """Each song of the setlist has a row as often as it is played, with the counted figures.

    By hand: clean is bank 1 switch 1, dirt bank 2 switch 2. Low Fen: bank step and switch, twice,
    so 4 moves. Tin Moth: bank step, switch and wah, so 3, two of them on the beat. Before the first
    song one switch; before Tin Moth none; before the last song, from dirt with the wah on: bank
    step, switch, wah. Low Fen sounds the same no other way; nor does Tin Moth.
    """
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("4", "tab")
        await pilot.pause()
        rows = [line.split() for line in lines(app)[3:8]]
        assert [[word for word in row if "█" not in word] for row in rows[1:4]] == [
            ["1", "Low", "Fen", "1", "4", "4", "1", "0"],
            ["2", "Tin", "Moth", "0", "3", "3", "2!", "1"],
            ["3", "Low", "Fen", "3", "4", "4", "1", "0"],
        ]
        assert "Set: 3 songs, 11 moves (least 11), +4 set-up" in shown(app)
        assert "not-played" not in shown(app)
        assert report(app).key == SongKey("low", 0, (Press("switch", 1),))


async def test_without_a_setlist_all_songs_are_there(tmp_path: Path) -> None:
    """With no setlist every song has a row, and nothing is set up."""
    app = app_of(tmp_path, **{**RIG, "setlists": []})
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("4", "tab", "G")
        await pilot.pause()
        assert report(app).key == SongKey("not-played", 2, None)


async def test_busiest_changes_in_words(tmp_path: Path) -> None:
    """The changes stand with the most moves first, sections from 1, presses in words."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("4", "tab", "tab")
        await pilot.pause()
        assert report(app).key == ChangeKey("tin", 1)
        text = shown(app)
        assert "1 Verse > 2 Solo" in text
        assert "Presses: bank up ahead of time, switch 2 (Dirt), wah on" in text
        assert "3 moves, 2 on the beat, 1 can wait" in text
        assert "Hands: bridge pickup" in text


@pytest.mark.parametrize(
    ("keys", "where"),
    [
        (("tab", "enter"), "songs.low"),
        (("tab", "tab", "enter"), "songs.tin.sections.1"),
        (("tab", "tab", "down", "space"), "songs.low.sections.1"),
    ],
)
async def test_enter_asks_for_the_place(tmp_path: Path, keys: tuple[str, ...], where: str) -> None:
    """Enter or space on a song or change asks to be led there."""
    app = app_of(tmp_path, **RIG)
    seen: list[str] = []
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("4")
        app.go_to = lambda place, finding=None: _note(seen, place)  # type: ignore[method-assign]
        await pilot.press(*keys)
        await pilot.pause()
    assert seen == [where]


async def _note(seen: list[str], place: str) -> None:
    seen.append(place)


async def test_findings_by_what_to_do_with_waived_last(tmp_path: Path) -> None:
    """What can't be played comes first, then what to rehearse, the rest by cause, then waived."""
    waiver = {"rule": "empty-loop", "where": "loops.2", "reason": "kept for the [fuzz]"}
    app = app_of(tmp_path, **RIG, waivers=[waiver])
    async with on_screen(app, LARGE) as pilot:
        view = await findings_list(pilot)
        titles = [row.note for row in view.grid.rows if row.note]
        assert titles == ["Can't be played (1)", "Rehearse these (1)", "The rest, by cause"]
        rules = [key.rule for key in keys_of(view) if key is not None]
        assert rules[:2] == ["memory-out-of-range", "crowded-change"]
        assert rules[-2:] == ["waived", "empty-loop"]
        await pilot.press("G")
        text = shown(app)
        assert "kept for the [fuzz]" in text
        assert "1 waived" in text
        assert "loop 2" in text


async def test_every_finding_can_be_reached() -> None:
    """With every line opened each finding has a row of its own, repeated changes too."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        view = await findings_list(pilot)
        rows = [key for key in keys_of(view) if isinstance(key, Finding)]
        assert sorted(map(id, rows)) == sorted(map(id, app.reckoning.findings))


async def test_a_cause_opens_on_demand(tmp_path: Path) -> None:
    """Findings of a rule are one line with their number; Enter shows them, and hides them again."""
    songs = [song("one", "clean", "dirt", "clean"), song("two", "dirt", "clean", "dirt")]
    app = app_of(tmp_path, **{**RIG, "songs": songs, "setlists": []})
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("4")
        await checked(pilot)
        view = report(app)
        key = CauseKey("bank-hop", "advice")
        closed = len(keys_of(view))
        view.grid.move_to(keys_of(view).index(key))
        await pilot.pause()
        assert "4 bank-hop" in shown(app)  # two to either preset
        assert "Enter shows them one by one" in shown(app)
        await pilot.press("enter")
        assert [
            finding.rule for finding in keys_of(view)[closed - 1 :] if isinstance(finding, Finding)
        ]
        assert len(keys_of(view)) == closed + 2
        assert view.key == key
        await pilot.press("enter")
        assert len(keys_of(view)) == closed


async def test_all_of_a_rule_is_waived_at_once(tmp_path: Path) -> None:
    """`w` on a cause waives it everywhere; on a finding, its song or everywhere can be chosen."""
    songs = [
        song(name, *(section(sound, bars=1) for sound in sounds))
        for name, sounds in (
            ("one", ["clean", "dirt", "clean"]),
            ("two", ["dirt", "clean", "dirt"]),
        )
    ]
    app = app_of(tmp_path, **{**RIG, "songs": songs, "setlists": []})
    async with on_screen(app, SMALL) as pilot:
        await findings_list(pilot)
        hop = await stand_on(pilot, "bank-hop")
        await pilot.press("w", *"ok", "down", "right", "enter")
        await checked(pilot)
        (waiver,) = app.document.rig.waivers
        assert (waiver.rule, waiver.where) == ("bank-hop", "songs.one")
        assert hop.where.startswith("songs.one.")
        waived = [finding.where for finding in app.reckoning.findings if finding.waived == "ok"]
        assert waived == ["songs.one.sections.1", "songs.one.sections.2"]
        view = report(app)
        view.grid.move_to(keys_of(view).index(CauseKey("bank-hop", "warning")))
        await pilot.pause()
        await pilot.press("w", *"all of it", "enter")
        await checked(pilot)
        assert app.document.rig.waivers[1].where == "rig"
        assert all(
            finding.waived for finding in app.reckoning.findings if finding.rule == "bank-hop"
        )


async def test_a_finding_in_full(tmp_path: Path) -> None:
    """Below the lists the finding under the cursor stands whole: place, message, fix, why."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await findings_list(pilot)
        finding = await stand_on(pilot, "memory-out-of-range")
        text = " ".join(" ".join(lines(app)[-10:]).split())
        assert "error: preset More memory-out-of-range" in text
        assert finding.message in text
        assert finding.why in text


async def test_a_long_finding_is_read_in_full() -> None:
    """A finding with more to say than there is room for says so, and `i` shows all of it."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        view = await findings_list(pilot)
        keys = [key for key in keys_of(view) if isinstance(key, Finding)]
        longest = max(keys, key=lambda key: len(key.message) + len(key.why))
        view.grid.move_to(keys_of(view).index(longest))
        await pilot.pause()
        assert "(i: all of it)" in shown(app)
        await pilot.press("i")
        await pilot.pause()
        text = " ".join("".join(line[5:75]).strip(" │") for line in lines(app))
        assert longest.message in " ".join(text.split())
        assert longest.why in " ".join(text.split())


async def test_enter_leads_to_the_preset_at_fault(tmp_path: Path) -> None:
    """Enter on a fault of a preset goes to its row in the matrix."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await findings_list(pilot)
        await stand_on(pilot, "memory-out-of-range")
        await pilot.press("enter")
        await pilot.pause()
        assert app.view_id == "presets"
        assert app.query_one("#matrix").cursor_row == 2


async def test_enter_leads_to_the_section_of_a_change(tmp_path: Path) -> None:
    """Enter on a change goes to the setlist screen, on the section that is entered."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("4", "tab", "tab", "enter")
        await pilot.pause()
        assert app.view_id == "setlist"
        assert "Solo (2 of 2)" in shown(app)


async def test_fault_without_a_screen_is_at_a_line(tmp_path: Path) -> None:
    """Enter on a waiver that is about nothing says in which line of the file it is."""
    waiver = {"rule": "tail-cut", "where": "songs.none", "reason": "so"}
    app = app_of(tmp_path, **RIG, waivers=[waiver])
    async with on_screen(app, SMALL) as pilot:
        await findings_list(pilot)
        await stand_on(pilot, "stale-waiver")
        await pilot.press("enter")
        await pilot.pause()
        said = [notification.message for notification in app._notifications]
        text = (tmp_path / "rig.toml").read_text()
        line = text[: text.index("[[waivers]]")].count("\n") + 1
        assert any(f"rig.toml, line {line}." in notice for notice in said)
        assert app.view_id == "report"


async def test_a_fault_of_the_board_leads_to_the_board(tmp_path: Path) -> None:
    """Enter on an empty loop goes to the Board, the cursor on that loop."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await findings_list(pilot)
        await stand_on(pilot, "empty-loop")
        await pilot.press("enter")
        await pilot.pause()
        await pilot.pause()
        assert app.view_id == "board"
        assert app.query_one(BoardView).row == BoardRow("loop", "2")


async def test_fix_is_one_step_and_the_cursor_goes_on(tmp_path: Path) -> None:
    """`f` does the fix as one undo step; the cursor goes to what came next, and undo restores."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        view = await findings_list(pilot)
        keys = [key for key in keys_of(view) if isinstance(key, Finding)]
        finding = next(key for key in keys if key.fix is not None)
        after = keys[keys.index(finding) + 1]
        view.grid.move_to(keys_of(view).index(finding))
        before = app.document.rig
        await pilot.press("f")
        await checked(pilot)
        assert app.document.rig == finding.fix.edit(before)
        assert (finding.rule, finding.where) not in {
            (f.rule, f.where) for f in app.reckoning.findings
        }
        assert (view.key.rule, view.key.where) == (after.rule, after.where)
        assert app.focused is view.grid
        await pilot.press("u")
        assert app.document.rig is before


async def test_no_fix_no_edit(tmp_path: Path) -> None:
    """`f` on a finding that has no fix, or on a song, changes nothing."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        view = await findings_list(pilot)
        keys = keys_of(view)
        view.grid.move_to(next(at for at, key in enumerate(keys) if has_fix(key) is False))
        await pilot.press("f", "tab", "f", "w")
        await pilot.pause()
        assert not app.document.dirty
        assert len(app.screen_stack) == 1


async def test_waiving_asks_the_reason(tmp_path: Path) -> None:
    """`w` asks why, writes the waiver, and a second `w` on the waived finding takes it back."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        view = await findings_list(pilot)
        finding = await stand_on(pilot, "empty-loop")
        await pilot.press("w", "enter")
        assert len(app.screen_stack) == 2, "a waiver without a reason is not taken"
        await pilot.press(*"ok", "enter")
        await checked(pilot)
        waiver = app.document.rig.waivers[0]
        assert (waiver.rule, waiver.where, waiver.reason) == ("empty-loop", finding.where, "ok")
        assert view.key.rule != "empty-loop", "the cursor stays where the work is"
        await findings_list(pilot)
        await stand_on(pilot, "empty-loop")
        await pilot.press("w")
        await checked(pilot)
        assert app.document.rig.waivers == ()
        assert all(finding.waived is None for finding in app.reckoning.findings)


async def test_nothing_is_mended_on_old_findings(tmp_path: Path) -> None:
    """Right after an edit, before the rules have run again, `f` waits rather than guesses."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        view = await findings_list(pilot)
        keys = keys_of(view)
        view.grid.move_to(next(at for at, key in enumerate(keys) if has_fix(key)))
        view._checked = None
        before = app.document.rig
        await pilot.press("f")
        await pilot.pause()
        assert app.document.rig is before


async def test_filter_by_rule(tmp_path: Path) -> None:
    """`F` narrows the findings to a rule, and says so."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        view = await findings_list(pilot)
        await pilot.press("F", *"empty", "enter")
        await pilot.pause()
        keys = [key for key in keys_of(view) if key is not None]
        assert [key.rule for key in keys] == ["empty-loop"]
        assert "only empty-loop" in shown(app)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_one_list_has_the_room_and_the_others_are_tabs(size: tuple[int, int]) -> None:
    """Each tab says how much is in its list; Tab goes to the next, in full height."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, size) as pilot:
        await pilot.press("4")
        await checked(pilot)
        bar = shown(app).splitlines()[1]
        assert bar.startswith("[Findings: ")
        assert " (28)" in bar
        assert "Busiest changes (" in bar
        assert app.view.grid.size.height >= size[1] - 14
        await burst(pilot, "tab")
        text = shown(app)
        assert "Copper Lanterns" in text
        assert "[Moves by song" in text.splitlines()[1]
        await burst(pilot, "tab")
        assert "[Busiest changes (" in shown(app).splitlines()[1]
        assert "presses" in shown(app)


async def test_clean_rig_says_so(tmp_path: Path) -> None:
    """A rig without findings, songs and setlists still has something to say."""
    app = app_of(tmp_path)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("4")
        await checked(pilot)
        assert "Nothing found" in shown(app)
        await burst(pilot, "tab")
        assert "No songs yet." in shown(app)
        await burst(pilot, "tab")
        assert "No change needs a press." in shown(app)


async def notes(pilot: Pilot[Any]) -> list[str]:
    """What was said below the views."""
    await pilot.pause()
    return [notification.message for notification in pilot.app._notifications]


async def test_keys_that_do_nothing_say_why(tmp_path: Path) -> None:
    """f where there is no fix, and f and w where there is no finding, say what would help."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        view = await findings_list(pilot)
        keys = keys_of(view)
        view.grid.move_to(next(at for at, key in enumerate(keys) if has_fix(key) is False))
        await pilot.press("f")
        assert await notes(pilot) == ["This one has no fix: Enter goes to the place"]
        await pilot.press("tab", "f")
        assert await notes(pilot) == [
            "There is nothing to fix in this list: Tab goes on to the findings"
        ]
        await pilot.press("w")
        assert await notes(pilot) == [
            "There is nothing to waive in this list: Tab goes on to the findings"
        ]
        assert not app.document.dirty


TOGGLE: dict[str, Any] = {
    "switcher": switcher(memories=4, bank_size=4),
    "pedals": [pedal("boost", name="Lift")],
    "loops": [loop(1, "boost")],
    "presets": [
        preset("clean", name="Clean", memory=1),
        preset("loud", 1, name="Loud", memory=2),
        preset("other", name="Other", memory=3, channel="drive"),
    ],
    "amp": {"channels": ["clean", "drive"], "channel_switch": "preset"},
    "songs": [song("one", "clean", "loud", "other", "loud"), song("two", "other", "clean")],
    "setlists": [setlist("gig", "one"), setlist("late", "two", "one")],
}


async def test_a_fix_that_costs_moves_asks_first(tmp_path: Path) -> None:
    """The question has what the moves become, Esc leaves the rig, y does it and says so.

    By hand: in the loop the song takes 3 presses. Outside, Other is recalled with the boost off
    and Clean with the boost on, so both changes take 2: 5 moves.
    """
    app = app_of(tmp_path, **TOGGLE)
    async with on_screen(app, SMALL) as pilot:
        await findings_list(pilot)
        finding = await stand_on(pilot, "move-outside")
        before = app.document.rig
        await pilot.press("f", "f")
        assert isinstance(app.screen, Confirm)
        assert app.screen._question == (
            "Take Lift out of loop 1? 3 moves become 5; 1 memory freed; deleted: preset Loud"
        )
        assert "Over every setlist: 7 moves become 11" in shown(app)
        await pilot.press("escape")
        assert app.document.rig is before
        await pilot.press("f", "y")
        await checked(pilot)
        assert app.document.rig == finding.fix.edit(before)
        assert "Done: take Lift out of loop 1; 3 -> 5 moves" in await notes(pilot)
        await pilot.press("u")
        assert await notes(pilot) == ["Undone: take Lift out of loop 1"]


async def test_a_fix_that_deletes_asks_first(tmp_path: Path) -> None:
    """Deleting a preset that nothing uses costs no moves, and is asked about all the same."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await findings_list(pilot)
        await stand_on(pilot, "unused-preset")
        before = app.document.rig
        await pilot.press("f")
        assert isinstance(app.screen, Confirm)
        assert app.screen._question.endswith("; deleted: preset More")
        await pilot.press("f", "enter", "escape")
        assert app.document.rig is before


async def test_a_fix_without_a_price_is_done_and_told(tmp_path: Path) -> None:
    """A fix that costs nothing is done at once, with a word of what it was and for what."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await findings_list(pilot)
        await stand_on(pilot, "memory-out-of-range")
        await pilot.press("f")
        await checked(pilot)
        said = await notes(pilot)
        assert said == ["Done: store More in memory 2; as many moves as before"]


async def test_undo_and_redo_say_one_thing_at_a_time(tmp_path: Path) -> None:
    """What undo and redo say takes the place of what they said before."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await findings_list(pilot)
        await stand_on(pilot, "memory-out-of-range")
        await pilot.press("f", "u", "r", "u")
        assert await notes(pilot) == ["Undone: store More in memory 2"]
        await pilot.press("u")
        assert await notes(pilot) == ["Nothing to undo"]


async def test_what_touches_other_setlists_stands_apart(tmp_path: Path) -> None:
    """The count below and the title leave out other songs and setlists; the list has them last."""
    songs = [song("one", "clean", title="One"), song("two", section(name="Verse"), title="Two")]
    app = app_of(
        tmp_path,
        switcher=switcher(),
        presets=[preset("clean", memory=1)],
        songs=songs,
        setlists=[setlist("a", "one", name="A"), setlist("b", "two", name="B")],
    )
    async with on_screen(app, LARGE) as pilot:
        view = await findings_list(pilot)
        last = [key for key in keys_of(view) if key is not None][-1]
        assert (last.rule, last.where) == ("unmapped", "songs.two.sections.0")
        assert "findings in other songs and setlists" in shown(app)
        assert "error" not in lines(app)[-2]
        await pilot.press("3", "n")
        await checked(pilot)
        assert "1 error" in lines(app)[-2]
        await pilot.press("4")
        await pilot.pause()
        assert "other songs" not in shown(app)
        assert "Findings: 1 error" in shown(app)


async def test_findings_say_what_is_wrong_in_eighty_columns() -> None:
    """A finding's line has song and section and what is wrong, not the setlist or a rule's code."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        view = await findings_list(pilot)
        rows = [" ".join(" ".join(row.cells[2:4]).split()) for row in view.grid.rows]
        place = "Rumour at the Pier, 8 Solo"
        view.grid.move_to(next(at for at, row in enumerate(rows) if row.startswith(place)))
        await pilot.pause()
        assert f" !      {place} takes 2 moves on the beat, switch 1 (Solo)…" in {
            line.rstrip() for line in lines(app)
        }
        assert any(row.startswith("song 5 (Brass Mittens), F… Half a Moon → Br") for row in rows)
        assert any(
            row.startswith("pedal Digital delay Taking Digital delay out of") for row in rows
        )
        assert "preset Rock Wide No section uses Rock Wide" in rows
        assert not any("boathouse" in row for row in rows)
        await pilot.pause()
        assert "late-change" not in "\n".join(lines(app)[1:12])
