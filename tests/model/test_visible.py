"""Just those characters are replaced that would act on a terminal, over all of Unicode."""

from __future__ import annotations

import sys
import unicodedata

from rigtui.model.text import visible

# Unicode Standard Annex 9: explicit directional formatting characters and marks.
BIDI = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
MARKS = "\u200e\u200f\u061c"


def _acts(char: str) -> bool:
    """Whether a character moves, colours, turns round or breaks what is shown."""
    return (
        unicodedata.category(char) in ("Cc", "Cs", "Zl", "Zp")
        or unicodedata.bidirectional(char) in BIDI
        or char in MARKS
    )


def test_what_acts_is_replaced_and_nothing_else() -> None:
    """Source: the Unicode Character Database, as Python's unicodedata has it."""
    every = "".join(map(chr, range(sys.maxunicode + 1)))
    replaced = {char for char, shown in zip(every, visible(every), strict=True) if shown != char}
    assert replaced == {char for char in every if _acts(char)}
