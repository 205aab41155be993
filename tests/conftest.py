"""What all tests share: Hypothesis profiles, and the user's own folders kept out of reach."""

from __future__ import annotations

import os
import time
from collections import Counter
from itertools import count
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from examples import TIMES
from hypothesis import HealthCheck, settings

from rigtui.checks import engine
from rigtui.plan.ask import control

settings.register_profile(
    "drawn anew",
    deadline=None,
    max_examples=round(50 * TIMES),
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "repeatable", settings.get_profile("drawn anew"), derandomize=True, database=None
)

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
_COUNT = count()


def pytest_configure(config: pytest.Config) -> None:
    """A common run is repeatable; one that looks for faults draws others each time."""
    looks = "EXAMPLES" in os.environ or config.option.markexpr == "long"
    settings.load_profile("drawn anew" if looks else "repeatable")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Two workers a core: a test of a screen waits for half of its time."""
    return 2 * (os.cpu_count() or 1)


@pytest.fixture(scope="session")
def folders_of_all(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the folders of the tests stand: made and named by count, which takes no time."""
    return tmp_path_factory.mktemp("users")


@pytest.fixture(autouse=True)
def folders_of_nobody(folders_of_all: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Point every folder that the program may keep things in at one for this test alone.

    There is nothing at first but the one of the user, as on a machine that is new.
    """
    root = folders_of_all / str(next(_COUNT))
    (root / "home").mkdir(parents=True)
    for variable, name in _FOLDERS.items():
        monkeypatch.setenv(variable, str(root / name))
    for variable in ("NO_COLOR", "FORCE_COLOR"):
        monkeypatch.delenv(variable, raising=False)
    monkeypatch.setenv(
        "COLORTERM", "truecolor"
    )  # else what is painted hangs on the terminal's name
    return root


@pytest.fixture(scope="session", autouse=True)
def rules_that_fail_fail_the_test() -> None:
    """A player gets a report whatever a rule does; a test of such a rule must not pass."""
    engine.FAIL_LOUDLY = True


@pytest.fixture(scope="session", autouse=True)
def planners_are_given_processor_time() -> None:
    """What a plan comes to in its seconds must not hang on what else the machine does."""
    control.time = SimpleNamespace(monotonic=time.process_time)  # type: ignore[assignment]


@pytest.fixture
def user_folders(folders_of_nobody: Path) -> Path:
    """The folder in which `home`, `config`, `data`, `state` and `cache` of this test stand."""
    return folders_of_nobody


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """Print what long tests have counted (`record_property("counts", ...)`), summed a test."""
    sums: dict[str, Counter[str]] = {}
    stats = terminalreporter.stats
    for report in (*stats.get("passed", ()), *stats.get("failed", ())):
        for name, value in getattr(report, "user_properties", ()):
            if name == "counts" and report.when == "call":
                sums.setdefault(report.nodeid.partition("[")[0], Counter()).update(value)
    if sums:
        terminalreporter.section("counts")
        for test, counts in sums.items():
            words = ", ".join(f"{name} {number}" for name, number in counts.items())
            terminalreporter.write_line(f"{test}: {words}")
