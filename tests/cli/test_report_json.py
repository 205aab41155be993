"""`rigtui report --json` prints one object of the agreed shape, and its figures agree."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from cli.conftest import Run, finding
from jsonschema import Draft202012Validator

from rigtui.checks import Finding, Fix

DEMOS = sorted((Path(__file__).parents[2] / "rigs").glob("*.toml"))

COUNT = {"type": "integer", "minimum": 0}
PRESS = r"^(bank (up|down)|switch \d+|loop [1-9]\d*|pedal [a-z0-9][a-z0-9-]{0,31}|channel (?s:.+))$"


def _table(**keys: Any) -> dict[str, Any]:
    """A JSON object with just these keys."""
    return {
        "type": "object",
        "properties": keys,
        "required": list(keys),
        "additionalProperties": False,
    }


def _rows(**keys: Any) -> dict[str, Any]:
    return {"type": "array", "items": _table(**keys)}


TEXT = {"type": "string"}
TEXT_OR_NULL = {"type": ["string", "null"]}
SHAPE = _table(
    rig=TEXT,
    format={"const": 1},
    songs=_rows(
        id=TEXT,
        moves=COUNT,
        least_moves=COUNT,
        on_the_beat_worst=COUNT,
        hand_moves=COUNT,
        seconds={"type": "number", "minimum": 0},
        crowded=COUNT,
        extra_presses=COUNT,
        unplayable=COUNT,
        effort={"type": "number", "minimum": 0},
        changes=_rows(
            **{"from": COUNT, "to": COUNT, "moves": COUNT, "on_the_beat": COUNT},
            presses={"type": "array", "items": {"type": "string", "pattern": PRESS}},
        ),
    ),
    setlists=_rows(
        id=TEXT,
        moves=COUNT,
        least_moves=COUNT,
        set_up_moves=COUNT,
        songs={"type": "array", "items": TEXT},
        guitar_changes=COUNT,
        crowded=COUNT,
        extra_presses=COUNT,
        unplayable=COUNT,
        effort={"type": "number", "minimum": 0},
    ),
    first=_rows(
        what=TEXT,
        does=TEXT,
        places={"type": "array", "items": TEXT},
        clears=_table(
            unplayable=COUNT,
            extra_presses={"type": "integer"},
            moves={"type": "integer"},
            findings=COUNT,
        ),
        costs={"type": "object", "additionalProperties": {"type": "integer", "minimum": 1}},
        adds=_rows(
            rule=TEXT,
            severity={"enum": ["error", "warning", "advice"]},
            where=TEXT,
            message=TEXT,
            new={"type": "boolean"},
        ),
        as_if={"type": "boolean"},
        goes_with={"type": "array", "items": COUNT},
        detail={"type": "array", "items": TEXT},
    ),
    first_untried={"type": "array", "items": TEXT},
    findings=_rows(
        rule=TEXT,
        severity={"enum": ["error", "warning", "advice"]},
        where=TEXT,
        message=TEXT,
        why=TEXT,
        fix=TEXT_OR_NULL,
        waived=TEXT_OR_NULL,
    ),
)


def _object(text: str) -> dict[str, Any]:
    """The one object that was printed, which must be of the agreed shape."""
    whole: dict[str, Any] = json.loads(text)
    Draft202012Validator(SHAPE).validate(whole)
    return whole


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_figures_agree_with_each_other(run: Run, file: Path) -> None:
    """Sums are sums, every change is listed, and each press is counted once."""
    whole = _object(run("report", file, "--json").out)
    songs = {song["id"]: song for song in whole["songs"]}
    for song in songs.values():
        changes = song["changes"]
        assert [(change["from"], change["to"]) for change in changes] == [
            (at, at + 1) for at in range(len(changes))
        ]
        for change in changes:
            steps = sum(press.startswith("bank ") for press in change["presses"])
            pedals = sum(press.startswith("pedal ") for press in change["presses"])
            assert change["moves"] == len(change["presses"])
            assert 0 <= change["moves"] - steps - change["on_the_beat"] <= pedals
        on_the_beat = [change["on_the_beat"] for change in changes]
        assert song["crowded"] == sum(beat > 1 for beat in on_the_beat)
        assert song["extra_presses"] == sum(max(0, beat - 1) for beat in on_the_beat)
        assert song["effort"] == song["moves"] + 3 * song["extra_presses"]
        assert song["moves"] == sum(change["moves"] for change in changes)
        assert song["on_the_beat_worst"] == max(change["on_the_beat"] for change in changes)
        assert song["least_moves"] <= song["moves"]
    for evening in whole["setlists"]:
        for key in ("moves", "least_moves", "crowded", "extra_presses", "unplayable", "effort"):
            assert evening[key] == sum(songs[song][key] for song in evening["songs"])


def test_the_figures_are_those_counted_by_hand(run: Run, rig_file: Path) -> None:
    """A small rig gives what a person counts on paper, in full."""
    whole = _object(run("report", rig_file, "--json").out)
    assert (whole["rig"], whole["format"]) == ("Quay rig", 1)
    assert whole["songs"][0] == {
        "id": "low-fen",
        "moves": 6,
        "least_moves": 6,
        "on_the_beat_worst": 2,
        "hand_moves": 1,
        "seconds": 32.0,
        "crowded": 2,
        "extra_presses": 2,
        "unplayable": 0,
        "effort": 12,
        "changes": [
            {"from": 0, "to": 1, "moves": 3, "on_the_beat": 2,
             "presses": ["bank up", "switch 1", "pedal wah"]},
            {"from": 1, "to": 2, "moves": 3, "on_the_beat": 2,
             "presses": ["bank up", "switch 2", "pedal wah"]},
            {"from": 2, "to": 3, "moves": 0, "on_the_beat": 0, "presses": []},
        ],
    }  # fmt: skip
    tin_moth, left_out = whole["songs"][1:]
    assert (tin_moth["moves"], tin_moth["hand_moves"], tin_moth["seconds"]) == (2, 2, 32.0)
    assert (left_out["moves"], left_out["changes"], left_out["seconds"]) == (0, [], 16.0)
    assert whole["setlists"] == [
        {
            "id": "friday",
            "moves": 14,
            "least_moves": 14,
            "set_up_moves": 2,
            "songs": ["low-fen", "tin-moth", "low-fen"],
            "guitar_changes": 1,
            "crowded": 4,
            "extra_presses": 4,
            "unplayable": 0,
            "effort": 26,
        }
    ]


def test_seconds_are_not_rounded(run: Run, tmp_path: Path) -> None:
    """Seven bars of four at 118 are 28 x 60 / 118 seconds, to the last digit."""
    path = tmp_path / "rig.toml"
    path.write_text(
        'format = 1\nname = "x"\nsongs = [{ id = "a", tempo = 118, '
        'sections = [{ name = "All", bars = 7 }] }]\n'
    )
    assert _object(run("report", path, "--json").out)["songs"][0]["seconds"] == 28 * 60 / 118


def test_a_finding_is_told_whole(run: Run, rig_file: Path, findings: list[Finding]) -> None:
    """Fix and waiver are their text, or null."""
    findings += [
        finding("error", "presets.lead", fix=Fix("mend it", lambda rig: rig)),
        finding("advice", "switcher", waived="that is how I like it"),
    ]
    assert _object(run("report", rig_file, "--json").out)["findings"] == [
        {
            "rule": "some-rule",
            "severity": "error",
            "where": "presets.lead",
            "message": "Something is amiss",
            "why": "It matters",
            "fix": "mend it",
            "waived": None,
        },
        {
            "rule": "some-rule",
            "severity": "advice",
            "where": "switcher",
            "message": "Something is amiss",
            "why": "It matters",
            "fix": None,
            "waived": "that is how I like it",
        },
    ]


PLACES = [
    "switcher",
    "presets.lead",
    "songs.low-fen",
    "songs.tin-moth.sections.1",
    "songs.left-out",
    "setlists.friday",
]


@pytest.mark.parametrize(
    ("scope", "songs", "setlists", "places"),
    [
        ([], ["low-fen", "tin-moth", "left-out"], ["friday"], PLACES),
        (
            ["--setlist", "friday"],
            ["low-fen", "tin-moth"],
            ["friday"],
            [place for place in PLACES if "left-out" not in place],
        ),
        (["--song", "tin-moth"], ["tin-moth"], [], ["switcher", "presets.lead", PLACES[3]]),
    ],
    ids=["whole", "setlist", "song"],
)
def test_a_report_can_be_narrowed(
    run: Run,
    rig_file: Path,
    findings: list[Finding],
    scope: list[str],
    songs: list[str],
    setlists: list[str],
    places: list[str],
) -> None:
    """Only what was asked for is listed, with the findings that touch it or the whole rig."""
    findings += [finding(where=place) for place in PLACES]
    whole = _object(run("report", rig_file, "--json", *scope).out)
    assert [song["id"] for song in whole["songs"]] == songs
    assert [setlist["id"] for setlist in whole["setlists"]] == setlists
    assert [finding["where"] for finding in whole["findings"]] == places


def test_names_survive_and_nothing_acts_on_the_terminal(run: Run, tmp_path: Path) -> None:
    """JSON holds names as they are in the file, escaped, and is ASCII in one line."""
    path = tmp_path / "rig.toml"
    path.write_text('format = 1\nname = "[b]\\u001b[31m 夜 \\u009b"\n', encoding="utf-8")
    out = run("report", path, "--json").out
    assert json.loads(out)["rig"] == "[b]\x1b[31m 夜 \x9b"
    assert out.isascii()
    assert [char for char in out if not char.isprintable()] == ["\n"]
