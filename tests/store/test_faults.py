"""What is said of a fault of the program where no log file can be written."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigtui.store.faults import what_to_report


def test_without_a_log_file_the_place_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On the terminal then, if it is known; what the fault says is cut to its first line."""
    (tmp_path / "file").touch()
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "file"))
    fault = ValueError("broken\nand more")
    assert what_to_report(fault) == "ValueError: broken"
    with pytest.raises(ValueError, match="broken"):
        raise fault
    assert what_to_report(fault).startswith("ValueError: broken (")
    assert "test_faults, line " in what_to_report(fault)
