"""Fresh text: the house style, and each kind of value."""

from __future__ import annotations

import tomllib
from datetime import date, datetime, time
from typing import Any

import pytest

from rigtui.store.toml_write import dump, format_value


def test_a_fresh_file_is_in_the_house_style() -> None:
    """Tables come in the order in which a rig is explained, a song's sections one to a line."""
    rig = {
        "songs": [
            {"id": "a", "tempo": 118.0, "sections": [{"name": "In", "bars": 4}, {"name": "Out"}]},
            {"id": "b", "sections": []},
        ],
        "setlists": [{"id": "f", "sets": [{"songs": ["a", "b"]}]}],
        "own table": {"x": {"y": 1}},
        "chain": {"front": ["tuner", 1]},
        "name": "Rig",
        "pedals": [],
        "format": 1,
    }
    assert (
        dump(rig)
        == """\
format = 1
name = "Rig"
pedals = []

[chain]
front = ["tuner", 1]

[[songs]]
id = "a"
tempo = 118
sections = [
  { name = "In", bars = 4 },
  { name = "Out" },
]

[[songs]]
id = "b"
sections = []

[[setlists]]
id = "f"
sets = [
  { songs = ["a", "b"] },
]

["own table"]
x = { y = 1 }
"""
    )
    assert dump(rig, "\r\n") == dump(rig).replace("\n", "\r\n")
    assert dump({}) == ""


@pytest.mark.parametrize(
    ("value", "like", "text"),
    [
        (True, "1", "true"),
        (8, "0x10", "8"),
        (8, "1_0.0", "8.0"),
        (8.0, "", "8"),
        (8.5, "8", "8.5"),
        (1e300, "1.0", "1e+300"),
        (float("inf"), "1.0", "inf"),
        (2**60, "1.0", "1152921504606846976"),
        ("a", '"b"', '"a"'),
        ("a", "'b'", "'a'"),
        ("it's", "'b'", '"it\'s"'),
        ("a\tb", "'b'", r'"a\tb"'),
        ('a"\\', "'b'", "'a\"\\'"),
        ('a"\\', "", r'"a\"\\"'),
        ("a\nb", "'''b'''", '"""a\nb"""'),
        ("\na", '"""\nb"""', '"""\n\na"""'),
        ("a\r\nb", '"""b"""', '"""a\\r\nb"""'),
        ('a\n""""', '"""b"""', '"""a\n""\\"\\""""'),
        ("a\n\\", '"""\nb"""', '"""\na\n\\\\"""'),
        ("\x00\x1b\x7f\x85\u2028", "", r'"\u0000\u001b\u007f\u0085\u2028"'),
        (date(2027, 3, 5), "", "2027-03-05"),
        (time(7, 32), "", "07:32:00"),
        (datetime(2027, 3, 5, 7, 32), "2027-03-05 01:00:00", "2027-03-05 07:32:00"),
        ({}, "", "{}"),
        ({"a b": [1, {}]}, "", '{ "a b" = [1, {}] }'),
    ],
)
def test_a_value_is_spelled_like_the_one_before(value: Any, like: str, text: str) -> None:
    """Quotes, decimal points and line breaks are kept where the new value allows it."""
    assert format_value(value, like) == text
    assert tomllib.loads(f"x = {text}")["x"] == value


def test_what_toml_cannot_say_is_refused() -> None:
    """None and other objects have no form."""
    with pytest.raises(TypeError, match="no form for NoneType"):
        dump({"a": [None]})
