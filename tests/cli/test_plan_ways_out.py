"""What the command line offers works as it is printed: ways out, and the help's examples.

The command line itself is the judge: what it prints is typed back, and must be accepted.
"""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from cli.conftest import Run
from plan.test_loops import drawn
from rigs_made import loop, make_data, pedal, preset, setlist, song, switcher
from screens import DEMOS

from rigtui.cli.plan.arguments import plan
from rigtui.cli.plan.command import question_of
from rigtui.cli.plan.typed import options
from rigtui.model.rig import Rig
from rigtui.plan.ask.question import MEANT_FOR, Question
from rigtui.store.load import load
from rigtui.store.toml_write import dump

QUAY = DEMOS / "quay-street.toml"
WAY = re.compile(r"^  - (.*?)(?:: ((?:--|without --).*))?$")


def ways_out(text: str) -> list[tuple[str, str]]:
    """The ways out that are printed, each with what it says to type."""
    lines = text.splitlines()
    at = next(nth for nth, line in enumerate(lines) if "it work" in line)
    said: list[str] = []
    for line in lines[at + 1 :]:
        if line.startswith("  - "):
            said.append(line)
        elif line.startswith("    "):
            said[-1] += f" {line.strip()}"
        else:
            break
    ways = [WAY.match(line) for line in said]
    return [(finding[1], finding[2] or "") for finding in ways if finding]


def typed_back(asked: list[str], way: str) -> list[str]:
    """The options that were typed, with what a way out says in the place of what it changes."""
    words = list(asked)
    for part in way.split(", "):
        if part.startswith("without "):
            words.remove(part.removeprefix("without "))
        for name, value in re.findall(r"(--\w+) ([\d,]+)", part):
            if not part.startswith("without "):
                words = [word for word in words if word.split()[0] != name] + [f"{name} {value}"]
    return words


def spelled(asked: list[str]) -> list[str]:
    return [word for option in asked for word in shlex.split(option)]


def written(folder: Path, rig: Rig) -> Path:
    path = folder / "rig.toml"
    path.write_text(dump(rig.model_dump(exclude_unset=True)), encoding="utf-8")
    return path


def check_ways_out(run: Run, path: Path, kind: str, asked: list[str], new: Path) -> int:
    """Type back every way out; return how many there were."""
    first = run("plan", kind, path, *spelled(asked))
    if first.status != 1 or "it work" not in first.out:
        assert first.status in (0, 1), first.err
        return 0
    ways = ways_out(first.out)
    assert ways
    for words, way in ways:
        if not way:
            assert "merge presets" in words or "in banks" in words, words
            continue
        new.unlink(missing_ok=True)
        again = typed_back(asked, way)
        done = run("plan", kind, path, *spelled(again), "--write", new)
        assert (done.status, done.err) == (0, ""), (asked, way)
        _, rig = load(new)
        for name, value in (
            word.split() for word in again if word.startswith(("--mem", "--loops"))
        ):
            numbers = [int(word) for word in value.split(",")]
            if name == "--memories":
                assert rig.switcher is not None
                assert rig.switcher.memories == numbers[0]
            elif len(numbers) == 1:
                assert len(rig.loops) == numbers[0]
            else:
                sides = [loop.side for loop in rig.loops]
                assert [sides.count("front"), sides.count("fx")] == numbers
        assert "memory-out-of-range" not in run("report", new, "--json").out
    return len(ways)


@pytest.mark.parametrize("kind", ["loops", "all"])
def test_every_way_out_works_as_it_is_printed(run: Run, tmp_path: Path, kind: str) -> None:
    """Where no plan is possible, each way out is typed back and gives a plan."""
    tried = 0
    for seed in range(60):
        rig, asked = drawn(seed)
        path = written(tmp_path, rig)
        tried += check_ways_out(run, path, kind, [*map(str, options(asked))], tmp_path / "new.toml")
    assert tried > 20


@pytest.mark.parametrize(
    "asked",
    [
        [],
        ["--memories 6"],
        ["--pin-switch crunch=3", "--memories 4"],
    ],
    ids=repr,
)
def test_ways_out_of_too_few_memories(run: Run, tmp_path: Path, asked: list[str]) -> None:
    """The same for presets that the switcher cannot all store."""
    assert check_ways_out(run, QUAY, "switches", asked, tmp_path / "new.toml")


def test_pin_beyond_the_memories_asked_for(run: Run) -> None:
    """A preset cannot be pinned to a memory that the switcher planned for has not got."""
    for kind in ("all", "switches"):
        done = run("plan", kind, QUAY, "--memories", "4", "--pin-switch", "stack=8")
        assert (done.status, done.out) == (2, "")
        assert "can't be in memory 8: you plan for memories 1 to 4" in done.err


def test_pin_on_a_preset_that_goes_is_said(run: Run) -> None:
    """Where the plan throws a pinned preset away, the notes say that the pin went with it."""
    _, rig = load(QUAY)
    said = 0
    for pinned in rig.presets:
        pin = ("--pin-switch", f"{pinned.id}=2", "--seconds", "1")
        done = run("plan", "all", QUAY, *pin, "--json")
        assert done.status == 0
        if f'"id": "{pinned.id}"' not in done.out:
            assert "so it can't be pinned to a memory" in done.out
            said += 1
    assert said


def test_without_bank_buttons_memories_are_the_footswitches(run: Run, tmp_path: Path) -> None:
    """No more can be recalled than the row holds: said before anything is planned."""
    data = make_data(
        switcher=switcher(4, 4, bank_buttons="none"),
        pedals=[pedal("drive")], loops=[loop(1, "drive")], chain={"front": [1]},
        presets=[preset("clean", memory=1), preset("dirt", 1, memory=2)],
        songs=[song("low", "clean", "dirt")],
    )  # fmt: skip
    path = tmp_path / "rig.toml"
    path.write_text(dump(data), encoding="utf-8")
    for kind in ("loops", "switches", "all"):
        done = run("plan", kind, path, "--memories", "5")
        assert (done.status, done.out) == (2, "")
        assert "memories must be 1 to 4, not 5" in done.err
        assert run("plan", kind, path, "--memories", "3").status == 0


def test_examples_of_the_help_run(run: Run, tmp_path: Path) -> None:
    """Each example line of the help is accepted for a rig that has what it names."""
    data = make_data(
        switcher=switcher(8, 4),
        pedals=[pedal("wah", "wah"), pedal("drive"), pedal("delay", "delay", "fx")],
        loops=[loop(1, "wah"), loop(2, "drive"), loop(3, "delay", side="fx")],
        chain={"front": [1, 2], "fx": [3]},
        presets=[preset("clean", memory=1), preset("lead", 2, 3, memory=2)],
        songs=[song("low", "clean", "lead")],
        setlists=[setlist("friday", "low")],
    )  # fmt: skip
    (tmp_path / "rig.toml").write_text(dump(data), encoding="utf-8")
    text = run("plan", "--help").out.split("examples:")[1].split("\n\n")[0]
    examples = [line.strip() for line in text.strip().splitlines()]
    assert len(examples) >= 5
    for example in examples:
        command = example.split(" | ")[0].split("   ")[0]
        name, *words = shlex.split(command)
        assert name == "rigtui"
        here = [str(tmp_path / word) if word.endswith(".toml") else word for word in words]
        done = run(*here)
        assert (done.status, done.err) == (0, ""), example


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("memories", "switches"), ("presets", "switches"), ("switchs", "switches"), ("walk", "route")],
)
def test_other_names_lead_to_the_kind(run: Run, typed: str, meant: str) -> None:
    """Who types what the guide calls it is told the word that the command line knows."""
    done = run("plan", typed, QUAY)
    assert (done.status, done.out) == (2, "")
    assert f'did you mean "{meant}"' in done.err


def test_every_option_is_typed_and_read_back() -> None:
    """A question in which all options are set is typed, read back, and is the same question."""
    everything = Question(
        "all", pins={"wah": "in", "my drive": "out"}, keep=("lead",), apart=(("chorus", "delay"),),
        sharing=False, keep_order=True, loops={"front": 4, "fx": 2}, memories=12,
        pin_switch={"lead": 4}, first="extra", copies=2,
    )  # fmt: skip
    either = Question("loops", total_loops=5)
    usual = Question()
    for option in MEANT_FOR:
        asked = either if option == "total_loops" else everything
        assert getattr(asked, option) != getattr(usual, option), option
    for asked in (everything, either):
        words = spelled([*map(str, options(asked))])
        assert question_of(plan().parse_args([asked.kind, "rig.toml", *words])) == (asked, [])
