"""Nothing waits for numpy but the planners that need it."""

from __future__ import annotations

import subprocess
import sys


def test_nothing_else_waits_for_numpy() -> None:
    """Importing the program, its commands and the names of the plan package loads no numpy."""
    code = (
        "import sys, rigtui.plan, rigtui.cli, rigtui.model.validate, rigtui.moves;"
        "rigtui.plan.PlanError; rigtui.plan.plan_route; rigtui.plan.Question;"
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
