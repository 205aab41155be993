"""The command line. Commands are thin: each reads its arguments, calls one function and prints.

Nothing heavy is imported here: `rigtui --help` answers at once, and `rigtui report` never loads
the screens.
"""

from __future__ import annotations

import importlib
import sys
from collections.abc import Sequence

from rigtui.cli.arguments import COMMANDS, parser_of
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import StandardOutputError, complain, complain_of_fault

__all__ = ["main"]

INTERRUPTED = 130
"""Exit status after Ctrl-C: 128 and the number of the signal, as shells count."""
OWN_FAULT = 70
"""Exit status after a fault of the program. Python's own 1 would read as "a finding".

Source: EX_SOFTWARE of sysexits.h.
"""


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line and return the exit status.

    Args:
        argv: Arguments without the program's name; those of the process if left out.
    """
    words = list(sys.argv[1:] if argv is None else argv)
    try:
        return _run(words)
    except SystemExit as stop:  # how argparse ends after --help and bad usage
        return stop.code if isinstance(stop.code, int) else 0
    except KeyboardInterrupt:
        return INTERRUPTED
    except StandardOutputError as error:
        complain(f"rigtui {words[0]}: standard output: {error}")
        return BAD_USAGE
    except Exception as fault:
        if sys.flags.dev_mode:  # python -X dev: developers want all of it
            raise
        complain_of_fault(fault)
        return OWN_FAULT


_HOMES = {
    "import": "importing",
    "man": "man_page",
    "plan": "plan.command",
    "plan compromise": "plan.compromise",
}
"""Modules of commands that are not called as the command is."""


def _run(words: list[str]) -> int:
    taken = next((n for n in (2, 1) if " ".join(words[:n]) in COMMANDS), 0)
    command = " ".join(words[:taken]) or None
    arguments = parser_of(command).parse_args(words[taken:])
    return int(importlib.import_module(home_of(command)).run(arguments))


def home_of(command: str | None) -> str:
    """Return the module that runs a command, or that opens the screens where there is none."""
    return f"rigtui.cli.{_HOMES.get(command, command) if command else 'screens'}"
