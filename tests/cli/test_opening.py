"""`rigtui` opens the screens, and says what is wrong where there is nothing to open."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest
from cli.conftest import Run

from rigtui.cli.arguments import COMMANDS

_KNOWN = f"commands: {', '.join(COMMANDS)}"


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[Path | None]:
    """What the screens were opened on; there is a terminal, and they end with status 7."""
    paths: list[Path | None] = []

    def run_screens(path: Path | None) -> int:
        paths.append(path)
        return 7

    monkeypatch.setitem(sys.modules, "rigtui.tui.opening", SimpleNamespace(run=run_screens))
    monkeypatch.setattr("rigtui.cli.screens._is_terminal", lambda stream: True)
    return paths


def test_alone_it_opens_the_chooser(run: Run, opened: list[Path | None]) -> None:
    """Without a file the screens choose: the last rig, the demo rigs, a new one."""
    assert run() == (7, "", "")
    assert opened == [None]


@pytest.mark.parametrize("name", ["rig.toml", "./report", "./new", "[bold].toml"])
def test_a_file_is_opened(
    run: Run,
    opened: list[Path | None],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    name: str,
) -> None:
    """The screens get the file, and their exit status is passed on."""
    monkeypatch.chdir(tmp_path)
    Path(name).write_text('format = 1\nname = "x"\n')
    assert run(name) == (7, "", "")
    assert opened == [Path(name)]


def test_two_dashes_end_the_commands(
    run: Run, opened: list[Path | None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After -- a word is a file, whatever it is called."""
    monkeypatch.chdir(tmp_path)
    Path("report").write_text("")
    assert run("--", "report").status == 7
    assert opened == [Path("report")]


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["repotr"], "repotr: no such file, and no such command; did you mean report?"),
        (["repotr", "a.toml"], "repotr: no such file, and no such command; did you mean report?"),
        (["zzzz"], "zzzz: no such file, and no such command; " + _KNOWN),
        (["friday"], "friday: no such file, and no such command; did you mean friday.toml?"),
        (["fryday.toml"], "fryday.toml: no such file; did you mean friday.toml? "
         "`rigtui new fryday.toml` writes a starter rig"),
        (["other.toml"], "other.toml: no such file; "
         "`rigtui new other.toml` writes a starter rig"),
        (["gigs/fryday.toml"], f"gigs/fryday.toml: no such file; did you mean "
         f"{os.path.join('gigs', 'friday.toml')}? `rigtui new gigs/fryday.toml` writes a "
         "starter rig"),
        (["gone/a.toml"], "gone/a.toml: no such file (and there is no folder gone)"),
        ([""], ": no such file, and no such command; " + _KNOWN),
        (["\x1b[31m"], "␛[31m: no such file, and no such command; " + _KNOWN),
        (["friday.toml", "gigs"], "rigtui: one file at a time: open friday.toml without gigs"),
    ],
)  # fmt: skip
def test_what_is_neither_file_nor_command_is_named(
    run: Run,
    opened: list[Path | None],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    words: list[str],
    message: str,
) -> None:
    """The message says what may have been meant, and no screen is opened."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "gigs").mkdir()
    for file in ("friday.toml", "gigs/friday.toml"):
        (tmp_path / file).write_text("")
    assert run(*words) == (2, "", message + "\n")
    assert opened == []


@pytest.mark.parametrize("with_file", [True, False])
def test_without_a_terminal_the_report_is_offered(
    run: Run, rig_file: Path, with_file: bool
) -> None:
    """Screens in a pipe make no sense; the same in text is one command away."""
    done = run(*([rig_file] if with_file else []))
    named = rig_file if with_file else "FILE"
    expected = f"the screens need a terminal; `rigtui report {named}` prints a report\n"
    assert done == (2, "", expected)


def test_a_terminal_that_can_only_print_gets_the_report(
    run: Run, rig_file: Path, opened: list[Path | None], monkeypatch: pytest.MonkeyPatch
) -> None:
    """With TERM=dumb a file is reported on as text, without an escape, and no screen is opened."""
    report = run("report", rig_file)
    monkeypatch.setenv("TERM", "dumb")
    assert run(rig_file) == report
    assert report.out
    assert "\x1b" not in report.out
    assert opened == []
    assert run().err == "the screens need a terminal; `rigtui report FILE` prints a report\n"
