"""The typeface that PDF sheets embed: which characters it has, and how wide words are.

The PDF library is imported here, when the first PDF is made, and not before.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from reportlab.pdfbase import pdfmetrics, ttfonts
from reportlab.pdfbase.ttfonts import TTFont

from rigtui.model.text import visible

FOLDER = Path(__file__).with_name("fonts")
REGULAR, BOLD = "DejaVuSans", "DejaVuSans-Bold"
FALLBACK = "□"
"""Stands for a character that cannot be printed."""
_RIGHT_TO_LEFT = ("R", "AL", "AN")
_SIMPLE_MARKS = range(0x300, 0x370)
"""Accents that sit right where they are drawn; other marks have to be placed by a shaper."""


class Face:
    """One weight of the typeface."""

    def __init__(self, name: str) -> None:
        self.name = name
        font = TTFont(name, str(FOLDER / f"{name}.ttf"))
        pdfmetrics.registerFont(font)
        self._widths: dict[int, float] = font.face.charWidths
        self._default: float = font.face.defaultWidth
        self.covered = frozenset(font.face.charToGlyph)
        self._known: dict[str, float] = {}

    def width(self, text: str, size: float) -> float:
        """Return how wide a text is, in points."""
        known = self._known.get(text)
        if known is None:
            get = self._widths.get
            known = sum(get(ord(char), self._default) for char in text) / 1000
            self._known[text] = known
        return known * size


@lru_cache(maxsize=1)
def faces() -> tuple[Face, Face]:
    """Return the regular and the bold face."""
    ttfonts.makeToUnicodeCMap = _with_pairs(ttfonts.makeToUnicodeCMap)
    return Face(REGULAR), Face(BOLD)


def _with_pairs(make: Callable[[str, list[int]], str]) -> Callable[[str, list[int]], str]:
    """Correct the table by which text is read back out of a PDF.

    The library (5.1) writes characters above U+FFFF as five digits; the table takes UTF-16, four
    digits or twice four. Source: ISO 32000-1, 9.10.3.
    """

    def pair(character: re.Match[str]) -> str:
        return f"<{chr(int(character[1], 16)).encode('utf-16-be').hex().upper()}>"

    return lambda name, subset: re.sub(r"<([0-9A-F]{5,6})>", pair, make(name, subset))


class Typesetter:
    """Makes text fit to print, and remembers what could not be."""

    def __init__(self) -> None:
        self.regular, self.bold = faces()
        self._covered = self.regular.covered & self.bold.covered
        self.missing: dict[str, None] = {}

    def face(self, bold: bool) -> Face:
        """Return the face of a weight."""
        return self.bold if bold else self.regular

    def printable(self, text: str) -> str:
        """Return a text with a box for each character that this typeface cannot set.

        Letters that take their shape from their neighbours, or run from right to left, would come
        out wrong: this program does not shape text, so they count as missing too.
        """
        text = visible(text, keep="\n")
        if text.isascii():
            return text
        return "".join(map(self._glyph, unicodedata.normalize("NFC", text)))

    def _glyph(self, char: str) -> str:
        code = ord(char)
        if code < 0x250:
            return char
        category = unicodedata.category(char)
        if category == "Cf" or 0xFE00 <= code <= 0xFE0F:
            return ""  # joiners and variant selectors have no shape of their own
        shaped = category.startswith("M") and code not in _SIMPLE_MARKS
        turned = unicodedata.bidirectional(char) in _RIGHT_TO_LEFT
        if code in self._covered and not shaped and not turned:
            return char
        self.missing.setdefault(char)
        return FALLBACK
