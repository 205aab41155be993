"""Several sections written in one line: "Intro 4, Verse 16, Chorus 8"."""

from __future__ import annotations

import re

from rigtui.model.errors import EditError
from rigtui.model.text import visible

EXAMPLE = "Intro 4, Verse 16, Chorus 8"
_NUMBER = re.compile(r"[0-9]{1,6}(\.[0-9]{1,6})?")


def sections_in(line: str) -> tuple[tuple[str, float], ...]:
    """Read names and bars of several sections; the last word of each part is its bars.

    Args:
        line: Parts with commas, semicolons or line ends between them; empty parts are passed
            over, and "bars" may stand behind a number.

    Raises:
        EditError: a part that is no name with a number behind it, with what would be right.
    """
    parts = [part.split() for part in re.split(r"[,;\n]", line)]
    return tuple(_section(at, words) for at, words in enumerate(filter(None, parts), start=1))


def _section(at: int, words: list[str]) -> tuple[str, float]:
    shown = f'section {at}, "{visible(" ".join(words))}"'
    if len(words) > 1 and words[-1].casefold() in ("bar", "bars"):
        words = words[:-1]
    *name, bars = words
    if not _NUMBER.fullmatch(bars):
        raise EditError(f'{shown}: put its number of bars behind it, e.g. "Verse 16"')
    if not name:
        raise EditError(f'{shown}: put a name before its bars, e.g. "Verse {bars}"')
    if float(bars) <= 0:
        raise EditError(f"{shown}: its bars must be more than 0")
    return " ".join(name), float(bars)
