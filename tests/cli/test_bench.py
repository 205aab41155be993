"""`rigtui leads` and `rigtui cuts`: figures counted by hand, and the same in text, JSON and CSV."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from cli.conftest import Run
from rigs_made import loop, make_data, pedal, preset, switcher
from screens import DEMOS

from rigtui.store.toml_write import dump


@pytest.fixture
def board(tmp_path: Path) -> Path:
    """A drive in a loop: four leads on the board, three of them with a length.

    By hand: the send's is taped, 220 + 30 of slack = 250 mm; the return's is set, 300 mm. Cut off
    a reel of 600 mm with 10 mm trimmed: 590 - 550 = 40 mm left, less than the 150 worth keeping.
    Waste is 10 + 40 = 50 mm, and no other plan begins less cable.
    """
    leads = [
        {"out": "Switcher send 1", "into": "drive in", "route_mm": 220, "tip": "closed",
         "sleeve": "closed", "across": "open"},
        {"out": "drive out", "into": "Switcher return 1", "length_mm": 300, "tip": "open"},
    ]  # fmt: skip
    data = make_data(
        switcher=switcher(4, 4), pedals=[pedal("drive", name="[b]Drive")],
        loops=[loop(1, "drive")], chain={"front": [1]}, presets=[preset("clean", memory=1)],
        reels=[{"name": "=1+1", "left_mm": 600}], patch_leads=leads,
        plugs=[{"shape": "flat", "have": 1}],
    )  # fmt: skip
    path = tmp_path / "rig.toml"
    path.write_text(dump(data), encoding="utf-8")
    return path


def test_leads_have_the_lengths_counted_by_hand(run: Run, board: Path) -> None:
    """Tape with slack, and set by hand; whether each passed its test."""
    told = {row["out"]: row for row in json.loads(run("leads", board, "--json").out)["leads"]}
    send, back = told["Switcher send 1"], told["drive out"]
    assert (send["length_mm"], send["known_by"], send["test"]) == (250, "tape", "passed")
    assert (back["length_mm"], back["known_by"], back["test"]) == (300, "hand", "failed")
    done = run("leads", board)
    assert (done.status, done.err) == (0, "")
    assert "Switcher send 1 to [b]Drive in" in done.out
    assert "250 mm (by tape)" in done.out
    assert "300 mm (set by hand); flat right-angle to narrow right-angle; FAILED" in done.out


def test_cuts_waste_what_was_counted_by_hand(run: Run, board: Path) -> None:
    """One reel, two leads, 50 mm of waste, and it is proved."""
    told = json.loads(run("cuts", board, "--json").out)
    (cut,) = told["cuts"]
    assert [piece["length_mm"] for piece in cut["pieces"]] == [300, 250]
    assert (cut["rest_mm"], cut["kept"], told["missing"]) == (40, False, [])
    assert (told["waste_mm"], told["bound_mm"], told["proved"]) == (50, 50, True)
    text = run("cuts", board).out
    assert "Waste 50 mm, the least possible." in text
    assert "rest 40 mm, waste" in text
    assert max(map(len, text.splitlines())) <= 80


def test_plugs_and_minutes_are_those_of_the_batch(run: Run, board: Path) -> None:
    """Two leads with a flat and a narrow plug each: 2 and a spare, less the flat one at hand.

    At the usual pace a lead takes 0.5 + 2 x (1 + 2) + 1 = 7.5 minutes.
    """
    told = json.loads(run("cuts", board, "--json").out)
    assert told["plugs_to_buy"] == {"flat": 2, "narrow": 3}
    assert told["minutes"] == 15


def test_the_step_people_forget_comes_before_solder(run: Run, board: Path) -> None:
    """Barrels go on first, and the caution stands with the work."""
    text = " ".join(run("cuts", board).out.split())
    assert text.index("Slide barrel, sleeve and heat-shrink") < text.index("Tin and solder tip")
    assert "do not breathe the fumes" in text
    assert "licensed technician" in text


def test_csv_is_read_by_another_library(run: Run, board: Path, tmp_path: Path) -> None:
    """Python's own csv module reads what -o wrote; a name is no formula in a spreadsheet."""
    out = tmp_path / "cuts.csv"
    assert run("cuts", board, "--csv", "-o", out).status == 0
    rows = list(csv.DictReader(io.StringIO(out.read_text(encoding="utf-8"))))
    assert [(row["from"], float(row["length_mm"])) for row in rows] == [
        ("'=1+1", 300), ("'=1+1", 250),
    ]  # fmt: skip
    leads = list(csv.DictReader(io.StringIO(run("leads", board, "--csv").out)))
    assert [row["test"] for row in leads] == ["passed", "failed"]


def test_labels_for_both_ends(run: Run, board: Path, tmp_path: Path) -> None:
    """A line an end, each with the lead's number; the same as JSON and CSV."""
    told = run("leads", board, "--labels").out.splitlines()
    assert told[0].startswith("Labels: 4")
    assert told[1:3] == ["2 Switcher send 1", "2 [b]Drive in"]
    data = json.loads(run("leads", board, "--labels", "--json").out)["labels"]
    assert data[0] == {"lead": 2, "label": "2 Switcher send 1"}
    rows = list(csv.DictReader(io.StringIO(run("leads", board, "--labels", "--csv").out)))
    assert [row["label"] for row in rows] == told[1:]


def test_the_board_from_above(run: Run, board: Path, tmp_path: Path) -> None:
    """In characters and as SVG; without a place it says what is missing."""
    done = run("leads", board, "--board")
    assert done.status == 2
    assert "no device has a place yet" in done.err
    text = board.read_text(encoding="utf-8")
    board.write_text(f'{text}\n[[places]]\ndevice = "drive"\n', encoding="utf-8")
    assert "┌" in run("leads", board, "--board").out
    out = tmp_path / "board.svg"
    assert run("leads", board, "--svg", "-o", out).status == 0
    root = ElementTree.fromstring(out.read_text(encoding="utf-8"))
    assert any("[b]Drive" in (element.text or "") for element in root.iter())


def test_a_board_replaces_an_older_one_and_no_other_file(run: Run, tmp_path: Path) -> None:
    """The plan in characters and as SVG is known again; XML of another's making is left alone."""
    rig = DEMOS / "three-piece.toml"
    for form in ("--board", "--svg"):
        out = tmp_path / f"board{form}"
        for _ in range(2):
            assert run("leads", rig, form, "-o", out).status == 0
    mine = tmp_path / "drawn.svg"
    mine.write_text('<?xml version="1.0" encoding="UTF-8"?>\n<svg viewBox="0 0 9 9"/>\n')
    for command in (("leads", rig, "--svg"), ("chain", rig, "--format", "svg")):
        done = run(*command, "-o", mine)
        assert done.status == 2
        assert "already exists and is not such a" in done.err


@pytest.mark.parametrize("path", sorted(DEMOS.glob("*.toml")), ids=lambda path: path.stem)
@pytest.mark.parametrize("command", ["leads", "cuts"])
def test_demos(run: Run, command: str, path: Path) -> None:
    """Lists of the demos fit 80 columns and say which lengths are not known."""
    done = run(command, path)
    assert (done.status, done.err) == (0, "")
    placed = "[[places]]" in path.read_text(encoding="utf-8")
    assert ("not known" in done.out) != placed
    assert max(map(len, done.out.splitlines())) <= 80


def test_bad_file_and_usage(run: Run, tmp_path: Path) -> None:
    """One clear message, status 2, nothing written."""
    out = tmp_path / "out.txt"
    done = run("cuts", tmp_path / "none.toml", "-o", out)
    assert done.status == 2
    assert "none.toml" in done.err
    assert not out.exists()
