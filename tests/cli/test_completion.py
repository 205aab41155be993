"""What a shell completes after `rigtui`: the shell itself is the judge."""

from __future__ import annotations

import shlex
import shutil
import subprocess
from pathlib import Path

import pytest
from cli.conftest import Run
from patience import PATIENCE_SECONDS
from screens import DEMOS

from rigtui.cli.arguments import COMMANDS
from rigtui.cli.completion import words_of

TYPED = [
    ("rigtui repo", {"report"}),
    ("rigtui plan com", {"compromise"}),
    ("rigtui report --fail-on ", {"error", "warning", "advice"}),
    ("rigtui plan all --fir", {"--first"}),
    ("rigtui plan all --first m", {"moves"}),
    ("rigtui plan compromise --at", {"--at-most"}),
    ("rigtui sheet reh", {"rehearsal"}),
    ("rigtui report quay", {"quay-street.toml"}),
    ("rigtui plan compromise quay", {"quay-street.toml"}),
    ("rigtui quay", {"quay-street.toml"}),
]
BASH = """source {script}
COMP_WORDS=({words}); COMP_CWORD=$(( ${{#COMP_WORDS[@]}} - 1 )); _rigtui
printf '%s\\n' "${{COMPREPLY[@]}}"
"""
FISH = """source {script}
complete -C {line} | string replace -r '\\t.*' ''
"""
SHELLS = {"bash": BASH, "fish": FISH}
"""zsh runs the script for bash, but only on a terminal."""


@pytest.mark.parametrize("shell", SHELLS)
def test_the_shell_completes(run: Run, tmp_path: Path, shell: str) -> None:
    """Commands, options, choices, rig files."""
    program = shutil.which(shell)
    if program is None:
        pytest.skip(f"{shell} is not installed")
    script = tmp_path / "script"
    script.write_text(run("completion", shell).out, encoding="utf-8")
    for line, wanted in TYPED:
        words = [shlex.quote(word) for word in line.split(" ")]
        text = SHELLS[shell].format(script=script, words=" ".join(words), line=shlex.quote(line))
        done = subprocess.run(
            [program, "-c", text],
            capture_output=True,
            text=True,
            cwd=DEMOS,
            timeout=PATIENCE_SECONDS,
        )  # fmt: skip
        assert done.stderr == ""
        assert set(done.stdout.split()) == wanted, line


def test_zsh_takes_the_script_of_bash(run: Run) -> None:
    """What is added has it read as bash would read it."""
    bash, zsh = run("completion", "bash").out, run("completion", "zsh").out
    assert zsh.endswith(bash.partition("\n")[2])
    assert "bashcompinit" in zsh


@pytest.mark.parametrize("command", COMMANDS)
def test_every_option_of_every_command(run: Run, command: str) -> None:
    """Each option that the help shows is completed."""
    said = run(*command.split(), "--help").out
    assert words_of(command).options
    assert [option for option in words_of(command).options if option not in said] == []
