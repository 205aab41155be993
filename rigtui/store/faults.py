"""Faults of the program itself: each goes into a log file of its own, for whoever mends it."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from rigtui.model.text import fault_in_brief, place_of_fault

FAULTS_KEPT = 10
"""How many of these files stay; the oldest goes first."""


def what_to_report(fault: BaseException) -> str:
    """Keep a fault in a log file and return what to report, as words after "Please report"."""
    brief = fault_in_brief(fault)
    log = keep_fault(fault)
    if log is not None:
        return f"what {log} says ({brief})"
    place = place_of_fault(fault)
    return f"{brief} ({place})" if place else brief


def keep_fault(fault: BaseException) -> Path | None:
    """Write what failed, and where, into a log file; return the file, or None if it cannot be.

    What the variables held is left out: it would be the player's songs.
    """
    import time

    from rigtui.store.atomic import SaveError, write_atomic
    from rigtui.store.state import files_in, state_folder

    try:
        folder = state_folder("faults")
        log = folder / f"{time.strftime('%Y-%m-%d-%H%M%S')}-{os.getpid()}.txt"
        write_atomic(log, _fault_text(fault))
        for old in files_in(folder)[:-FAULTS_KEPT]:
            with contextlib.suppress(OSError):
                old.unlink()
    except (SaveError, OSError):
        return None
    return log


def _fault_text(fault: BaseException) -> str:
    import platform
    import traceback
    from importlib import metadata

    versions = [f"Python {platform.python_version()}", platform.platform()]
    for package in ("textual", "rigtui"):
        with contextlib.suppress(metadata.PackageNotFoundError):
            versions.insert(0, f"{package} {metadata.version(package)}")
    lines = traceback.format_exception(fault)
    text = f"{', '.join(versions)}\n\n{''.join(lines)}"
    return text.encode("utf-8", "backslashreplace").decode("utf-8")
