"""The screens in ASCII alone, for terminals and fonts that have no lines, arrows or accents."""

from __future__ import annotations

import sys
import unicodedata
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

CHARACTERS = ("all", "ascii")
"""What the setting `characters` may be."""

_ALIKE = {
    character: plain
    for plain, characters in {
        "-": "─━═╴╶╌–—▔▁▂▃╸╺‐‑‒",
        "|": "│┃║╵╷▏▎▍▌▐▕╎",
        "+": "┌┐└┘├┤┬┴┼╔╗╚╝╭╮╯╰╠╣╦╩╬",
        "#": "█▉▊▋▄▀▆▇▅■♯",
        ".": "░·•…",
        ":": "▒▓",
        ">": "→›»▶▸",
        "<": "←‹«◀◂",
        "^": "↑▲▴",
        "v": "↓▼▾",
        "x": "×✕",
        "'": "’‘′‚‛",
        '"': "“”„‟″",
        "o": "○●♩♪",
        "b": "♭",
        "_": "□☐",
    }.items()
    for character in characters
}
"""Characters of the same width that say nearly the same."""


class AsciiOnly(LineFilter):
    """Paints every character as ASCII of the same width."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Return the segments of a line, their text in ASCII."""
        return [Segment(in_ascii(text), style, control) for text, style, control in segments]


@lru_cache(4096)
def in_ascii(text: str) -> str:
    """A text in ASCII that is as wide on the screen: accents go, what has no likeness is "?"."""
    return text if text.isascii() else "".join(map(_plain, text))


def _plain(character: str) -> str:
    if character.isascii():
        return character
    width = cell_len(character)
    letter = unicodedata.normalize("NFKD", character)[:1]
    plain = _ALIKE.get(character) or (letter if letter.isascii() else "?")
    return (plain + "?" * width)[:width]


def wants_ascii(settings: Mapping[str, Any]) -> bool:
    """Whether to paint in ASCII: as the settings say, else where the terminal has nothing more."""
    wanted = settings.get("characters")
    if wanted in CHARACTERS:
        return bool(wanted == "ascii")
    # The screen library paints on standard error.
    encoding = getattr(sys.__stderr__, "encoding", None) or "ascii"
    return not encoding.lower().startswith("utf")
