"""`rigtui man`: one page with the help of all commands, which man reads."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from cli.conftest import Run
from patience import PATIENCE_SECONDS

from rigtui.cli.arguments import COMMANDS


def test_every_command_is_in_the_page(run: Run, tmp_path: Path) -> None:
    """Each has its part, and -o writes the same."""
    page = run("man").out
    assert page.startswith(".TH RIGTUI 1 ")
    assert [name for name in COMMANDS if f'.SS "rigtui {name}"' not in page] == []
    assert run("man", "-o", tmp_path / "rigtui.1").status == 0
    assert (tmp_path / "rigtui.1").read_text(encoding="utf-8") == page


@pytest.mark.skipif(shutil.which("groff") is None, reason="groff is not installed")
def test_groff_reads_it_without_a_word(run: Run) -> None:
    """No unknown request, and what was written comes out as it was.

    Source: groff, the formatter behind man(1).
    """
    done = subprocess.run(
        ["groff", "-man", "-ww", "-Tascii", "-P-c", "-rLL=100n"],
        input=run("man").out, capture_output=True, text=True, timeout=PATIENCE_SECONDS,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    for line in run("report", "--help").out.splitlines()[3:]:
        assert line.strip() in done.stdout
