"""The command line as a process of its own: what only shows from outside."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from patience import PATIENCE_SECONDS

HEAVY = {"textual", "rich", "pydantic", "networkx", "numpy", "scipy", "tomlkit", "wcwidth"}
IMPORTS = """
import sys
from rigtui.cli import main
status = main(sys.argv[1:])
print(*sorted({name.partition(".")[0] for name in sys.modules}), file=sys.stderr)
sys.exit(status)
"""


def _start(*arguments: str | bytes | Path, **more: object) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, *arguments],  # type: ignore[list-item]
        **{"capture_output": True, "check": False, "timeout": PATIENCE_SECONDS, **more},  # type: ignore[call-overload]
    )


@pytest.mark.parametrize(
    ("words", "needs"),
    [
        (["--help"], ()),
        (["report", "--help"], ()),
        (["new", "FILE"], ()),
        (["report", "FILE"], ("numpy", "pydantic")),
        (["report", "FILE", "--json"], ("numpy", "pydantic")),
        (["report", "FILE", "--song", "low-fen"], ("pydantic",)),
    ],
    ids=" ".join,
)
def test_commands_load_only_what_they_need(
    rig_file: Path, tmp_path: Path, words: list[str], needs: tuple[str, ...]
) -> None:
    """Help loads nothing heavy, and no command but the screens loads the screen library."""
    file = tmp_path / "new.toml" if words[0] == "new" else rig_file
    done = _start("-c", IMPORTS, *(str(file) if word == "FILE" else word for word in words))
    assert done.returncode == 0
    assert HEAVY & set(done.stderr.decode().split()) == set(needs)


def test_the_module_runs_like_the_command(rig_file: Path) -> None:
    """`python -m rigtui` reports in UTF-8 with status 0 and without colour in a pipe."""
    done = _start("-m", "rigtui", "report", rig_file, env={**os.environ, "PYTHONUTF8": "1"})
    assert (done.returncode, done.stderr) == (0, b"")
    assert "██████" in done.stdout.decode("utf-8")
    assert b"\x1b" not in done.stdout


def test_an_ascii_terminal_gets_ascii(rig_file: Path) -> None:
    """Where standard output takes ASCII only, the report still comes out whole."""
    plain = {**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    done = _start("-m", "rigtui", "report", rig_file, env=plain)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"-> Solo (section 2) of Low Fen" in done.stdout


@pytest.mark.skipif(os.name == "nt", reason="pipes end differently there")
def test_a_reader_that_has_gone_is_no_fault(rig_file: Path) -> None:
    """As before `| head`: a closed pipe gives no message and keeps the status."""
    reader, writer = os.pipe()
    os.close(reader)
    done = _start(
        "-m", "rigtui", "report", rig_file,
        capture_output=False, stdout=writer, stderr=subprocess.PIPE,
    )  # fmt: skip
    os.close(writer)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no full device here")
def test_a_full_disk_is_told(rig_file: Path) -> None:
    """A report that could not be written whole does not pass for one that was."""
    with open("/dev/full", "wb") as full:
        done = _start(
            "-m", "rigtui", "report", rig_file, "--json",
            capture_output=False, stdout=full, stderr=subprocess.PIPE,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr == b"rigtui report: standard output: No space left on device\n"


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no full device here")
@pytest.mark.parametrize(
    "words",
    [
        ["export", "FILE", "-o", "-"],
        ["export", "FILE", "-o", "songs.csv"],
        ["midi", "FILE", "--song", "low-fen", "-o", "-"],
        ["midi", "FILE"],
        ["sheet", "floor", "FILE"],
        ["sheet", "floor", "FILE", "--format", "pdf"],
        ["sheet", "floor", "FILE", "-o", "floor.md"],
        ["schema"],
        ["new", "other.toml"],
        ["restore", "FILE"],
        ["import", "FILE", "--from", "FILE", "--same", "skip", "--check"],
    ],
    ids=" ".join,
)
def test_every_command_says_that_nothing_could_be_said(rig_file: Path, words: list[str]) -> None:
    """Status 2 and the reason, wherever it is that standard output takes no more."""
    given = [rig_file.name if word == "FILE" else word for word in words]
    with open("/dev/full", "wb") as full:
        done = _start(
            "-m", "rigtui", *given,
            capture_output=False, stdout=full, stderr=subprocess.PIPE, cwd=rig_file.parent,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        )  # fmt: skip
    said = f"rigtui {words[0]}: standard output: No space left on device\n"
    assert (done.returncode, done.stderr.decode()) == (2, said)


@pytest.mark.skipif(not os.path.exists("/dev/stdout"), reason="no such device here")
def test_standard_output_by_another_name_is_refused_at_once(rig_file: Path) -> None:
    """It waited for ever to read from the pipe that it was to write into."""
    done = _start("-m", "rigtui", "export", rig_file, "-o", "/dev/stdout")
    assert (done.returncode, done.stdout) == (2, b"")
    assert b"/dev/stdout is a pipe or a device, not a file: name a file, or -" in done.stderr


@pytest.mark.skipif(sys.platform != "linux", reason="other systems refuse such names")
def test_a_file_name_that_is_no_text_is_read(rig_file: Path) -> None:
    """A name in an old encoding opens, and is shown with a mark where it cannot be shown."""
    odd = os.fsencode(rig_file.parent) + b"/caf\xe9\x1b[31m.toml"
    os.rename(os.fsencode(rig_file), odd)
    done = _start("-m", "rigtui", "report", odd, env={**os.environ, "PYTHONUTF8": "1"})
    assert (done.returncode, done.stderr) == (0, b"")
    assert "caf\ufffd␛[31m.toml" in done.stdout.decode("utf-8").replace("\n  ", "")


def test_the_first_screen_is_painted_before_anything_heavy_is_loaded() -> None:
    """What a rig opens in needs neither the models nor the rules nor the sheets."""
    first = (
        "import sys, rigtui.tui.opening, rigtui.tui.views.presets.view\n"
        "from rigtui.tui.views.all_views import FIRST, VIEW_OF\n"
        "assert VIEW_OF[FIRST].home == 'presets.view'\n"
        "print(*sorted(sys.modules))"
    )
    done = _start("-c", first)
    loaded = set(done.stdout.decode().split())
    assert "rigtui.tui.views.presets.view" in loaded
    heavy = {"pydantic", "networkx", "numpy", "wcwidth", "reportlab",
             "rigtui.checks", "rigtui.moves", "rigtui.paper", "rigtui.model.rig"}  # fmt: skip
    assert heavy & loaded == set()
