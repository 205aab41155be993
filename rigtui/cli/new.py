"""`rigtui new`: write a starter rig."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path

from rigtui.cli.arguments import BAD_USAGE
from rigtui.cli.terminal import complain, put, terminal_of
from rigtui.store.atomic import SaveError
from rigtui.store.starter import write_starter


def run(arguments: Namespace) -> int:
    """Write the starter rig where there is no file yet, and return the exit status."""
    file: str = arguments.file
    try:
        write_starter(Path(file))
    except SaveError as error:
        complain(f"{file}: {error}")
        return BAD_USAGE
    name = terminal_of(sys.stdout).show(file)
    put(f"Wrote {name}, a starter rig to turn into your own.\n  rigtui {name}         "
        f"opens it\n  rigtui report {name}  counts its moves\n")  # fmt: skip
    return 0
