"""A script can tell from the exit status alone how a report went."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli.conftest import Run, finding

from rigtui.checks import Finding
from rigtui.store.state import state_folder

LEVELS = ("error", "warning", "advice")


@pytest.mark.parametrize("form", [(), ("--json",)], ids=["text", "json"])
@pytest.mark.parametrize(
    ("worst", "failing"),
    [
        ("error", {"error", "warning", "advice", None}),
        ("warning", {"warning", "advice"}),
        ("advice", {"advice"}),
        ("nothing", set()),
    ],
)
def test_findings_fail_from_a_level_on(
    run: Run,
    rig_file: Path,
    findings: list[Finding],
    worst: str,
    failing: set[str | None],
    form: tuple[str, ...],
) -> None:
    """A finding at or above --fail-on gives 1, all else 0; left out, the level is error."""
    findings += [finding(level) for level in LEVELS if worst in LEVELS[: LEVELS.index(level) + 1]]
    for level in (*LEVELS, None):
        asked = () if level is None else ("--fail-on", level)
        done = run("report", rig_file, *form, *asked)
        assert (done.status, done.err) == (int(level in failing), "")
        assert done.out


def test_a_waived_finding_does_not_fail(run: Run, rig_file: Path, findings: list[Finding]) -> None:
    """What the player has accepted, even without a reason, stops no script."""
    findings += [finding("error", waived="known"), finding("error", waived="")]
    assert run("report", rig_file, "--fail-on", "advice").status == 0


def test_a_finding_outside_the_scope_does_not_fail(
    run: Run, rig_file: Path, findings: list[Finding]
) -> None:
    """Asked about one song, the trouble of another does not count."""
    findings += [finding("error", "songs.low-fen.sections.1")]
    assert run("report", rig_file, "--song", "tin-moth").status == 0
    assert run("report", rig_file, "--song", "low-fen").status == 1


def test_a_real_error_fails(run: Run, tmp_path: Path) -> None:
    """A song on a preset that does not exist is reported, and the file still opens."""
    path = tmp_path / "rig.toml"
    path.write_text(
        'format = 1\nname = "x"\npresets = [{ id = "lead" }]\n'
        'songs = [{ id = "a", tempo = 118, '
        'sections = [{ name = "Solo", bars = 8, preset = "leed" }] }]\n'
    )
    done = run("report", path)
    assert done.status == 1
    assert "unknown-name" in done.out
    assert '"leed"' in done.out


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--song", "low-fem"], 'there is no song with the id "low-fem"; did you mean low-fen?'),
        (
            ["--song", "zzz"],
            'there is no song with the id "zzz"; it has low-fen, tin-moth, left-out',
        ),
        (["--setlist", "fryday"], 'there is no setlist with the id "fryday"; did you mean friday?'),
        (["--setlist", "low-fen"], 'there is no setlist with the id "low-fen"; it has friday'),
        (
            ["--song", "\x1b[2J"],
            'there is no song with the id "␛[2J"; it has low-fen, tin-moth, left-out',
        ),
    ],
)
def test_an_unknown_id_names_the_nearest(
    run: Run, rig_file: Path, arguments: list[str], message: str
) -> None:
    """A mistyped id gives 2 and what may have been meant."""
    done = run("report", rig_file, *arguments)
    assert done == (2, "", f"{rig_file}: {message}\n")


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ([], "the following arguments are required: FILE"),
        (["a.toml", "b.toml"], "unrecognized arguments: b.toml"),
        (["a.toml", "--song", "a", "--setlist", "b"], "not allowed with argument"),
        (["a.toml", "--fail-on", "nothing"], "invalid choice: 'nothing'"),
        (["a.toml", "--js"], "unrecognized arguments: --js"),
        (["a.toml", "--\x1b[31m"], "unrecognized arguments: --␛[31m"),
    ],
)
def test_bad_usage_is_explained(run: Run, arguments: list[str], message: str) -> None:
    """Something mistyped gives 2, says what, and points to the help."""
    done = run("report", *arguments)
    assert (done.status, done.out) == (2, "")
    assert message in done.err
    assert "`rigtui report --help` explains it" in done.err


def test_ctrl_c_ends_quietly(run: Run, rig_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C gives 130 and no text."""

    def interrupted(rig: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("rigtui.cli.report.check", interrupted)
    assert run("report", rig_file) == (130, "", "")


def test_a_fault_of_the_program_is_owned_up_to(
    run: Run, rig_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fault of rigtui is neither "a finding" nor "a bad file": 70, one line, and a log file."""

    def broken(rig: object) -> None:
        raise TypeError("no such \x1b[31mthing")

    monkeypatch.setattr("rigtui.cli.report.check", broken)
    done = run("report", rig_file)
    assert (done.status, done.out) == (70, "")
    (line,) = done.err.splitlines()
    assert "a fault in rigtui, not in your file" in line
    (log,) = state_folder("faults").iterdir()
    assert line.endswith(f"Please report what {log} says (TypeError: no such ␛[31mthing)")
    assert "test_exit_status.py" in log.read_text()
