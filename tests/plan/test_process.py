"""The planner as a process: one question in, progress and a result out, stopped when told."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from typing import Any

import pytest
from plan.test_loops import board
from rigs_made import make_data

from rigtui.model import rig_from_data, rig_to_data
from rigtui.moves import count_song
from rigtui.plan.__main__ import serve


def ask(question: Any) -> tuple[int, list[dict[str, Any]]]:
    """Ask in this process; return the status and the lines."""
    out = io.StringIO()
    text = question if isinstance(question, str) else json.dumps(question)
    status = serve(io.StringIO(text + "\n"), out, listen=lambda lines, stop: None)
    return status, [json.loads(line) for line in out.getvalue().splitlines()]


@pytest.mark.parametrize("plan", ["loops", "switches", "route", "all"])
def test_plans(plan: str) -> None:
    """The result's rig is a valid rig whose count is the moves promised."""
    status, lines = ask({"plan": plan, "rig": rig_to_data(board())})
    result = lines[-1]["result"]
    rig = rig_from_data(result["rig"])
    assert status == 0
    assert result["moves_after"] == sum(count_song(rig, one).moves for one in rig.songs)
    assert result["lower_bound"] <= result["moves_after"]
    assert all("progress" in line for line in lines[:-1])
    if plan in ("loops", "all"):
        assert {"loops", "outside", "always_on", "presets", "proved", "worst_change"} <= set(result)


def test_curve_and_explain() -> None:
    """Curves and explanations come as plain data too."""
    _, lines = ask({"plan": "curve", "rig": rig_to_data(board()), "over": "loops", "values": [2]})
    assert lines[-1]["result"]["points"][0]["value"] == 2
    _, lines = ask({"plan": "explain", "rig": rig_to_data(board())})
    assert lines[-1]["result"]["pedals"][0]["pedal"] == "comp"


@pytest.mark.parametrize(
    ("question", "message"),
    [
        ("{", "the question is no JSON"),
        ("[1]", "the question must be one JSON object on one line"),
        ({"plan": "lops"}, "plan must be one of loops, switches"),
        ({"plan": "loops", "rig": make_data(presets=[{}])}, "presets.0.id: is missing"),
        ({"plan": "loops", "rig": make_data(), "setlists": "x"}, "setlists must be a list of ids"),
        ({"plan": "loops", "rig": make_data(), "wishes": {"pinin": []}}, "did you mean pin_in"),
        ({"plan": "loops", "rig": make_data(), "wishes": {"pin_in": "x"}}, "list of names"),
        ({"plan": "switches", "rig": make_data(), "wishes": {"copies": -1}}, "0 to 128, not -1"),
        ({"plan": "switches", "rig": make_data(), "wishes": {"pins": {"a": "b"}}}, "whole number"),
        ({"plan": "loops", "rig": make_data(), "seconds": 0}, "seconds must be a number above 0"),
    ],
)
def test_bad_questions(question: Any, message: str) -> None:
    """A bad question gets one error line and status 2."""
    status, lines = ask(question)
    assert status == 2
    assert len(lines) == 1
    assert message in lines[0]["error"]


def test_a_process_of_its_own_is_stopped() -> None:
    """A planner told to stop at once ends with a result, not with an error."""
    process = subprocess.Popen(
        [sys.executable, "-m", "rigtui.plan"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    question = json.dumps({"plan": "all", "rig": rig_to_data(board())})
    out, _ = process.communicate(question + '\n{"stop": true}\n', timeout=60)
    assert process.returncode == 0
    assert "result" in json.loads(out.splitlines()[-1])


def test_nothing_else_waits_for_numpy() -> None:
    """Importing the program, its commands and the plan package's names loads no numpy."""
    code = (
        "import sys, rigtui.plan, rigtui.cli, rigtui.model.validate, rigtui.moves;"
        "rigtui.plan.PlanError; rigtui.plan.plan_route; rigtui.plan.LoopWishes;"
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
