"""Beside a plan that has much to learn stands what does as well with far less, if anything does."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli.conftest import Run

from rigtui.advice.giving_up import smaller

DEMO = str(Path(__file__).parents[2] / "rigs" / "quay-street.toml")
ASKED = ("plan", "loops", DEMO, "--seconds", "5")


def test_the_demo_can_be_played_with_far_less_to_learn(run: Run) -> None:
    """The figures are those of the point that plan compromise takes; the text stays short."""
    text = run(*ASKED).out
    assert "Or touch 15 sections, not 73: leave Wide chorus off in 15 sections" in text
    assert len(text.splitlines()) < 60
    told = json.loads(run(*ASKED, "--json").out)["smaller"]
    known = json.loads(run("plan", "compromise", DEMO, "--at-most", "15", "--json").out)
    point = next(row for row in known["points"] if row["step"] == known["taken"])
    names = ("sections", "unplayable", "extra_presses", "moves")
    assert [told[name] for name in names] == [point[name] for name in names] == [15, 0, 10, 321]


@pytest.mark.parametrize(("limit", "value"), [("MANY", 74), ("_TIMES", 5)])
def test_nothing_is_said_where_little_is_to_be_learned_or_little_saved(
    run: Run, monkeypatch: pytest.MonkeyPatch, limit: str, value: int
) -> None:
    """73 sections are not many then, or 15 not far fewer."""
    monkeypatch.setattr(smaller, limit, value)
    assert json.loads(run(*ASKED, "--json").out)["smaller"] is None


def test_another_switcher_or_kind_of_plan_has_none(run: Run) -> None:
    """The board as it is would be no answer to that."""
    assert json.loads(run(*ASKED, "--memories", "10", "--json").out)["smaller"] is None
    assert json.loads(run("plan", "route", DEMO, "--json").out)["smaller"] is None
