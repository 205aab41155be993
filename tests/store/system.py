"""What some tests need of the system: disks of their own, and to see which file is which."""

from __future__ import annotations

import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

needs_proc = pytest.mark.skipif(
    not Path("/proc/self/fd").is_dir(), reason="needs to tell which file a call is about"
)


def in_own_mounts(script: str, folder: Path) -> str:
    """Run a script where it may mount disks that nobody else sees, and that vanish with it."""
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
