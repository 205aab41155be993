"""Nothing waits for numpy but the planners that need it."""

from __future__ import annotations

import subprocess
import sys

import rigtui.plan


def test_nothing_else_waits_for_numpy() -> None:
    """Importing the program, its commands and the names of the plan package loads no numpy."""
    code = (
        "import sys, rigtui.plan, rigtui.cli, rigtui.model.validate, rigtui.moves;"
        "rigtui.plan.PlanError; rigtui.plan.plan_route; rigtui.plan.Question;"
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_every_name_of_the_package_is_there_when_asked_for() -> None:
    """What is loaded late is found then, under the name that it is promised by."""
    for name in rigtui.plan.__all__:
        assert getattr(rigtui.plan, name).__name__ == name
