"""Split a song's line: parts between commas, words between spaces, each with its column."""

from __future__ import annotations

import re
from typing import NamedTuple

from rigtui.model.song_line.parts import ENDS, LineFault

_QUOTED = re.compile(r'"((?:[^"]|"")*)"')


class Word(NamedTuple):
    """One word of a line."""

    text: str
    column: int
    """Where it begins, from 1."""
    quoted: bool = False
    sign: str = ""
    """ "+" or "-" in front of it."""
    written: str = ""
    """As typed, sign and quotes and all."""


def parts_in(line: str) -> list[list[Word]]:
    """The words of each part; parts without any are left out.

    Raises:
        LineFault: a quote that is never closed.
    """
    parts: list[list[Word]] = [[]]
    at = 0
    while at < len(line):
        char = line[at]
        if char in ENDS:
            parts.append([])
            at += 1
        elif char.isspace():
            at += 1
        else:
            word, at = _word(line, at)
            parts[-1].append(word)
    return [part for part in parts if part]


def _word(line: str, start: int) -> tuple[Word, int]:
    at, sign = start, ""
    if line[at] in "+-":
        sign, at = line[at], at + 1
        while at < len(line) and line[at].isspace() and line[at] not in ENDS:
            at += 1  # "+ wah" is +wah
    if line[at : at + 1] == '"':
        quoted = _QUOTED.match(line, at)
        if quoted is None:
            raise LineFault(at + 1, 'a quote is open: close it with another "')
        text = quoted[1].replace('""', '"')
        return Word(text, start + 1, True, sign, line[start : quoted.end()]), quoted.end()
    end = at
    while end < len(line) and line[end] not in ENDS and not line[end].isspace():
        end += 1
    return Word(line[at:end], start + 1, False, sign, line[start:end]), end


def quoted(text: str) -> str:
    """A text in quotes."""
    return '"' + text.replace('"', '""') + '"'
