"""A planner for the screens that answers as it is told."""

from __future__ import annotations

import gc
import sys
from pathlib import Path
from typing import Any

import pytest
from patience import PATIENCE_SECONDS
from textual.app import App
from tui.plan_screen import Fake

from rigtui.advice.__main__ import answer_line
from rigtui.model.lines import read_line
from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Progress
from rigtui.plan.ask.result import Plan
from rigtui.plan.wire import plan_line, progress_line

_SCRIPT = Path(__file__).with_name("fake_planner.py")
_SAYS = Progress("placing the presets", 0.25, 9, 4)


@pytest.fixture(autouse=True)
def no_haste(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a machine that is busy, notices stay until they are read, and each key keeps its turn."""
    notify = App.notify

    def notified(app: App[Any], message: str, **more: Any) -> None:
        notify(app, message, **{**more, "timeout": PATIENCE_SECONDS})

    monkeypatch.setattr(App, "notify", notified)
    monkeypatch.setattr("rigtui.tui.key_order._MOST_SECONDS", PATIENCE_SECONDS)


@pytest.fixture(autouse=True)
def nobody_looks_for_garbage(monkeypatch: pytest.MonkeyPatch) -> None:
    """All tests hold far more than a program does; to go through it took a quarter of each test."""
    monkeypatch.setattr("rigtui.tui.idle_garbage.IdleGarbage.clear", lambda _: gc.freeze())


@pytest.fixture(autouse=True)
def planner_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    """No planner starts before p is pressed."""
    monkeypatch.setattr("rigtui.tui.views.plan.view.PlanView.starts_by_itself", False)


@pytest.fixture(autouse=True)
def adviser_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    """No adviser starts by itself."""
    monkeypatch.setattr("rigtui.tui.views.report.first.FirstSteps.starts", False)
    monkeypatch.setattr("rigtui.tui.sheet_preview.SheetPreview.starts", False)


@pytest.fixture
def adviser_starts(adviser_waits: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """What to do first is tried beside the screen, as it is for players."""
    monkeypatch.setattr("rigtui.tui.views.report.first.FirstSteps.starts", True)
    monkeypatch.setattr("rigtui.tui.sheet_preview.SheetPreview.starts", True)


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, Any]]:
    """The adviser's work is done in this process; gives what it was asked."""
    tasks: list[dict[str, Any]] = []

    async def answer(adviser: Any) -> Any:
        task = read_line(adviser._task())
        tasks.append(task)
        return adviser._made_of(answer_line(task))

    monkeypatch.setattr("rigtui.tui.adviser.Adviser.answer", answer)
    return tasks


@pytest.fixture
def planner_starts(planner_waits: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """A planner starts when the view is opened for the first time, as it does for players."""
    monkeypatch.setattr("rigtui.tui.views.plan.view.PlanView.starts_by_itself", True)


@pytest.fixture
def fake(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Fake:
    """Have the planner say some progress, then a plan, in one of the ways of fake_planner.py."""

    def set_up(how: str, made: Plan) -> None:
        lines = tmp_path / "lines"
        said = progress_line(_SAYS) + plan_line(made, Rig.model_construct())
        lines.write_text(said, encoding="ascii")
        command = (sys.executable, "-S", "-E", str(_SCRIPT), how, str(lines))
        monkeypatch.setattr("rigtui.tui.planner.COMMAND", command)
        monkeypatch.setattr("rigtui.tui.planner._PATIENCE_SECONDS", PATIENCE_SECONDS)

    return set_up
