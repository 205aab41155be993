"""Text that came from a file, made fit to show. Nothing else in the program filters strings."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable, Sequence

# Controls (Cc), surrogates (Cs), marks that turn the direction, and line and paragraph ends.
_UNSAFE = re.compile(
    r"[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]"
)


_BRIEF = 200
"""Characters of a fault's own words that are shown."""


def _shown(char: str, keep: str) -> str:
    code = ord(char)
    if char in keep:
        return char
    if code < 0x20:
        return chr(0x2400 + code)  # the Unicode pictures of C0 controls, one cell each
    return "\u2421" if code == 0x7F else "\ufffd"


def visible(text: str, keep: str = "") -> str:
    """Return the text with every control and direction-changing character made visible.

    Escape sequences, C1 controls, bidirectional overrides and lone surrogates would reach the
    terminal even where markup is off; here each becomes one harmless character.

    Args:
        text: Any string, as it stands in the file.
        keep: Control characters to leave alone, e.g. "\\n" in a note of several lines.

    Source: categories Cc and Cs of the Unicode Character Database; control pictures U+2400.
    """
    if text.isascii() and text.isprintable():
        return text
    return _UNSAFE.sub(lambda match: _shown(match.group(), keep), text)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word most like `word`, ignoring capitals, or None if none is close."""
    plain = {name.casefold(): name for name in reversed(list(known))}
    close = difflib.get_close_matches(word.casefold(), plain, n=1, cutoff=0.6)
    return plain[close[0]] if close else None


def did_you_mean(word: str, known: Iterable[str], otherwise: str) -> str:
    """Ask back with the nearest known word, or say something else where nothing is close."""
    close = nearest(word[:80], known)
    return f"did you mean {visible(close)}?" if close else otherwise


def slug(name: str, taken: Iterable[str] = ()) -> str:
    """Make an id from a name: lower case letters, digits and dashes, at most 32, not yet taken."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    words = "".join(c if c.isalnum() else " " for c in plain).split()
    base = "-".join(words)[:32].strip("-") or "item"
    used, candidate, number = set(taken), base, 2
    while candidate in used:
        tail = f"-{number}"
        candidate, number = base[: 32 - len(tail)] + tail, number + 1
    return candidate


def count(number: int, noun: str, plural: str | None = None) -> str:
    """Say a number with its noun: "1 move", "3 moves"."""
    return f"{number} {noun if number == 1 else plural or noun + 's'}"


def first_few(words: Sequence[str], most: int) -> str:
    """The first of many names, and how many more there are: "A, B and 3 more"."""
    more = f" and {len(words) - most} more" if len(words) > most else ""
    return ", ".join(words[:most]) + more


def number_text(value: float) -> str:
    """Write a number as a person would: 118, not 118.0."""
    return str(int(value)) if float(value).is_integer() else f"{value:g}"


def fault_in_brief(fault: BaseException) -> str:
    """A fault of the program in one line: what was raised, and the start of its own words."""
    first = str(fault).partition("\n")[0]
    return f"{type(fault).__name__}: {first[:_BRIEF]}"


def place_of_fault(fault: BaseException) -> str:
    """Where a fault of the program was raised: "rigtui.checks.tails, line 80"; may be empty."""
    step = fault.__traceback__
    while step is not None and step.tb_next is not None:
        step = step.tb_next
    return f"{step.tb_frame.f_globals.get('__name__')}, line {step.tb_lineno}" if step else ""


def clock_time(seconds: float) -> str:
    """A length of time as minutes and seconds: "54:07"."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02}"


def listed(words: Iterable[str], joint: str = "and") -> str:
    """Several names in a sentence: "A", "A and B", "A, B and C"."""
    all_words = list(words)
    if len(all_words) < 2:
        return "".join(all_words)
    return f"{', '.join(all_words[:-1])} {joint} {all_words[-1]}"
