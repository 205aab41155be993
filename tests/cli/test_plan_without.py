"""A plan for a night without a pedal: all of it is as if the pedal were not there."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli.conftest import Run
from cli.test_plan import as_json, moves_of, wasteful
from screens import DEMOS

from rigtui.model.edits import delete_pedal
from rigtui.store.load import load
from rigtui.store.save import save_new


def test_sounds_that_differed_in_the_dead_pedal_alone_become_one(run: Run, tmp_path: Path) -> None:
    """Both is dirt with the chorus. Without it, Low Fen can have Both for dirt: one bank.

    By hand: three changes of two presses and one of one are 7; four of one are 4.
    """
    rig = wasteful(tmp_path)
    asked = ("plan", "route", rig, "--setlist", "friday", "--without", "chorus")
    planned = as_json(run(*asked, "--json"))
    assert (planned["moves_before"], planned["moves_after"], planned["proved"]) == (7, 4, True)
    assert planned["without"] == ["chorus"]
    done = run(*asked)
    assert "\n1 section of 1 song loses Chorus\n" in done.out
    assert as_json(run(*asked[:5], "--json"))["without"] == []


def test_what_is_written_has_no_such_pedal_and_the_moves_promised(run: Run, tmp_path: Path) -> None:
    """The file that was read keeps it; the report counts of the new one what was promised."""
    rig, new = wasteful(tmp_path), tmp_path / "tonight.toml"
    asked = ("plan", "route", rig, "--without", "chorus", "--write", new, "--json")
    planned = as_json(run(*asked))
    assert moves_of(run, new, ["friday", "sunday"])[0] == planned["moves_after"]
    assert [pedal.id for pedal in load(new)[1].pedals] == ["drive"]
    assert [pedal.id for pedal in load(rig)[1].pedals] == ["drive", "chorus"]


def test_several_pedals_and_one_that_no_section_uses(run: Run, tmp_path: Path) -> None:
    """Each loss is a line; where nothing is lost, that is said."""
    rig = wasteful(tmp_path)
    asked = ("plan", "route", rig)
    done = run(*asked, "--without", "chorus", "--without", "drive")
    assert "loses Chorus" in done.out
    assert "3 sections of 2 songs lose Drive" in done.out
    spare = tmp_path / "spare.toml"
    text = rig.read_text(encoding="utf-8")
    spare.write_text(
        f'{text}\n[[pedals]]\nid = "fuzz"\nkind = "fuzz"\nside = "front"\nuse = "home"\n', "utf-8"
    )
    assert "\nNo section uses fuzz\n" in run("plan", "route", spare, "--without", "fuzz").out


@pytest.mark.parametrize("kind", [("route",), ("compromise",)], ids=" ".join)
def test_a_pedal_that_there_is_not_is_refused(
    run: Run, tmp_path: Path, kind: tuple[str, ...]
) -> None:
    """With the nearest one, and nothing is planned."""
    done = run("plan", *kind, wasteful(tmp_path), "--without", "corus")
    assert (done.status, done.out) == (2, "")
    assert 'there is no pedal "corus": did you mean "chorus"?' in done.err


def test_what_to_give_up_is_asked_of_the_rig_that_is_left(run: Run, tmp_path: Path) -> None:
    """The demo without its delay needs fewer memories: 5 sections can't be played, not 13."""
    demo = DEMOS / "quay-street.toml"
    answer = as_json(run("plan", "compromise", demo, "--without", "delay", "--json"))
    assert answer["without"] == ["delay"]
    assert answer["points"][0]["unplayable"] == 5
    done = run("plan", "compromise", demo, "--without", "delay")
    assert "\n57 sections of 21 songs lose Digital delay\n" in done.out
    undo = run("plan", "compromise", demo, "--undo", "--without", "delay")
    assert (undo.status, undo.out) == (2, "")


def test_the_rig_that_is_left_is_the_one_with_the_pedal_deleted(run: Run, tmp_path: Path) -> None:
    """On the demo, each figure is that of a file in which somebody deleted the pedal."""
    source, rig = load(DEMOS / "quay-street.toml")
    path = tmp_path / "deleted.toml"
    save_new(delete_pedal(rig, "delay"), path, source)
    left = as_json(run("plan", "route", path, "--json"))
    without = as_json(run("plan", "route", source.path, "--without", "delay", "--json"))
    assert left | {"without": ["delay"]} == without
