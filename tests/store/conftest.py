"""Fixtures of the tests of files."""

from __future__ import annotations

from pathlib import Path

import pytest
from store.rig_texts import text


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A rig file: its song plays at a tempo of 60."""
    path = tmp_path / "rig.toml"
    path.write_bytes(text(60).encode())
    return path
