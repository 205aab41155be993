"""`rigtui settings`: the file is opened, listed and checked."""

from __future__ import annotations

import sys

import pytest
from cli.conftest import Run

from rigtui.store.kept import settings_path
from rigtui.tui.settings_file import starter_text


def test_command_line(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """It prints where the file is, lists the keys, opens the editor, and says what is wrong."""
    path = settings_path()
    assert run("settings", "--path").out == f"{path}\n"
    assert "app.save" in run("settings", "--list").out
    monkeypatch.delenv("VISUAL", raising=False)
    monkeypatch.delenv("EDITOR", raising=False)
    assert run("settings").out == f"{path}\n"
    assert path.read_text(encoding="utf-8") == starter_text()
    editor = "import sys, pathlib; pathlib.Path(sys.argv[1]).write_text('theme = 1')"
    monkeypatch.setenv("EDITOR", f'{sys.executable} -c "{editor}"')
    done = run("settings")
    assert (done.status, done.out) == (2, "")
    assert done.err == f"{path}: line 1: theme must be dark, light or high-contrast, not 1\n"
    path.write_text('theme = "light"')
    assert run("settings", "--check").status == 0
    monkeypatch.setenv("EDITOR", "/nosuch/editor")
    assert "can't be started" in run("settings").err
