"""Running the command line inside the test's own process, and a small rig to run it on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest
from planned_once import plan_once
from rigs_made import loop, make_data, pedal, preset, section, setlist, song, switcher

from rigtui.advice.first import First
from rigtui.checks import Finding
from rigtui.cli import main
from rigtui.cli.plan import command
from rigtui.store.toml_write import dump


class Done(NamedTuple):
    """What a command left behind."""

    status: int
    out: str
    err: str


Run = Callable[..., Done]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the command line with some arguments."""

    def run_once(*arguments: str | Path) -> Done:
        status = main([str(word) for word in arguments])
        out, err = capsys.readouterr()
        return Done(status, out, err)

    return run_once


@pytest.fixture
def planned_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have the command ask the planner each question about a rig once in all tests."""
    monkeypatch.setattr(command, "plan", plan_once)


@pytest.fixture
def rig_file(tmp_path: Path) -> Path:
    """A rig of two songs that are played and one that is not, two banks of two, and a wah.

    Counted by hand. Low Fen: bank, switch 1 and wah (3 moves, 2 on the beat), then bank, switch 2
    and wah, then nothing: 6 moves, and as each sound is stored once, 6 is also the least. Tin
    Moth: switch 2, switch 1: 2 moves. The evening is set up with switch 1 for Low Fen, which
    ends on switch 2, so with switch 1 for Tin Moth, which ends where Low Fen begins again.
    """
    path = tmp_path / "rig.toml"
    data = make_data(
        name="Quay rig",
        switcher=switcher(memories=4, bank_size=2, name="Small switcher"),
        pedals=[pedal("wah", "wah", name="Rocker wah"), pedal("drive"), pedal("boost")],
        loops=[loop(1, "drive"), loop(2, "boost")],
        chain={"front": ["wah", 1, 2]},
        presets=[
            preset("clean", memory=1, guitar_volume=4, name="Clean"),
            preset("crunch", 1, memory=2, guitar_volume=7, name="Crunch"),
            preset("lead", 1, 2, memory=3, name="Lead"),
        ],
        songs=[
            song(
                "low-fen",
                section("clean", name="Verse"),
                section("lead", name="Solo", plus=["wah"], hands="bridge pickup"),
                section("crunch", name="Chorus"),
                section("crunch", name="Out"),
                title="Low Fen",
            ),
            song("tin-moth", "clean", "crunch", "clean", title="Tin Moth", tempo=90, guitar="b"),
            song("left-out", "clean", title="Left Out", tempo=60),
        ],
        setlists=[setlist("friday", "low-fen", "tin-moth", "low-fen", name="Friday")],
    )
    path.write_text(dump(data), encoding="utf-8")
    return path


def finding(severity: str = "warning", where: str = "switcher", **more: object) -> Finding:
    """A finding as a rule would make it."""
    known = {"rule": "some-rule", "message": "Something is amiss", "why": "It matters"}
    return Finding(severity=severity, where=where, **{**known, **more})  # type: ignore[arg-type]


@pytest.fixture
def findings(monkeypatch: pytest.MonkeyPatch) -> list[Finding]:
    """What the rules will say, whatever the rig: none to begin with."""
    said: list[Finding] = []
    monkeypatch.setattr("rigtui.cli.report.check", lambda rig: tuple(said))
    # Remedies are tried against what the rules really say.
    monkeypatch.setattr("rigtui.advice.first.do_first", lambda *_: First(()))
    return said
