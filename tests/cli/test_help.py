"""The help teaches: what each command does, an example, and what its exit status says."""

from __future__ import annotations

import pytest
from cli.conftest import Run

import rigtui
from rigtui.cli.arguments import COMMANDS


@pytest.mark.parametrize("command", [(), *((name,) for name in COMMANDS)], ids=str)
@pytest.mark.parametrize("option", ["--help", "-h"])
def test_help_explains(run: Run, command: tuple[str, ...], option: str) -> None:
    """Every help has an example and the exit status, and fits 80 columns."""
    done = run(*command, option)
    assert (done.status, done.err) == (0, "")
    assert "examples:" in done.out
    assert "exit status:" in done.out
    assert done.out.isascii()
    assert max(map(len, done.out.splitlines())) <= 80


def test_help_names_every_command(run: Run) -> None:
    """The first help leads to all others."""
    out = run("--help").out
    assert [name for name in COMMANDS if f"  rigtui {name} " not in out] == []


def test_version(run: Run) -> None:
    """The version is the package's own."""
    assert run("--version") == (0, f"rigtui {rigtui.__version__}\n", "")
