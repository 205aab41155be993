"""The text report: whole against a written-out example, and hostile names in every place."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from cli.conftest import Run, finding
from rigs_made import loop, make_data, pedal, preset, section, setlist, song, switcher

from rigtui.checks import Finding, Fix
from rigtui.cli.report import report_of
from rigtui.cli.report_text import report_text
from rigtui.cli.terminal import Terminal
from rigtui.model import rig_from_data
from rigtui.model.cells import cells
from rigtui.store.load import load
from rigtui.store.locate import Locator
from rigtui.store.toml_write import dump

WHOLE = """\
Quay rig                                                                rig.toml
Switcher (Small switcher): 2 loops, 4 memories in 2 banks of 2, bank up and down
3 pedals, 3 presets, 3 songs, 1 setlist

Can't be played (1)
  unknown-name
    - the switcher: Something is amiss (line 4)
    Why: It matters

Rehearse these
   1  Verse to Solo needs 2 moves on the beat, and you allow 1, so one of them
      will be late or early
   2  Solo → Chorus (section 3) of Low Fen needs 2

The rest, by cause (1 warning)
  !   1 Tin Moth: Another

Findings: 1 error, 3 warnings, 2 waived
--all lists every finding, with its reason

Friday (friday)
  14 moves as written, 14 at the least; 2 set-up moves between songs
  4 extra presses
  1 change of guitar or tuning; 1:36 of playing

                               set-up moves extra least hands    time
  Set
   1  Low Fen                       1     6     2     6     1    0:32  ██████
   2  Tin Moth                      1     2           2     2    0:32  ██
   3  Low Fen                       0     6     2     6     1    0:32  ██████
      In all                        2    14     4    14     4    1:36

Songs in no setlist
                               set-up moves extra least hands    time
   1  Left Out                            0           0     0    0:16

  set-up: moves before the song; extra: presses on one beat beyond the first;
  least: fewest moves with which all of it still sounds right; hands: volume,
  pickup and the like; bar: █ moves that it needs, ░ moves that could be saved
"""

SONG = """\
Quay rig                                                                rig.toml
Switcher (Small switcher): 2 loops, 4 memories in 2 banks of 2, bank up and down
3 pedals, 3 presets, 3 songs, 1 setlist

Low Fen (low-fen)
  6 moves as written, 6 at the least; at worst 2 on one beat; 1 hand move
  2 extra presses
  120 beats per minute, 4/4; 0:32 long

   1  Verse, 4 bars, Clean
      → bank up ahead of time, switch 1 (Lead), Rocker wah on
   2  Solo, 4 bars, Lead: 3 moves, 2 on the beat
      hands: bridge pickup
      → bank up ahead of time, switch 2 (Crunch), Rocker wah off
   3  Chorus, 4 bars, Crunch: 3 moves, 2 on the beat
   4  Out, 4 bars, Crunch: no move

No findings
"""


@pytest.fixture
def some_findings(findings: list[Finding]) -> None:
    """One of each kind, and two of one rule."""
    crowded: dict[str, Any] = {
        "rule": "crowded-change",
        "why": "One foot makes one move on one beat",
    }
    gate: dict[str, Any] = {"rule": "gate-on-clean", "message": "A gate is on"}
    findings += [
        finding("error", rule="unknown-name"),
        finding(
            where="songs.low-fen.sections.1",
            message="Verse to Solo needs 2 moves on the beat, and you allow 1, "
            "so one of them will be late or early",
            fix=Fix("move the wah", lambda rig: rig),
            **crowded,
        ),
        finding(
            where="songs.low-fen.sections.2",
            message="Solo → Chorus (section 3) of Low Fen needs 2",
            **crowded,
        ),
        finding(
            where="songs.tin-moth", **{**crowded, "message": "Another", "why": "Another reason"}
        ),
        finding(where="presets.clean", waived="its threshold is set for it", **gate),
        finding("error", where="presets.crunch", waived="", **gate),
    ]


@pytest.mark.usefixtures("some_findings")
def test_the_report_reads_as_written_out_here(
    run: Run, rig_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rows line up in 80 columns, changes are spelt out, findings stand by weight and rule."""
    monkeypatch.chdir(rig_file.parent)
    assert run("report", rig_file.name).out == WHOLE


def test_the_report_opens_with_what_to_do_first(run: Run) -> None:
    """Before anything else stand the remedies, each with what it clears and what it costs."""
    demo = Path(__file__).parents[2] / "rigs" / "quay-street.toml"
    lines = run("report", demo).out.splitlines()
    assert lines[5] == "Do these first"
    assert lines[6].startswith(
        "   1  Leave Wide chorus off in 15 sections of 8 songs and store Stack"
    )
    assert lines[8].startswith("        Clears 13 sections that can't be played")
    assert lines.index("Can't be played (5)") < 30  # all of it fits the first screenful
    whole = run("report", demo, "--all").out
    assert "You rest just before" in whole  # why nobody hears it
    assert "Goes together with" in whole


@pytest.mark.usefixtures("some_findings")
def test_all_lists_every_finding(run: Run, rig_file: Path) -> None:
    """With --all every finding stands with its reason, its fix, and why it was accepted."""
    text = run("report", rig_file, "--all").out
    assert "Warnings (3)" in text
    assert "    - Tin Moth: Another\n    Why: Another reason\n" in text
    assert "      Fix: move the wah\n" in text
    assert "Waived (2)" in text
    assert "      Accepted: its threshold is set for it\n" in text


@pytest.mark.usefixtures("findings")
def test_one_song_is_gone_through_change_by_change(
    run: Run, rig_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With --song, every section stands with the presses that lead to it."""
    monkeypatch.chdir(rig_file.parent)
    assert run("report", rig_file.name, "--song", "low-fen").out == SONG


def _text(rig_file: Path, terminal: Terminal) -> str:
    source, rig = load(rig_file)
    report = replace(report_of("rig.toml", rig, None, None), locator=Locator(source))
    return report_text(report, terminal)


@pytest.mark.usefixtures("some_findings")
def test_colour_adds_nothing_but_colour(rig_file: Path) -> None:
    """Without its colour codes the coloured report is the plain one: no state is colour alone."""
    coloured = _text(rig_file, Terminal(colour=True))
    assert "\x1b[1;31mCan't be played (1)\x1b[0m" in coloured
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == WHOLE


@pytest.mark.usefixtures("some_findings")
def test_a_poor_encoding_gets_plain_characters(rig_file: Path) -> None:
    """In ASCII the bars are signs, arrows are typed, and nothing is lost."""
    plain = _text(rig_file, Terminal(encoding="ascii", blocks=False))
    assert plain.isascii()
    assert "   1  Low Fen                       1     6     2     6     1    0:32  ######" in plain
    assert "Solo -> Chorus (section 3) of Low Fen needs 2" in plain


def test_a_bar_shows_what_could_be_saved_and_keeps_to_its_room(tmp_path: Path) -> None:
    """Full cells are needed moves, light ones the rest; a long song is drawn to scale."""
    there_and_back = ["far", "near"] * 20
    rig = rig_from_data(
        make_data(
            switcher=switcher(memories=4, bank_size=2),
            presets=[preset("near", memory=1), preset("far", memory=4), preset("twin", memory=2)],
            songs=[song("a", "near", *there_and_back), song("b", "near", "far"), song("c", "near")],
        )
    )
    text = report_text(report_of("rig.toml", rig, None, None), Terminal())
    rows = re.findall(r"^ +\d+  ([abc]) +(\d+) +(\d+) .*?\d:\d\d(?:  ([█░]+))?$", text, re.M)
    assert rows == [("a", "80", "0", "░░░░░░░░░"), ("b", "2", "0", "░"), ("c", "0", "0", "")]


def test_a_narrow_terminal_gets_titles_instead_of_bars(rig_file: Path) -> None:
    """At 60 columns the bars and their legend are left out."""
    text = _text(rig_file, Terminal(60))
    assert "   1  Low Fen              1     6     2     6     1    0:32\n" in text
    assert "bar:" not in text


HOSTILE = [
    "[bold]",
    "[/]",
    "[@click=app.quit]quit[/]",
    "\x1b[31mred\x1b[0m",
    "\x1b]0;title\x07",
    "\x9b2J",
    "tab\there",
    "line\nbreak",
    "right\u202eto left\u2066",
    "夜の川を渡る長い長い曲の名前がここにある",
    "\U0001f3b8 e\u0301",
    "{x} %s $HOME `id`",
    "x" * 200,
]


def _hostile(name: str) -> dict[str, Any]:
    """A rig in which everything that can have a name has this one."""
    parts = [section("p", name=name, hands=name), section("p", name=name, plus=["wah"], cue=name)]
    parts += [section("q", name=name), section(name, name=name), section(name=name)]
    evening = {"name": name, "songs": ["s", "s", name]}
    return make_data(
        name=name,
        note=name,
        amp={"name": name, "channels": [name, "x"], "channel_switch": "foot"},
        switcher=switcher(name=name),
        pedals=[pedal("wah", "wah", name=name, note=name)],
        presets=[
            preset("p", name=name, memory=1, hands=name, channel=name),
            preset("q", name=name, memory=8, channel="x"),
        ],
        songs=[song("s", *parts, title=name, guitar=name), song("t", title=name)],
        setlists=[{**setlist("e"), "name": name, "sets": [evening]}],
        waivers=[{"rule": name, "where": name, "reason": name}],
    )


@pytest.mark.parametrize("scope", [(), ("--song", "s"), ("--setlist", "e")], ids=str)
@pytest.mark.parametrize("name", HOSTILE, ids=ascii)
def test_names_are_shown_literally(
    run: Run, tmp_path: Path, name: str, scope: tuple[str, ...]
) -> None:
    """No name reaches the terminal as a command, breaks a line, or leaves its column."""
    path = tmp_path / "rig.toml"
    content = dump(_hostile(name)).encode("utf-8")
    path.write_bytes(content)
    done = run("report", path, *scope)
    assert done.status in (0, 1)
    assert done.err == ""
    unsafe = {char for char in done.out if unicodedata.category(char) in ("Cc", "Cs")} - {"\n"}
    assert unsafe | {char for char in done.out if char in "\u202e\u2066"} == set()
    assert [line for line in done.out.splitlines() if cells(line) > 80] == []
    if name.isascii() and name.isprintable() and len(name) < 30:
        assert name in done.out
    assert path.read_bytes() == content


@pytest.mark.parametrize("width", [60, 80, 140])
def test_every_line_keeps_to_the_width(width: int) -> None:
    """Whatever the terminal's width, no line of a whole report is longer."""
    for name in HOSTILE:
        rig = rig_from_data(_hostile(name))
        lines = report_text(report_of(name, rig, None, None), Terminal(width)).splitlines()
        assert [line for line in lines if cells(line) > width] == []


@pytest.mark.parametrize(
    ("parts", "line"),
    [
        ({}, "The file has no switcher"),
        (
            {"switcher": switcher(4, 4, bank_buttons="none", loop_switches=True)},
            "Switcher: 0 loops, 4 memories in 1 bank of 4, no bank buttons, a switch for each loop",
        ),
        (
            {"switcher": switcher(1, 1, bank_buttons="up")},
            "Switcher: 0 loops, 1 memory in 1 bank of 1, bank up only",
        ),
        (
            {"switcher": switcher(8, 4, bank_wrap=False)},
            "Switcher: 0 loops, 8 memories in 2 banks of 4, bank up and down that stop at both "
            "ends",
        ),
    ],
)
def test_the_switcher_is_said_in_words(parts: dict[str, Any], line: str) -> None:
    """The head says what the switcher can do."""
    rig = rig_from_data(make_data(**parts))
    assert line in report_text(report_of("rig.toml", rig, None, None), Terminal(100)).splitlines()


def test_errors_say_at_which_line_they_stand(run: Run, tmp_path: Path) -> None:
    """An unknown name is told with the line of the row that names it; a warning has no line."""
    file = tmp_path / "rig.toml"
    file.write_text(
        """format = 1
name = "Small"

[switcher]
memories = 4
bank_size = 4
bank_buttons = "none"

[chain]
front = ["nothing"]

[[presets]]
id = "clean"
name = "Clean"
memory = 1
loops = [7]

[[songs]]
id = "low"
title = "Low Fen"
tempo = 90

[[songs.sections]]
name = "Verse"
bars = 4
preset = "cleen"
""",
        encoding="utf-8",
    )
    text = " ".join(run("report", str(file)).out.split())
    start, end = text.index("Can't be played"), text.index("Findings:")
    numbers = re.findall(r"\(line (\d+)\)", text[start:end])
    assert sorted(map(int, numbers)) == [10, 12, 23]


def test_what_cannot_be_mended_by_a_remedy_comes_first(run: Run, tmp_path: Path) -> None:
    """A section with no preset stands above what to do first; without it the remedies lead."""
    demo = Path(__file__).parents[2] / "rigs" / "first-rig.toml"
    text = demo.read_text(encoding="utf-8")
    file = tmp_path / "rig.toml"
    file.write_text(text.replace(', preset = "crunch"', "", 1), encoding="utf-8")
    told = run("report", file).out
    assert told.index("Can't be played (1)") < told.index("Do these first")
    assert run("report", demo).out.splitlines()[5] == "Do these first"


def test_that_nothing_helps_is_said(run: Run, tmp_path: Path) -> None:
    """A rig that nothing makes better says how many ways were tried."""
    file = tmp_path / "rig.toml"
    parts = {
        "switcher": switcher(),
        "pedals": [pedal("wah", "wah"), pedal("drive", "overdrive")],
        "loops": [loop(1, "drive")],
        "chain": {"front": ["wah", 1]},
        "presets": [preset("clean", memory=1), preset("dirt", 1, memory=2)],
        "songs": [song("low", "clean", "dirt")],
        "setlists": [setlist("friday", "low")],
    }
    file.write_text(dump(make_data(**parts)), encoding="utf-8")
    told = run("report", file).out
    assert "Nothing to do first: 1 way was tried on this rig, and it doesn't help" in told
    assert "Do these first" not in told
