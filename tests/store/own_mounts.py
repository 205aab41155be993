"""Disks of a test's own: mounted where nobody else sees them, and gone with the process."""

from __future__ import annotations

import subprocess
import sys
import textwrap
from pathlib import Path

import pytest


def in_own_mounts(script: str, folder: Path) -> str:
    """Run a script where it may mount disks of its own, which vanish with it."""
    for options in (["-m"], ["-rm"]):
        try:
            subprocess.run(["unshare", *options, "mount", "-t", "tmpfs", "none", str(folder)],
                           check=True, capture_output=True)  # fmt: skip
        except (OSError, subprocess.CalledProcessError):
            continue
        run = subprocess.run(
            ["unshare", *options, sys.executable, "-c", textwrap.dedent(script), str(folder)],
            capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert run.returncode == 0, run.stderr
        return run.stdout
    pytest.skip("this system lets nobody mount a disk for a test")
