"""Explain what is wrong with a broken TOML text, for people who never heard of TOML."""

from __future__ import annotations

import re

_AT = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")
_UNCLOSED = 'the quote opened on this line is not closed: text needs two, "like this"'
_NO_VALUE = 'a value is missing or unreadable: text needs a quote on both sides, "like this"'
_CURLY = "“”„‟«»‘’‚‛"
_WORDS = (
    (r"Invalid statement", 'this line is not a "key = value", a [table] or a # comment'),
    (r"Expected '=' after a key", "a key needs = and a value, as in tempo = 118"),
    (r"Expected newline or end of document after a statement",
     "there is something after the value: write one key and value a line"),
    (r"Unclosed array", "a list opened with [ lacks a comma or its ]"),
    (r"Unclosed inline table", "a table opened with { lacks a comma or its }"),
    (r"Expected '\]+' at the end of a table declaration", "a [table] lacks its ]"),
    (r"Cannot overwrite a value", "this key is there twice"),
    (r"Duplicate inline table key", "a key is there twice in one { }"),
    (r"Cannot declare \('(.*)',\) twice", r"the table \1 is there twice"),
    (r"Unescaped '\\' in a string", r"inside double quotes, write a \\ twice: \\\\"),
    (r"(?:Illegal|Found invalid) character '\\x", "text may not contain this character"),
)  # fmt: skip


def explained(text: str, error: str) -> tuple[str, int | None, int | None]:
    """Say what a parser's message means.

    Args:
        text: The text that was parsed.
        error: The message of tomllib, its place at the end.

    Returns:
        What is wrong, and line and column from 1; the parser's own words where there are no better.
    """
    place = _AT.search(error)
    at = tuple(int(part) if part else None for part in place.groups()) if place else (None, None)
    line, column = at
    message = _AT.sub("", error)
    if message in (r"Illegal character '\n'", r"Found invalid character '\n'"):
        return _UNCLOSED, line, None
    if line is None and message in ("Unterminated string", 'Expected "\'"', "Expected \"'''\""):
        # Nothing closes it, so what opened it is the last quote of its kind.
        quote = '"""' if "'" not in message else message[10:-1]
        opened = text.rfind(quote)
        return _UNCLOSED, _line_of(text, opened if opened >= 0 else text.rfind('"')), None
    if line is None:
        line = _line_of(text, len(text))
    if message == "Invalid value" and column is not None:
        return _about_value(text, line, column), line, column
    for pattern, words in _WORDS:
        known = re.match(pattern, message)
        if known:
            return known.expand(words), line, column
    return f"{message[:1].lower()}{message[1:]}", line, column


def _line_of(text: str, at: int) -> int:
    return text.count("\n", 0, at) + 1


def _about_value(text: str, line: int, column: int) -> str:
    lines = text.split("\n")
    rest = lines[line - 1][column - 1 :].strip() if line <= len(lines) else ""
    if not rest or rest.startswith("#"):
        return "the value is missing"
    if rest[0] in _CURLY:
        return 'these quotes are curly: write straight ones, "like this"'
    return _NO_VALUE
