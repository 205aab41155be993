"""The kind of parser that all commands use."""

from __future__ import annotations

import argparse
import re
from typing import NoReturn

BAD_USAGE = 2


class Parser(argparse.ArgumentParser):
    """argparse, with full option names only, and with what was typed made safe to print."""

    def __init__(self, prog: str, usage: str, description: str, epilog: str) -> None:
        super().__init__(
            prog=prog,
            usage=usage,
            description=description,
            epilog=epilog,
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        # "-1,2" is a value too, if a wrong one: then its own message says what would be right.
        self._negative_number_matcher = re.compile(r"^-\d[\d,.]*$")

    def error(self, message: str) -> NoReturn:
        from rigtui.cli.terminal import complain

        complain(f"{self.prog}: {message}", f"`{self.prog} --help` explains it")
        raise SystemExit(BAD_USAGE)
