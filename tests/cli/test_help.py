"""The help teaches: what each command does, an example, and what its exit status says."""

from __future__ import annotations

import importlib
import subprocess
import sys
from pkgutil import walk_packages

import pytest
from cli.conftest import Run
from cli.test_processes import HEAVY

import rigtui
from rigtui import cli
from rigtui.cli import home_of
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


def test_every_command_has_a_module_and_every_module_a_command() -> None:
    """What can be typed runs, and what can run can be typed."""
    homes = {home_of(name) for name in (None, *COMMANDS)}
    able = {
        name
        for name in (module.name for module in walk_packages(cli.__path__, "rigtui.cli."))
        if callable(getattr(importlib.import_module(name), "run", None))
    }
    assert able == homes


def test_no_help_loads_anything_heavy() -> None:
    """Whatever its help tells, it is there at once."""
    code = (
        "import sys\n"
        "from rigtui.cli.arguments import COMMANDS, parser_of\n"
        "for name in (None, *COMMANDS): parser_of(name).format_help()\n"
        f"print(sorted({HEAVY!r} & {{name.partition('.')[0] for name in sys.modules}}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)
    assert done.stdout == "[]\n"


def test_version(run: Run) -> None:
    """The version is the package's own."""
    assert run("--version") == (0, f"rigtui {rigtui.__version__}\n", "")
