"""Text made fit to show, nearest words, ids made of names, numbers with their nouns."""

from __future__ import annotations

import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigtui.model.text import count, first_few, nearest, number_text, slug, visible


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("", ""),
        ("Low Fen", "Low Fen"),
        ("[red]Low[/red] Fen", "[red]Low[/red] Fen"),
        ("\x1b[31mred", "\u241b[31mred"),
        ("a\tb\r\nc\x00", "a\u2409b\u240d\u240ac\u2400"),
        ("del\x7f", "del\u2421"),
        ("\x9b31m\x85", "\ufffd31m\ufffd"),
        ("\u202eevil\u202c", "\ufffdevil\ufffd"),
        ("\u2066x\u2069\u200e\u200f\u061c", "\ufffdx\ufffd\ufffd\ufffd\ufffd"),
        ("one\u2028two\u2029", "one\ufffdtwo\ufffd"),
        ("half\ud800", "half\ufffd"),
        ("caf\u00e9 \u65e5\u672c \U0001f3b8", "caf\u00e9 \u65e5\u672c \U0001f3b8"),
        ("\U0001f469\u200d\U0001f680", "\U0001f469\u200d\U0001f680"),  # joiners join emoji
    ],
)
def test_visible(text: str, shown: str) -> None:
    """Controls become their pictures (U+2400 and on) or the replacement character, all else stays.

    Source: Unicode, block Control Pictures: picture of control c is U+2400 + c.
    """
    assert visible(text) == shown


def test_visible_keeps_what_it_is_told_to() -> None:
    """Line ends of a note can be kept; nothing else comes with them."""
    assert visible("a\nb\tc\x1b", keep="\n") == "a\nb\u2409c\u241b"


@given(st.text(st.characters(codec=None)))
def test_visible_leaves_no_control(text: str) -> None:
    """Whatever the text, what is shown has no control, no surrogate, and as many characters."""
    shown = visible(text)
    assert not {unicodedata.category(char) for char in shown} & {"Cc", "Cs", "Zl", "Zp"}
    assert not set(shown) & {chr(code) for code in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))}
    assert len(shown) == len(text)
    assert visible(shown) == shown
    shown.encode("utf-8")


@pytest.mark.parametrize(
    ("word", "known", "expected"),
    [
        ("temp", ["tempo", "tuning"], "tempo"),
        ("TEMPO", ["tuning", "tempo"], "tempo"),
        ("lead", ["Lead", "load"], "Lead"),
        ("verse-claen", ["verse-clean", "verse-loud"], "verse-clean"),
        ("zzz", ["tempo", "tuning"], None),
        ("x", [], None),
        ("", ["a"], None),
    ],
)
def test_nearest(word: str, known: list[str], expected: str | None) -> None:
    """The known word most like the one given, capitals apart; none if nothing is close."""
    assert nearest(word, known) == expected
    assert nearest(word, iter(known)) == expected


@pytest.mark.parametrize(
    ("name", "taken", "expected"),
    [
        ("Low Fen", [], "low-fen"),
        ("  Caf\u00e9 -- No. 2! ", [], "cafe-no-2"),
        ("\u65e5\u672c", [], "item"),
        ("", [], "item"),
        ("Low Fen", ["low-fen"], "low-fen-2"),
        ("Low Fen", ["low-fen", "low-fen-2"], "low-fen-3"),
        ("x" * 40, [], "x" * 32),
        ("x" * 40, ["x" * 32], "x" * 30 + "-2"),
        ("a" * 31 + " b", [], "a" * 31),
    ],
)
def test_slug(name: str, taken: list[str], expected: str) -> None:
    """An id is made of a name's letters and digits, cut to 32, with a number where it is taken."""
    assert slug(name, taken) == expected


@given(st.text(max_size=60), st.lists(st.text(max_size=5)))
def test_slugs_are_ids(name: str, names: list[str]) -> None:
    """Whatever the names, each gets an id that the format allows and that no other has."""
    taken: list[str] = []
    for label in [*names, name, name]:
        taken.append(slug(label, taken))
    assert all(re.fullmatch(r"[a-z0-9][a-z0-9-]{0,31}", made) for made in taken)
    assert len(set(taken)) == len(taken)


@pytest.mark.parametrize(
    ("number", "noun", "plural", "expected"),
    [
        (0, "move", None, "0 moves"),
        (1, "move", None, "1 move"),
        (2, "move", None, "2 moves"),
        (1, "memory", "memories", "1 memory"),
        (4, "memory", "memories", "4 memories"),
    ],
)
def test_count(number: int, noun: str, plural: str | None, expected: str) -> None:
    """A number stands with its noun in the right form."""
    assert count(number, noun, plural) == expected


@pytest.mark.parametrize(
    ("value", "expected"), [(118.0, "118"), (118, "118"), (118.5, "118.5"), (0.25, "0.25")]
)
def test_number_text(value: float, expected: str) -> None:
    """A whole number is written without a point."""
    assert number_text(value) == expected


def test_first_few_names_and_how_many_more() -> None:
    """Many names end in a number, and as many as there is room for do not."""
    assert first_few(["A", "B", "C"], 3) == "A, B, C"
    assert first_few(["A", "B", "C"], 2) == "A, B and 1 more"
    assert first_few([], 2) == ""
