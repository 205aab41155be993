"""What all tests share: Hypothesis profiles, and the user's own folders kept out of reach."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "default",
    deadline=None,
    max_examples=100,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("ci", settings.get_profile("default"), derandomize=True, database=None)
settings.load_profile("ci" if os.environ.get("CI") else "default")

_FOLDERS = {
    "HOME": "home",
    "USERPROFILE": "home",
    "XDG_CONFIG_HOME": "config",
    "XDG_DATA_HOME": "data",
    "XDG_STATE_HOME": "state",
    "XDG_CACHE_HOME": "cache",
    "APPDATA": "data",
    "LOCALAPPDATA": "state",
}


@pytest.fixture(autouse=True)
def folders_of_nobody(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch):
    """Point every folder that the program may keep things in at one made for this test alone."""
    root = tmp_path_factory.mktemp("user")
    for variable, name in _FOLDERS.items():
        folder = root / name
        folder.mkdir(exist_ok=True)
        monkeypatch.setenv(variable, str(folder))
    for variable in ("NO_COLOR", "FORCE_COLOR"):
        monkeypatch.delenv(variable, raising=False)
    return root


@pytest.fixture
def user_folders(folders_of_nobody: Path) -> Path:
    """The folder in which `home`, `config`, `data`, `state` and `cache` of this test stand."""
    return folders_of_nobody
