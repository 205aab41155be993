"""`rigtui chain`: the way of the signal as text, picture and JSON."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from rigs_made import loop, make_data, pedal, preset, section, song, switcher

from rigtui.cli import main
from rigtui.store.splice import dump


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A rig with a wah outside, two pedals in one loop and an echo behind the amp."""
    path = tmp_path / "rig.toml"
    data: dict[str, Any] = make_data(
        switcher=switcher(),
        pedals=[
            pedal("wah", "wah", name="Wah [b]<b>"), pedal("drive", name="Drive"),
            pedal("boost", name="Boost"), pedal("echo", "delay", "fx", name="Echo"),
        ],
        loops=[loop(1, "drive", "boost"), loop(2, "echo", side="fx")],
        chain={"front": ["wah", 1], "fx": [2]},
        presets=[preset("dirt", 1, name="Dirt", memory=1)],
        songs=[song("low-fen", section("dirt"), section("dirt", plus=["wah"]))],
    )  # fmt: skip
    path.write_text(dump(data), encoding="utf-8")
    return path


def test_as_text(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Loops in brackets, leads by their numbers; a name is text and never a mark."""
    assert main(["chain", str(file)]) == 0
    assert capsys.readouterr().out.splitlines() == [
        "Before the amp",
        "  Guitar output -1-> Wah [b]<b> -2-> [1: -3-> Drive -4-> Boost -5->]",
        "  -6-> Amp input",
        "In the amp's effects loop",
        "  Amp send -7-> [2: -8-> Echo -9->] -10-> Amp return",
        "[n: ...] is loop n of the switcher, -n-> is lead n",
    ]


@pytest.mark.parametrize(
    ("asked", "wah"),
    [
        (["--preset", "dirt"], "off"),
        (["--section", "low-fen.1"], "off"),
        (["--section", "low-fen.2"], "on"),
    ],
)
def test_the_way_of_a_sound(
    file: Path, asked: list[str], wah: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Jack by jack, past the loops that are off; what a section puts on top counts."""
    assert main(["chain", str(file), *asked]) == 0
    text = capsys.readouterr().out
    assert f"  through Wah [b]<b>, which is {wah}\n" in text
    assert "  lead 4: Drive out to Boost in\n  through Boost, which is on\n" in text
    assert "  past loop 2\n  lead 10: Switcher fx output to Amp return\n" in text
    assert "[(+) 1:" in text
    assert "[(-) 2:" in text


def test_as_data(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every edge with its ends; the way of a sound beside them."""
    assert main(["chain", str(file), "--preset", "dirt", "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    leads = [edge for edge in data["edges"] if edge["kind"] == "lead"]
    assert leads[0] == {
        "from": ["Guitar", "output"], "to": ["wah", "in"], "kind": "lead", "number": 1,
    }  # fmt: skip
    assert [edge["number"] for edge in leads] == list(range(1, 11))
    assert [edge["from"][0] for edge in data["way"] if edge["kind"] == "pedal"] == [
        "wah", "drive", "boost",
    ]  # fmt: skip


def test_as_a_picture(file: Path, tmp_path: Path) -> None:
    """One XML file with every name in it as text; written again over itself, not over others."""
    picture = tmp_path / "rig.svg"
    for _ in range(2):
        assert main(["chain", str(file), "--format", "svg", "-o", str(picture)]) == 0
    root = ElementTree.fromstring(picture.read_text(encoding="utf-8"))
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    words = [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")]
    assert {"Wah [b]<b>", "Drive", "Boost", "Echo", "loop 1", "10"} <= set(words)
    assert main(["chain", str(file), "-o", str(file)]) == 2
    assert file.read_text(encoding="utf-8").startswith("format = 1")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (["--preset", "dirts"], "did you mean dirt?"),
        (["--section", "low-fen"], "--section takes SONG.NUMBER"),
        (["--section", "low-fen.3"], "low-fen has 2 sections, but no 3"),
        (["--section", "low-fan.1"], "did you mean low-fen?"),
    ],
)
def test_what_is_not_there(
    file: Path, asked: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """One message, and nothing printed."""
    assert main(["chain", str(file), *asked]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
