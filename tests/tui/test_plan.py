"""The plan view: a planner beside the screen, its plan looked at, accepted or not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from patience import PATIENCE_SECONDS
from screens import DEMOS, LARGE, SMALL, app_of, app_on, checked, lines, on_screen, shown, until
from textual.widgets import Static
from tui.plan_screen import (
    RIG,
    Fake,
    planned,
    rig_data_with,
    rig_of,
    switches,
    view_of,
)
from tui.test_hostile import EVIL, harmful

from rigtui.model.edits import set_preset
from rigtui.moves import count_setlist
from rigtui.plan.answer import plan
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Clashing, Conflict, Relaxation, Status
from rigtui.plan.ask.result import Plan as Result
from rigtui.tui.worker_process import WorkerProcess


def head(app: object) -> str:
    """The lines that say how it stands."""
    said = app.query_one("#plan-head", Static).content  # type: ignore[attr-defined]
    return " ".join(str(said).split())


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_plan_is_looked_at_before_it_is_accepted(
    tmp_path: Path, fake: Fake, size: tuple[int, int]
) -> None:
    """A plan is shown with its moves and its proof; the rig changes on y alone, as one step."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, size) as pilot:
        await pilot.press("5")
        before = rig_of(app)
        made = switches(before)
        await planned(app, pilot, fake, made)
        assert "inside songs 7 → 5" in head(app)
        assert "Proof proved" in head(app)
        assert "y accepts" in head(app)
        assert rig_of(app) is before
        assert app.document is not None
        assert not app.document.dirty
        await pilot.press("y")
        await checked(pilot)
        assert rig_of(app) == made.rig
        assert [label for label, _ in app.document.history.past] == ["plan switches"]
        assert "Accepted" in head(app)
        assert "5 moves" in lines(app)[-2]
        await pilot.press("u")
        assert rig_of(app) is before
        assert "y accepts" in head(app)


async def test_now_and_then_songs_and_steps(tmp_path: Path, fake: Fake) -> None:
    """The lists show memories now and then, the moves of each song, and what to re-program."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("5")
        made = switches(rig_of(app))
        await planned(app, pilot, fake, made)
        text = shown(app)
        assert made.rig is not None
        for old, new in zip(rig_of(app).presets, made.rig.presets):
            moved = f"{old.memory}→{new.memory}"
            assert (moved in text) == (old.memory != new.memory)
        low = next(line for line in lines(app) if "Low Fen" in line)
        assert low.split()[-5:-1] == ["1x", "6", "3", "0"]
        assert low.rstrip().endswith("███░░░")
        for step in made.steps:
            assert step.split(":")[0] in text


async def test_small_screen_goes_to_what_comes_out(tmp_path: Path, fake: Fake) -> None:
    """Where one list has room, p goes to the outcome, and tab through all four lists and round."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        assert "[Options]" in shown(app)
        await planned(app, pilot, fake, switches(rig_of(app)))
        for title in ("[Now and planned]", "[To do and why]", "[Songs]", "[Options]"):
            assert title in shown(app)
            await pilot.press("tab")
            await pilot.pause()


async def test_progress_is_shown_and_stopping_keeps_the_best(tmp_path: Path, fake: Fake) -> None:
    """While it runs, best and bound are shown; c ends it, and the best so far is not "proved"."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        rig = rig_of(app)
        best = Result(
            "switches", Status.TIMED_OUT, Figures(7, 0, 2, 1), rig, Figures(7, 0, 2, 1), 4
        )
        fake("when-stopped", best)
        await pilot.press("p")
        await until(pilot, lambda: view_of(app).runs.progress)
        assert "25 % placing the presets" in head(app)
        assert "Best so far 9 moves; no plan needs fewer than 4" in head(app)
        await pilot.press("c")
        assert "Stopping" in head(app) or not view_of(app).runs.running
        await until(pilot, lambda: not view_of(app).runs.running)
        assert "stopped early, not proved" in head(app)
        assert "no plan needs fewer presses than 4" in head(app)


def killed(process: WorkerProcess) -> bool:
    """Whether a process ends soon, and not in good order."""
    return process.wait(PATIENCE_SECONDS) and process.status != 0


async def test_planner_that_does_not_stop_is_killed(tmp_path: Path, fake: Fake) -> None:
    """A second c ends a planner that does not hear, and the screen says that there is no plan."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        fake("deaf", switches(rig_of(app)))
        await pilot.press("p")
        await until(pilot, lambda: view_of(app).runs.progress)
        planner = view_of(app).runs.planner
        assert planner is not None
        process = planner._process
        assert process is not None
        await pilot.press("c", "c")
        await until(pilot, lambda: not view_of(app).runs.running)
        assert killed(process)
        assert "No plan" in head(app)


async def test_leaving_kills_the_planner(tmp_path: Path, fake: Fake) -> None:
    """No planner outlives the screen that started it."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        fake("deaf", switches(rig_of(app)))
        await pilot.press("p")
        await until(pilot, lambda: view_of(app).runs.progress)
        planner = view_of(app).runs.planner
        assert planner is not None
        process = planner._process
        assert process is not None
        assert process.status is None
        await pilot.press("q")
    assert killed(process)


async def test_starting_again_gives_the_first_up(tmp_path: Path, fake: Fake) -> None:
    """p while the planner runs starts it anew, and only the second one's plan is taken."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        fake("deaf", switches(rig_of(app)))
        await pilot.press("p")
        await until(pilot, lambda: view_of(app).runs.progress)
        first = view_of(app).runs.planner
        assert first is not None
        await planned(app, pilot, fake, switches(rig_of(app)))
        assert first._process is not None
        assert killed(first._process)
        assert not view_of(app).runs.running


async def test_plan_of_another_rig_is_not_applied(tmp_path: Path, fake: Fake) -> None:
    """After an edit the old plan no longer fits: y says so and offers to plan again."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await planned(app, pilot, fake, switches(rig_of(app)))
        await pilot.press("2", "d", "5")
        await pilot.pause()
        edited = rig_of(app)
        assert "The rig has changed since" in head(app)
        await pilot.press("y")
        await pilot.pause()
        assert "plan again, for the rig as it is now" in shown(app)
        fake("at-once", switches(edited))
        await pilot.press("p")
        await until(pilot, lambda: view_of(app).runs.rig is edited)
        assert rig_of(app) is edited
        await pilot.press("y")
        await pilot.pause()
        assert rig_of(app) == switches(edited).rig


async def test_an_edit_while_the_question_stands_refuses_the_plan(
    tmp_path: Path, fake: Fake
) -> None:
    """A plan that is accepted after the rig has become another one changes nothing, and says so."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await planned(app, pilot, fake, switches(rig_of(app)))
        view = view_of(app)
        plan, rig = view.runs.plan, view.runs.rig
        assert plan is not None
        assert plan.rig is not None
        assert rig is not None
        app.apply("rename", lambda now: set_preset(now, "clean", name="Warm"))
        edited = rig_of(app)
        view._accepting._do(rig, plan.rig, plan.kind)
        await pilot.pause()
        assert rig_of(app) is edited
        said = [note.message for note in app._notifications]
        assert any("the rig has changed since this plan was made" in text for text in said)


async def test_broken_planner_is_told(tmp_path: Path, fake: Fake) -> None:
    """A planner that breaks off is said to have, and the screen goes on."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        fake("broken", switches(rig_of(app)))
        await pilot.press("p")
        await until(pilot, lambda: view_of(app).runs.fault)
        assert "stopped (exit status 3)" in head(app)
        assert not view_of(app).runs.running


async def test_planner_that_cannot_be_started(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the process cannot be started the screen says why."""
    monkeypatch.setattr("rigtui.tui.planner.COMMAND", (str(tmp_path / "nothing-there"),))
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5", "p")
        await until(pilot, lambda: view_of(app).runs.fault)
        assert "couldn't start: No such file" in head(app)


async def test_rows_lead_to_their_places(tmp_path: Path, fake: Fake) -> None:
    """Enter on a preset of the outcome goes to it; enter on a song goes to the song."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await planned(app, pilot, fake, switches(rig_of(app)))
        await pilot.press("G", "enter")
        await pilot.pause()
        assert app.view_id == "presets"
        await pilot.press("5", "tab", "tab", "enter")
        await pilot.pause()
        assert app.view_id == "setlist"


async def test_no_plan_can_do_it(tmp_path: Path, fake: Fake) -> None:
    """The reason, the places that clash and what would do are shown; there is nothing to accept."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        conflict = Conflict(
            "these sections want three presets",
            (
                Clashing("Clean", "channel clean", ("songs.low.sections.0",)),
                Clashing("Lead", "channel drive", ("songs.low.sections.1",)),
            ),
            (
                Relaxation("3 memories instead of 2", {"memories": 3}),
                Relaxation("let Wah stay outside the loops", {"pins": {"delay": "in"}}),
            ),
        )
        await planned(
            app,
            pilot,
            fake,
            Result("loops", Status.INFEASIBLE, Figures(7, 0, 2, 1), conflict=conflict),
        )
        before = rig_of(app)
        text = shown(app)
        assert "No plan can do that" in head(app)
        assert "These sections want three presets." in text
        assert text.count("Low Fen, section 1") == 1
        assert "Any one of these makes it work" in text
        assert "3 memories instead of 2" in text
        await pilot.press("y")
        await pilot.pause()
        assert rig_of(app) is before


async def test_way_out_goes_into_the_options(tmp_path: Path) -> None:
    """Enter on a change that would do puts it into the options, and with them there is a plan."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        view = view_of(app)
        asked = Question(
            "loops", pins={"drive": "in", "chorus": "in"}, apart=(("drive", "chorus"),),
            loops={"front": 1, "fx": 0},
        )  # fmt: skip
        view.question = asked
        await pilot.press("p")
        await until(pilot, lambda: view.runs.plan)
        ways = view.runs.plan.conflict.relaxations
        texts = [way.text for way in ways]
        assert texts == [
            "2 front loops instead of 1",
            "let Drive stay outside the loops",
            "let Chorus stay outside the loops",
        ]
        rows = [line.strip() for line in lines(app)]
        at = next(nth for nth, line in enumerate(rows) if line.startswith("3 let Chorus"))
        first = next(nth for nth, line in enumerate(rows) if line.startswith("No plan can"))
        await pilot.press(*["down"] * (at - first), "enter")
        await pilot.pause()
        assert view.pane == "options"
        assert view.question == replace(asked, pins={"drive": "in"})
        assert "You've changed the options since (pedals in or out): p plans again." in head(app)
        await pilot.press("p")
        await until(pilot, lambda: view.runs.plan and view.runs.plan.rig)
        assert view.runs.plan.conflict is None


async def test_long_reason_can_be_read() -> None:
    """Thirteen sounds that clash are all on the list, no line longer than the screen is wide."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        view = view_of(app)
        pins = dict.fromkeys(("wah", "low-drive", "chorus", "delay"), "in")
        view.question = Question("loops", pins=pins, memories=5)
        await pilot.press("p")
        await until(pilot, lambda: view.runs.plan)
        said = view.runs.plan.conflict
        assert len(said.sounds) == 13
        seen: set[str] = set()
        for _ in range(8):
            seen.update(line.strip() for line in lines(app))
            await pilot.press("pagedown")
        text = " ".join(seen)
        for sound in said.sounds:
            assert sound.name in text
        assert any("enter adds it to your options" in line for line in seen)
        assert any(line.startswith("1 let") for line in seen)


async def test_option_that_makes_no_sense_is_told_whole() -> None:
    """What is wrong with an option can be read to its end on a small screen."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        view = view_of(app)
        view.question = Question("loops", pins={"tuner": "in"})
        await pilot.press("p")
        await until(pilot, lambda: view.runs.fault)
        text = " ".join(line.strip() for line in lines(app))
        assert (
            "No plan: Strobe tuner is used only between songs, so it can't go into a loop: let "
            'it stay outside, or give it use = "foot" in the rig'
        ) in text


async def test_curve_is_looked_at(tmp_path: Path) -> None:
    """What would it buy: a row for each switcher, with moves, bar and bound; nothing to accept."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5", "enter", *"would", "enter", "p")
        await until(pilot, lambda: view_of(app).runs.plan and not view_of(app).runs.running)
        rows = [line.split() for line in lines(app)]
        made = view_of(app).runs.plan
        assert made is not None
        curve = made.details["curves"][0]
        assert [point["value"] for point in curve["points"]] == [0, 1, 2]
        assert "[Curve]" in shown(app)
        own = curve["points"][2]
        figures = [str(own[key]) for key in ("extra_presses", "moves", "effort")]
        assert ["*", "now", "2", *figures] in [row[:6] for row in rows]
        assert "Nothing to accept" in head(app)
        before = rig_of(app)
        await pilot.press("y")
        await pilot.pause()
        assert rig_of(app) is before


async def test_names_are_text(tmp_path: Path, fake: Fake) -> None:
    """Names that try to be markup, links or terminal commands are shown literally on all lists."""
    parts = rig_data_with(EVIL)
    app = app_of(tmp_path, **parts)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        for kind in ("switches", "loops", "route"):
            fake("at-once", plan(rig_of(app), Question(kind, ("night",))))
            await pilot.press("p")
            await until(pilot, lambda: not view_of(app).runs.running)
            for _ in range(4):
                assert harmful(app) == []
                await pilot.press("tab")
                await pilot.pause()
        assert "[/] [@click=app.quit]x[/]" in shown(app)
        await pilot.press("y")
        await pilot.pause()
        assert app.is_running


async def test_real_planner_from_end_to_end(tmp_path: Path) -> None:
    """The real planner, as a process, betters a rig; accepted, the totals are those it promised."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5", "p")
        await until(pilot, lambda: not view_of(app).runs.running)
        made = view_of(app).runs.plan
        assert made is not None
        assert made.after is not None
        assert made.after.effort < made.before.effort
        await until(pilot, lambda: view_of(app).runs.why)
        await pilot.press("tab", "G")
        await pilot.pause()
        assert "What the worst changes cost" in shown(app)
        await pilot.press("y")
        await checked(pilot)
        rig = rig_of(app)
        counts = [count_setlist(rig, setlist).moves for setlist in rig.setlists]
        assert sum(counts) == made.after.moves
        assert f"{counts[0]} moves" in lines(app)[-2]


async def test_real_planner_on_a_demo(tmp_path: Path) -> None:
    """A demo rig goes through the real planner without an edit being made."""
    app = app_on(DEMOS / "first-rig.toml")
    async with on_screen(app, LARGE) as pilot:
        before = rig_of(app)
        await pilot.press("5", "p")
        await until(pilot, lambda: not view_of(app).runs.running)
        assert view_of(app).runs.fault == ""
        assert "inside songs 16, between 3, in all 19, as today" in head(app)
        assert rig_of(app) is before
