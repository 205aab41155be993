"""`rigtui plan`: what it promises is what the report counts, and nothing is ever overwritten."""

from __future__ import annotations

import io
import json
import os
import signal
from pathlib import Path
from typing import Any

import pytest
from cli.conftest import Done, Run
from rigs_made import loop, make_data, pedal, preset, section, setlist, song, switcher
from screens import DEMOS

from rigtui.cli.plan.arguments import KINDS
from rigtui.cli.plan.findings import NOT_COMPARED
from rigtui.model.cells import cells
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Status
from rigtui.store.load import load
from rigtui.store.toml_write import dump

RIGS = sorted(DEMOS.glob("*.toml"))
CHANGING = tuple(kind for kind in KINDS if kind != "curve")


def as_json(done: Done) -> dict[str, Any]:
    """The one JSON object on standard output."""
    assert done.err == ""
    (line,) = done.out.splitlines()
    answer = json.loads(line)
    assert isinstance(answer, dict)
    return answer


def moves_of(run: Run, path: Path, setlists: list[str]) -> tuple[int, int, int]:
    """Moves, worst change and set-up moves of some setlists, as the report counts them."""
    report = as_json(run("report", path, "--json", "--fail-on", "error")._replace(status=0))
    chosen = [setlist for setlist in report["setlists"] if setlist["id"] in setlists]
    played = {song for setlist in chosen for song in setlist["songs"]}
    changes = [c["moves"] for s in report["songs"] if s["id"] in played for c in s["changes"]]
    return (
        sum(setlist["moves"] for setlist in chosen),
        max(changes, default=0),
        sum(setlist["set_up_moves"] for setlist in chosen),
    )


@pytest.mark.usefixtures("planned_once")
@pytest.mark.parametrize("kind", CHANGING)
@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_written_file_has_the_moves_promised(
    run: Run, tmp_path: Path, kind: str, path: Path
) -> None:
    """The report on the file that --write makes counts exactly what the plan promised."""
    new = tmp_path / "new.toml"
    before = path.read_bytes()
    planned = as_json(run("plan", kind, path, "--json", "--write", new, "--seconds", "20"))
    assert path.read_bytes() == before
    assert planned["moves_before"] == moves_of(run, path, planned["setlists"])[0]
    if planned["moves_after"] is None:
        assert planned["infeasible"]["reason"]
        assert not new.exists()
        return
    after = (planned["moves_after"], planned["worst_change"], planned["set_up_moves"])
    assert moves_of(run, new, planned["setlists"]) == after
    assert planned["value"] == planned["effort_after"]
    assert planned["lower_bound"] <= planned["value"]
    assert planned["proved"] == (planned["lower_bound"] == planned["value"])
    assert planned["written"] == str(new)
    _, rig = load(new)
    assert planned["loops"] == [
        {"number": loop.number, "side": loop.side, "pedals": list(loop.pedals)}
        for loop in rig.loops
    ]
    assert [(preset["id"], preset["loops"], preset["memory"]) for preset in planned["presets"]] == [
        (preset.id, list(preset.loops), preset.memory) for preset in rig.presets
    ]
    inside = [pedal for loop in planned["loops"] for pedal in loop["pedals"]]
    assert sorted([*inside, *planned["outside"], *planned["always_on"]]) == sorted(
        pedal.id for pedal in rig.pedals
    )


@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_comments_are_kept(run: Run, tmp_path: Path, path: Path) -> None:
    """The written file keeps the comments of the file that was planned."""
    new = tmp_path / "new.toml"
    assert run("plan", "route", path, "--write", new).status == 0
    old_notes = [line for line in path.read_text().splitlines() if line.startswith("#")]
    kept = new.read_text().splitlines()
    assert [note for note in old_notes if note not in kept] == []


def test_walk_of_each_song(run: Run, rig_file: Path) -> None:
    """The route lists for each song what to press on the way to each section.

    By hand (see the rig): Low Fen is played twice, with 6 moves; Tin Moth once, with 2.
    """
    planned = as_json(run("plan", "route", rig_file, "--json"))
    assert planned["moves_before"] == planned["moves_after"] == 14
    assert planned["effort_before"] == planned["effort_after"] == planned["lower_bound"] == 26
    assert planned["proved"]
    walks = {song["id"]: song["walk"] for song in planned["songs"]}
    assert [step["presses"] for step in walks["tin-moth"]] == [["switch 2"], ["switch 1"]]
    assert [len(step["presses"]) for step in walks["low-fen"]] == [3, 3, 0]


def wasteful(folder: Path, **switcher_parts: Any) -> Path:
    """A rig where clean and dirt are a bank apart and change places all the time.

    By hand: 3 changes of a bank step and a switch, one of a switch: 7 moves. With clean and dirt
    in one bank, and both in the other: 3 of a switch and one of two moves: 5.
    """
    path = folder / "wasteful.toml"
    data = make_data(
        switcher=switcher(**{"memories": 4, "bank_size": 2, **switcher_parts}),
        pedals=[pedal("drive", name="Drive"), pedal("chorus", name="Chorus")],
        loops=[loop(1, "drive"), loop(2, "chorus")],
        chain={"front": [1, 2]},
        presets=[preset("clean", memory=1), preset("dirt", 1, memory=3),
                 preset("both", 1, 2, memory=2)],
        songs=[song("low", "clean", "dirt", "clean", "dirt"), song("tin", "clean", "both")],
        setlists=[setlist("friday", "low", "tin"), setlist("sunday", "tin")],
    )  # fmt: skip
    path.write_text(dump(data), encoding="utf-8")
    return path


def test_text_says_what_is_saved_and_what_to_do(run: Run, tmp_path: Path) -> None:
    """For people: four lines, one sentence, the picture, what to do; with --all the rest.

    By hand: clean and dirt change places with both, so memories 2 and 3 are stored anew.
    """
    asked = ("plan", "switches", wasteful(tmp_path), "--setlist", "friday", "--copies", "0")
    done = run(*asked)
    assert (done.status, done.err) == (0, "")
    brief = (
        "  Can be played  every section\n",
        "  Extra presses  none, as today (presses beyond the first on one beat)\n",
        "  Presses        inside songs 7 → 5",
        "  Proof          proved: no plan of this kind takes less effort than 5\n",
        "Before the gig, reprogram 2 memories (1/2 and 2/2): 3 fewer presses a night (10\n→ 7).",
        "[ ] store ",
        "low                                1x     6 → 3         0  ",
    )
    full = ("Inside songs 7 → 5: 2 fewer (29 %)", "worst single change 2 → 2", "Presets")
    for part in brief:
        assert part in done.out
    for part in full:
        assert part not in done.out
    more = run(*asked, "--all")
    for part in (*brief[:-1], *full):
        assert part in more.out
    assert all(cells(line) <= 80 for line in (done.out + more.out).splitlines())


@pytest.mark.usefixtures("planned_once")
@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_the_plan_of_a_demo_is_read_in_one_look(run: Run, path: Path) -> None:
    """Under 60 lines at 80 columns, and --all has more."""
    brief, full = (run("plan", "all", path, *more).out for more in ((), ("--all",)))
    assert len(brief.splitlines()) < 60
    assert len(brief) < len(full)
    for name in ("Can be played", "Extra presses", "Presses", "Proof"):
        assert sum(line.startswith(f"  {name}  ") for line in brief.splitlines()) == 1


@pytest.mark.usefixtures("planned_once")
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_text_fits_80_columns(run: Run, kind: str, path: Path) -> None:
    """Every plan of every demo rig reads well in 80 columns.

    A curve looks for copies as long as it may, and reads the same after a few seconds.
    """
    done = run("plan", kind, path, "--seconds", "4" if kind == "curve" else "20")
    assert done.status in (0, 1)
    assert done.err == ""
    assert max(cells(line) for line in done.out.splitlines()) <= 80


def test_one_setlist_or_all(run: Run, tmp_path: Path) -> None:
    """Without --setlist all setlists count; with it, those that are named."""
    path = wasteful(tmp_path)
    every = as_json(run("plan", "switches", path, "--json"))
    both = as_json(
        run("plan", "switches", path, "--json", "--setlist", "sunday", "--setlist", "friday")
    )
    sunday = as_json(run("plan", "switches", path, "--json", "--setlist", "sunday"))
    assert every["setlists"] == ["friday", "sunday"]
    assert (every["moves_before"], both["moves_before"], sunday["moves_before"]) == (8, 8, 1)
    assert sunday["setlists"] == ["sunday"]


def test_pinned_switch_is_kept(run: Run, tmp_path: Path) -> None:
    """A preset that is pinned to a memory gets it, and the plan is the best that this allows."""
    pins = ("--pin-switch", "dirt=3", "--pin-switch", "clean=1", "--copies", "0")
    planned = as_json(run("plan", "switches", wasteful(tmp_path), "--json", *pins))
    memories = {preset["id"]: preset["memory"] for preset in planned["presets"]}
    assert (memories["clean"], memories["dirt"]) == (1, 3)
    assert planned["moves_after"] == planned["lower_bound"] == 8
    assert planned["proved"]


def test_options_are_kept(run: Run, tmp_path: Path) -> None:
    """Pedals pinned in and out go where they are wanted."""
    pins = ("--pin", "drive=out", "--pin", "chorus=in")
    planned = as_json(run("plan", "loops", wasteful(tmp_path), "--json", *pins))
    assert planned["outside"] == ["drive"]
    assert [loop["pedals"] for loop in planned["loops"]].count(["chorus"]) == 1


def test_no_plan_can_do_it(run: Run, tmp_path: Path) -> None:
    """Two pedals in loops and one loop: exit 1, the reason in words, what would do, no file."""
    path, new = wasteful(tmp_path), tmp_path / "new.toml"
    asked = ("--pin", "drive=in", "--pin", "chorus=in", "--no-sharing", "--loops", "1")
    done = run("plan", "loops", path, *asked, "--write", new)
    assert (done.status, done.err) == (1, "")
    assert "No plan can do that" in done.out
    assert "Drive" in done.out
    assert "Any one of these makes it work" in done.out
    assert not new.exists()
    planned = as_json(run("plan", "loops", path, *asked, "--json"))
    assert planned["status"] == "infeasible"
    assert planned["proved"]
    assert planned["moves_after"] is None
    infeasible = planned["infeasible"]
    assert infeasible["reason"].startswith("Drive and Chorus must be in loops")
    assert infeasible["relaxations"] == [
        {"text": "2 loops instead of 1", "changes": {"total_loops": 2}, "switcher": False},
        {
            "text": "let Drive stay outside the loops",
            "changes": {"pins": {"chorus": "in"}},
            "switcher": False,
        },
        {
            "text": "let Chorus stay outside the loops",
            "changes": {"pins": {"drive": "in"}},
            "switcher": False,
        },
    ]


@pytest.mark.usefixtures("planned_once")
def test_curve(run: Run, tmp_path: Path) -> None:
    """What would it buy: moves for other switchers as bars and as data, the one at hand marked.

    By hand: with no loop every change of a pedal is a press, three in low and two in tin.
    """
    path = wasteful(tmp_path)
    planned = as_json(run("plan", "curve", path, "--setlist", "friday", "--json"))
    loops, memories, banks = planned["curves"]
    assert [curve["kind"] for curve in (loops, memories, banks)] == [
        "loops",
        "memories",
        "bank_size",
    ]
    points = {point["value"]: point for point in loops["points"]}
    assert points[0]["moves"] == 5
    assert points[0]["saved"] == 2
    assert points[2]["now"]
    assert points[2]["moves"] <= points[1]["moves"] <= points[0]["moves"]
    assert planned["moves_after"] is None
    done = run("plan", "curve", path, "--setlist", "friday")
    assert (done.status, done.err) == (0, "")
    for part in ("By loops", "By memories", "By switches of a bank", "now 2", "█"):
        assert part in done.out


@pytest.mark.usefixtures("planned_once")
def test_json_has_what_the_text_says(run: Run, tmp_path: Path) -> None:
    """The sentence, and the extra presses of each song: their sum is that of the evening."""
    path = DEMOS / "quay-street.toml"
    told = as_json(run("plan", "all", path, "--json"))
    assert told["in_short"] in " ".join(run("plan", "all", path).out.split())
    for end in ("_before", "_after"):
        for name in ("extra_presses", "unplayable", "moves"):
            each = [row["times"] * row[f"{name}{end}"] for row in told["songs"]]
            assert sum(each) == told[f"{name}{end}"]


@pytest.mark.usefixtures("planned_once")
def test_buy_is_the_players_name_of_the_curve(run: Run, tmp_path: Path) -> None:
    """`plan buy` prints what `plan curve` prints, and the help says it."""
    path = wasteful(tmp_path)
    bought, drawn = (run("plan", kind, path) for kind in ("buy", "curve"))
    assert bought == drawn
    assert "  buy       what another switcher would save your feet" in run("plan", "--help").out
    assert as_json(run("plan", "buy", path, "--json"))["kind"] == "curve"


def test_curve_on_which_nothing_fits(run: Run, tmp_path: Path) -> None:
    """Where no switcher helps, the reason stands in place of a table of nothing: exit 1."""
    words = ("--pin", "drive=in", "--pin", "chorus=out", "--keep", "both")
    done = run("plan", "curve", wasteful(tmp_path), *words)
    assert (done.status, done.err) == (1, "")
    assert "Chorus must stay outside, but both, which must sound as now" in done.out
    assert "let Chorus go in a loop" in done.out
    assert "nothing fits" not in done.out
    planned = as_json(run("plan", "curve", wasteful(tmp_path), *words, "--json"))
    assert planned["status"] == "infeasible"
    assert {way["text"] for way in planned["infeasible"]["relaxations"]} == {
        "let Chorus go in a loop",
        "let both change",
    }


@pytest.mark.parametrize("kind", CHANGING)
def test_reasons(run: Run, tmp_path: Path, kind: str) -> None:
    """With --explain it is said of each pedal, preset and bad change why it is so."""
    path = wasteful(tmp_path)
    assert as_json(run("plan", kind, path, "--json"))["explain"] is None
    said = as_json(run("plan", kind, path, "--json", "--explain"))["explain"]
    assert [pedal["pedal"] for pedal in said["pedals"]] == ["drive", "chorus"]
    assert said["presets"]
    done = run("plan", kind, path, "--explain")
    for title in ("In a loop or outside", "What each preset is for"):
        assert title in done.out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["everything"], 'did you mean "all"'),
        (["loops", "--setlist", "nowhere"], 'no setlist "nowhere"'),
        (["loops", "--pin", "drive"], "wah=out"),
        (["loops", "--pin", "drive=up"], "wah=out"),
        (["loops", "--pin", "driev=in"], 'did you mean "drive"'),
        (["loops", "--pin", "drive=in", "--pin", "drive=out"], "contradict each other"),
        (["loops", "--keep", "leed"], 'no preset "leed"'),
        (["loops", "--apart", "drive"], "must be two different pedals"),
        (["loops", "--apart", "drive,drive"], "must be two different pedals"),
        (["loops", "--loops", "-1"], "--loops"),
        (["loops", "--loops", "1,2,3"], "must be the loops"),
        (["loops", "--loops", "400"], "0 to 99"),
        (["loops", "--loops", "-1,2"], 'loops must be 0 to 99, not "-1"'),
        (["loops", "--loops", "60,60"], "at most 99 loops"),
        (["all", "--pin-switch", "dirt=2", "--pin-switch", "clean=2"], "can't both be in memory"),
        (["loops", "--setlist", "x"], 'no setlist "x"; the rig has friday, sunday'),
        (["loops", "--memories", "0"], "1 to 128"),
        (["loops", "--memories", "129"], "1 to 128"),
        (["switches", "--pin-switch", "dirt=0"], "1 to 128"),
        (["switches", "--pin-switch", "dirt=9"], "memories 1 to 4"),
        (["switches", "--pin-switch", "dirt=1", "--pin-switch", "dirt=2"], "two memories"),
        (["switches", "--copies", "x"], "copies must be"),
        (["route", "--seconds", "0"], "more than 0"),
        (["route", "--seconds", "nan"], "more than 0"),
        (["route", "--seconds", "1e9"], "at most 86400"),
        (["route", "--pin", "drive=in"], "not for plan route"),
        (["switches", "--no-sharing"], "not for plan switches"),
        (["curve", "--write", "new.toml"], "changes nothing"),
        (["curve", "--explain"], "not for plan curve"),
    ],
    ids=lambda words: " ".join(words) if isinstance(words, list) else "",
)
def test_what_makes_no_sense_is_said(run: Run, tmp_path: Path, words: list[str], said: str) -> None:
    """Anything mistyped is exit 2 with a message that names it, and nothing on standard output."""
    kind, *rest = words
    done = run("plan", kind, wasteful(tmp_path), *rest)
    assert (done.status, done.out) == (2, "")
    assert said in done.err
    assert "Traceback" not in done.err


def test_everything_that_makes_no_sense_is_said_at_once(run: Run, tmp_path: Path) -> None:
    """Five mistakes are five lines, each with what would be right."""
    words = ("--memories", "0", "--pin", "driev=in", "--keep", "cleen", "--setlist", "fryday",
             "--copies", "2")  # fmt: skip
    done = run("plan", "loops", wasteful(tmp_path), *words)
    assert (done.status, done.out) == (2, "")
    lines = done.err.splitlines()
    assert len(lines) == 6
    for said in (
        'memories must be 1 to 128, not "0"',
        "--copies is for switches and all, not for plan loops",
        'there is no pedal "driev": did you mean "drive"?',
        'there is no preset "cleen": did you mean "clean"?',
        'there is no setlist "fryday": did you mean "friday"?',
        "`rigtui plan --help` explains it",
    ):
        assert sum(said in line for line in lines) == 1


def test_pedal_used_between_songs_cannot_be_pinned(run: Run) -> None:
    """A tuner outside the loops has no place in one; the message says what to do."""
    done = run("plan", "loops", DEMOS / "quay-street.toml", "--pin", "tuner=in")
    assert (done.status, done.out) == (2, "")
    assert "Strobe tuner is used only between songs, so it can't go into a loop" in done.err


def test_bad_file(run: Run, tmp_path: Path) -> None:
    """A bad file is exit 2, with all its faults, and nothing is planned."""
    path = tmp_path / "bad.toml"
    path.write_text('format = 1\nname = 3\nbanjo = "x"\n')
    done = run("plan", "all", path)
    assert (done.status, done.out) == (2, "")
    assert len(done.err.splitlines()) == 2


def test_never_written_over(run: Run, tmp_path: Path) -> None:
    """A file that is there, a folder, a dangling link: exit 2 before anything is planned."""
    path, new = wasteful(tmp_path), tmp_path / "new.toml"
    new.write_text("mine")
    link = tmp_path / "link.toml"
    link.symlink_to(tmp_path / "nowhere.toml")
    for target in (new, path, tmp_path, link):
        done = run("plan", "switches", path, "--write", target)
        assert (done.status, done.out) == (2, "")
        assert "another name" in done.err
    assert new.read_text() == "mine"
    assert not (tmp_path / "nowhere.toml").exists()
    done = run("plan", "switches", path, "--write", tmp_path / "no" / "new.toml")
    assert (done.status, done.out) == (2, "")
    assert "no folder" in done.err


def test_file_that_appears_meanwhile_stays(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that another program makes while the planner works is not written over either."""
    new = tmp_path / "new.toml"

    def slow(rig: Any, question: Question, control: Control) -> Plan:
        from rigtui.plan.answer import plan

        new.write_text("mine")
        return plan(rig, question, control)

    monkeypatch.setattr("rigtui.cli.plan.command.plan", slow)
    done = run("plan", "switches", wasteful(tmp_path), "--write", new)
    assert (done.status, done.out) == (2, "")
    assert "already exists" in done.err
    assert new.read_text() == "mine"


def stopping(monkeypatch: pytest.MonkeyPatch, *, best: bool) -> None:
    """Have Ctrl-C come while the planner works, with a plan found so far or with none."""

    def interrupted(rig: Any, question: Question, control: Control) -> Plan:
        assert not control.over
        os.kill(os.getpid(), signal.SIGINT)
        assert control.over
        figures = Figures(7, 3, 2, 1)
        if not best:
            return Plan("switches", Status.TIMED_OUT, figures)
        return Plan("switches", Status.TIMED_OUT, figures, rig, figures, 4)

    monkeypatch.setattr("rigtui.cli.plan.command.plan", interrupted)


def test_ctrl_c_keeps_the_best(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C prints the best so far, says that it is not proved, and is exit 130."""
    stopping(monkeypatch, best=True)
    before = signal.getsignal(signal.SIGINT)
    done = run("plan", "switches", wasteful(tmp_path), "--setlist", "friday")
    assert done.status == 130
    assert "stopped early, not proved: no plan needs fewer presses inside" in done.out
    assert signal.getsignal(signal.SIGINT) is before
    planned = as_json(run("plan", "switches", tmp_path / "wasteful.toml", "--json"))
    assert planned["interrupted"]
    assert not planned["proved"]


def test_ctrl_c_before_anything_was_found(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl-C before there is any plan says so and writes nothing."""
    stopping(monkeypatch, best=False)
    new = tmp_path / "new.toml"
    done = run("plan", "switches", wasteful(tmp_path), "--write", new)
    assert done.status == 130
    assert "Stopped before finding a plan" in done.out
    assert not new.exists()


class _Screen(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_goes_to_a_terminal_alone(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a terminal progress is shown on one line of standard error, and wiped at the end."""
    path = wasteful(tmp_path)
    quiet = run("plan", "route", path)
    assert quiet.err == ""
    screen = _Screen()
    monkeypatch.setattr("sys.stderr", screen)
    assert run("plan", "route", path).out == quiet.out
    text = screen.getvalue()
    assert "walking the songs" in text
    assert "\n" not in text
    assert text.endswith("\r")


def test_names_are_text(run: Run, tmp_path: Path) -> None:
    """Names that try to command the terminal are made visible wherever a plan shows them."""
    evil = "[/] \u001b[41m\u202e"
    path = tmp_path / "evil.toml"
    data = make_data(
        name=evil,
        switcher=switcher(memories=4, bank_size=2, name=evil),
        pedals=[pedal("drive", name=evil), pedal("wah", name=evil)],
        loops=[loop(1, "drive")],
        chain={"front": ["wah", 1]},
        presets=[preset("one", name=evil, memory=1), preset("two", 1, name=evil, memory=3)],
        songs=[song("song", "one", section("two", name=evil, plus=["wah"]), "one", title=evil)],
        setlists=[setlist("night", "song", name=evil)],
    )
    path.write_text(dump(data), encoding="utf-8")
    for kind in KINDS:
        done = run("plan", kind, path)
        assert done.status == 0
        assert "[/] ␛[41m" in done.out
        assert not {"\u001b", "\u202e"} & set(done.out)
        assert run("plan", kind, path, "--json").out.isascii()


@pytest.mark.usefixtures("planned_once")
@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_findings_and_moves_between_songs_are_those_of_the_report(
    run: Run, tmp_path: Path, path: Path
) -> None:
    """What the plan says of findings and set-up moves is what the report says of the new file."""
    new = tmp_path / "new.toml"
    planned = as_json(run("plan", "all", path, "--json", "--write", new, "--seconds", "20"))
    for end, file in (("before", path), ("after", new)):
        report = as_json(run("report", file, "--json")._replace(status=0))
        standing = [
            finding["severity"] for finding in report["findings"] if finding["waived"] is None
        ]
        assert planned["findings"][end] == {
            weight: standing.count(weight) for weight in ("error", "warning", "advice")
        }
        set_up = sum(setlist["set_up_moves"] for setlist in report["setlists"])
        assert planned[f"set_up_moves_{end}"] == set_up
        assert planned[f"moves_in_all_{end}"] == planned[f"moves_{end}"] + set_up
    text = run("plan", "all", path, "--seconds", "20", "--all").out
    said = " ".join(text.split())
    assert (
        f"between songs {planned['set_up_moves_before']} → {planned['set_up_moves_after']}" in said
    )
    assert f"in all {planned['moves_in_all_before']} → {planned['moves_in_all_after']}" in said
    for caveat in planned["caveats"]:
        assert caveat in said


@pytest.mark.usefixtures("planned_once")
def test_what_is_mapped_anew_is_named(run: Run, tmp_path: Path) -> None:
    """Every section that the new file plays otherwise is listed, in JSON and as text, no other."""
    path, new = DEMOS / "three-piece.toml", tmp_path / "new.toml"
    planned = as_json(run("plan", "all", path, "--json", "--write", new, "--seconds", "20"))
    (_, old), (_, then) = load(path), load(new)
    differ = [
        (song.id, at)
        for song, other in zip(old.songs, then.songs)
        for at, (now, then) in enumerate(zip(song.sections, other.sections))
        if (now.preset, now.plus, now.minus) != (then.preset, then.plus, then.minus)
    ]
    assert [(row["song"], row["section"]) for row in planned["mapped"]] == differ
    text = run("plan", "all", path, "--seconds", "20", "--all").out
    assert ("Sections on another preset" in text) == bool(differ)
    for row in planned["mapped"]:
        assert f"{row['section'] + 1} {row['name']}" in text


def test_no_better_is_said(run: Run, tmp_path: Path) -> None:
    """A second plan on top of the first changes nothing, and says so once, before anything else."""
    new = tmp_path / "new.toml"
    assert run("plan", "switches", wasteful(tmp_path), "--write", new).status == 0
    done = run("plan", "switches", new)
    assert "\n\nLeave the rig as it is: no other order of the memories would take " in done.out
    assert "Know first" not in done.out
    assert not as_json(run("plan", "switches", new, "--json"))["better"]


def test_presets_without_memory_are_said(run: Run, tmp_path: Path) -> None:
    """Where today's figure leans on a preset that no memory holds, every kind of plan says so."""
    path = wasteful(tmp_path)
    path.write_text(path.read_text().replace("memory = 3\n", ""), encoding="utf-8")
    for kind in KINDS:
        said = " ".join(run("plan", kind, path, "--all").out.split())
        assert "2 sections of 1 song can't be played today: dirt isn't stored" in said, kind
    gaps = as_json(run("plan", "all", path, "--json"))["unheld"]
    assert gaps["sections"] == ["songs.low.sections.1", "songs.low.sections.3"]


def test_which_setlists_is_said(run: Run, tmp_path: Path) -> None:
    """All setlists count unless some are named, and the head says which."""
    path = wasteful(tmp_path)
    assert "For all 2 setlists (friday, sunday): 3 songs" in run("plan", "route", path).out
    alone = run("plan", "route", path, "--setlist", "sunday").out
    assert "For sunday alone: 1 song" in alone


@pytest.mark.parametrize("more", [(), ("--all",)], ids=["brief", "in full"])
def test_findings_that_there_is_no_time_for_are_said_not_to_be_compared(
    run: Run, monkeypatch: pytest.MonkeyPatch, more: tuple[str, ...]
) -> None:
    """The rules do not go on long after the time that was given; the plan says what is missing."""
    over = Control(cancelled=lambda: True)
    monkeypatch.setattr(Control, "finishing", lambda self, seconds: over)
    asked = ("plan", "route", RIGS[0])
    done = run(*asked, *more)
    assert " ".join(done.out.split()).count(NOT_COMPARED) == 1
    planned = as_json(run(*asked, "--json"))
    assert planned["findings"] is None
    assert NOT_COMPARED in planned["caveats"]
