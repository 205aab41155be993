"""Where things stand in TOML text: one pass for the tables, and a closer look only where asked.

The text must already be accepted by tomllib: this module finds places, it does not judge. It
never converts a value; what a place means is tomllib's business. Offsets count characters.

Source: the grammar of TOML 1.0.0, toml.io/en/v1.0.0.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass

Path = tuple[str | int, ...]

# A string of any of the four kinds. One or two quotes may stand inside the three that close a
# multi-line string, hence up to five at its end.
STRING = (
    r'"""(?:[^"\\]++|\\[\s\S]|"{1,2}+(?!"))*+"{3,5}+'
    r"|'''(?:[^']++|'{1,2}+(?!'))*+'{3,5}+"
    r'|"(?:[^"\\\n]++|\\.)*+"'
    r"|'[^'\n]*+'"
)
COMMENT = r"#[^\n]*+"
_PART = r"""[A-Za-z0-9_-]++|"(?:[^"\\\n]++|\\.)*+"|'[^'\n]*+'"""

_TO_SQUARE = re.compile(rf"(?:[^\[\]\"'#]++|{STRING}|{COMMENT})*+")
_TO_BRACKET = re.compile(rf"(?:[^\[\]{{}}\"'#]++|{STRING}|{COMMENT})*+")
_TRIVIA = re.compile(rf"(?:[ \t\r\n,]++|{COMMENT})*+")
_KEY_PART = re.compile(_PART)
_KEY = re.compile(rf"(?:{_PART})(?:[ \t]*+\.[ \t]*+(?:{_PART}))*+")
_HEADER = re.compile(rf"\[\[?+[ \t]*+({_KEY.pattern})[ \t]*+\]\]?+")
_EQUALS = re.compile(r"[ \t]*+=[ \t]*+")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
# A date and a time may be parted by a space; nothing else that is not a string holds one.
_SCALAR = re.compile(rf"{STRING}|\d{{4}}-\d\d-\d\d \d\d:[^\s,\]}}#]++|[^\s,\]}}#]++")


@dataclass(frozen=True, slots=True)
class Block:
    """One `[table]` or `[[table]]` with what stands under it, up to the next header.

    Attributes:
        path: Its place in the data, with positions in arrays of tables resolved.
        keys: The header's own keys, e.g. ("songs", "sections").
        start: Offset of the first bracket of the header.
        body: Offset just after the header's last bracket.
        end: Offset of the next block's header line, or the end of the text.
    """

    path: Path
    keys: tuple[str, ...]
    start: int
    body: int
    end: int


@dataclass(frozen=True, slots=True)
class Pair:
    """One `key = value`; offsets of the key, and of the value in text[value:end]."""

    keys: tuple[str, ...]
    start: int
    key_end: int
    value: int
    end: int


def line_start(text: str, at: int) -> int:
    """Offset of the start of the line that holds offset `at`."""
    return text.rfind("\n", 0, at) + 1


def line_end(text: str, at: int) -> int:
    """Offset just after the newline that ends the line holding `at`; the end if there is none."""
    return text.find("\n", at) + 1 or len(text)


def keys_of(spelled: str) -> tuple[str, ...]:
    """Take a dotted key apart: `a."b c".d` is ("a", "b c", "d")."""
    if _BARE.fullmatch(spelled):
        return (spelled,)
    return tuple(_decode_key(part) for part in _KEY_PART.findall(spelled))


def _decode_key(part: str) -> str:
    if part[0] == "'":
        return part[1:-1]
    if part[0] != '"':
        return part
    if "\\" not in part:
        return part[1:-1]
    return str(tomllib.loads(f"key = {part}")["key"])


def blocks(text: str) -> list[Block]:
    """Find all tables of the text in order; the first is what stands above any header."""
    headers: list[tuple[Path, tuple[str, ...], int, int]] = [((), (), 0, 0)]
    sizes: dict[Path, int] = {}
    known: dict[str, tuple[str, ...]] = {}
    at, depth, size = 0, 0, len(text)
    while (at := _TO_SQUARE.match(text, at).end()) < size:  # type: ignore[union-attr]
        char = text[at]
        # A header is the first thing in its line, outside any array.
        if char == "[" and not depth and not text[line_start(text, at) : at].strip():
            header = _HEADER.match(text, at)
            assert header is not None
            spelled = header[1]
            keys = known.get(spelled) or known.setdefault(spelled, keys_of(spelled))
            headers.append(
                (_resolve(keys, sizes, text.startswith("[[", at)), keys, at, header.end())
            )
            at = header.end()
            continue
        if char == "[":
            depth += 1
        elif char == "]":
            depth -= 1
        at += 1
    ends = [line_start(text, start) for _, _, start, _ in headers[1:]] + [size]
    return [Block(*header, end) for header, end in zip(headers, ends, strict=True)]


def _resolve(keys: tuple[str, ...], sizes: dict[Path, int], double: bool) -> Path:
    """Say which row of each array of tables a header speaks of: always the last one so far."""
    path: Path = ()
    for key in keys[:-1]:
        path = (*path, key)
        if path in sizes:
            path = (*path, sizes[path] - 1)
    path = (*path, keys[-1])
    if double:
        sizes[path] = sizes.get(path, 0) + 1
        path = (*path, sizes[path] - 1)
    return path


def value_end(text: str, at: int) -> int:
    """Offset just after the value that begins at `at`."""
    if text[at] not in "[{":
        scalar = _SCALAR.match(text, at)
        assert scalar is not None
        return scalar.end()
    depth, size = 0, len(text)
    while (at := _TO_BRACKET.match(text, at).end()) < size:  # type: ignore[union-attr]
        depth += 1 if text[at] in "[{" else -1
        at += 1
        if not depth:
            return at
    return size


def pairs(text: str, at: int, end: int) -> Iterator[Pair]:
    """Yield the pairs of a block's body, or of an inline table when `at` is just inside its brace.

    Values are not looked into: ask again for those that matter.
    """
    while (at := skip(text, at)) < end and text[at] != "}":
        key = _KEY.match(text, at)
        assert key is not None
        equals = _EQUALS.match(text, key.end())
        assert equals is not None
        value = equals.end()
        stop = value_end(text, value)
        yield Pair(keys_of(key.group()), at, key.end(), value, stop)
        at = stop


def items(text: str, at: int) -> Iterator[tuple[int, int]]:
    """Yield (start, end) of each value of the array whose bracket is at `at`."""
    at += 1
    while text[at := skip(text, at)] != "]":
        end = value_end(text, at)
        yield at, end
        at = end


def skip(text: str, at: int) -> int:
    """Offset of the next thing that is neither white space, comma nor comment."""
    trivia = _TRIVIA.match(text, at)
    assert trivia is not None
    return trivia.end()
