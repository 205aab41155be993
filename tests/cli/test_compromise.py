"""`rigtui plan compromise`: a table, a rig in a new file, and all of it taken back."""

from __future__ import annotations

import json
from pathlib import Path

from cli.conftest import Run

from rigtui.model.edits.wanted import give_back
from rigtui.moves import count_setlist
from rigtui.store.load import load

DEMO = str(Path(__file__).parents[2] / "rigs" / "quay-street.toml")


def test_the_table_has_a_line_for_each_point_and_says_what_it_asks(run: Run) -> None:
    """Every sound kept comes first; what is given up stands in sentences with its sections."""
    done = run("plan", "compromise", DEMO)
    assert (done.status, done.err) == (0, "")
    assert "1         0      0      0      13     10     307     337" in done.out
    assert "Leave Wide chorus off in 15 sections of 8 songs: Paper Harbour (sections 3" in done.out
    assert "Store Stack in memory 8" in done.out
    assert max(map(len, done.out.splitlines())) <= 80


def test_the_json_has_the_same_points(run: Run) -> None:
    """One object; each point has its figures and its sections."""
    data = json.loads(run("plan", "compromise", DEMO, "--json", "--at-most", "16").out)
    assert data["kind"] == "compromise"
    assert data["proved"] is True
    taken = next(point for point in data["points"] if point["step"] == data["taken"])
    assert (taken["sections"], taken["unplayable"], taken["extra_presses"]) == (16, 0, 6)
    assert {each["left_off"][0] for each in taken["compromises"]} == {"chorus", "wah"}
    assert data["points"][0]["extra_presses"] == 10
    assert data["steps"][-1] == {"price": 244.0, "unplayable": 0, "extra_presses": 0}


def test_a_point_is_written_and_taken_back(run: Run, tmp_path: Path) -> None:
    """The new file has the figures that were told, and --undo gives the sounds back."""
    new, old = tmp_path / "new.toml", tmp_path / "old.toml"
    told = json.loads(
        run("plan", "compromise", DEMO, "--at-most", "16", "--json", "--write", str(new)).out
    )
    point = next(point for point in told["points"] if point["step"] == told["taken"])
    rig = load(new)[1]
    counts = [count_setlist(rig, row) for row in rig.setlists]
    assert sum(count.moves for count in counts) == point["moves"]
    assert sum(count.extra_presses for count in counts) == point["extra_presses"]
    assert sum(count.unplayable for count in counts) == point["unplayable"] == 0
    done = run("plan", "compromise", str(new), "--undo", "--write", str(old))
    assert done.status == 0
    assert "Own sound again in 16 sections" in done.out
    assert load(old)[1].songs == load(Path(DEMO))[1].songs == give_back(rig).songs
    assert "already has its own sound" in run("plan", "compromise", str(old), "--undo").out


def test_what_is_mistyped_is_said_in_one_line_each(run: Run, tmp_path: Path) -> None:
    """Nothing is worked out, and nothing written."""
    new = str(tmp_path / "new.toml")
    for words, said in (
        (("--write", new), "--write needs --at-most SECTIONS"),
        (("--at-most", "-3"), 'sections must be 0 to 100000, not "-3"'),
        (("--undo", "--at-most", "3"), "--undo gives all sounds back"),
        (("--keep", "sol"), 'there is no preset "sol" to keep'),
        (("--setlist", "x"), "setlist"),
    ):
        done = run("plan", "compromise", DEMO, *words)
        assert (done.status, done.out) == (2, "")
        assert said in done.err
    assert not Path(new).exists()
    assert "comes first" in run("plan", "--json", "compromise", DEMO).err


def test_the_time_limit_is_kept(run: Run) -> None:
    """With no time there is no table, and what would help is said; a limit must be a number."""
    done = run("plan", "compromise", DEMO, "--seconds", "0.000001")
    assert (done.status, done.out) == (2, "")
    assert (
        "time ran out before there was an answer: name one setlist, or allow more time" in done.err
    )
    done = run("plan", "compromise", DEMO, "--seconds", "soon")
    assert '"soon" must be more than 0' in done.err
