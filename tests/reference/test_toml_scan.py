"""The scanner of TOML text against two outside readers.

It says where things are and leaves their meaning to others; so each place that it names is read by
tomllib alone, put together again, and compared with what tomllib (Python's own reader) and tomlkit
0.15 make of the whole text. Texts come from the examples of TOML 1.0.0 (toml.io/en/v1.0.0), from
the test data that CPython keeps for tomllib (Lib/test/test_tomllib/data, where it is installed),
and from both libraries' writers.
"""

from __future__ import annotations

import importlib.util
import re
import tomllib
from datetime import date, datetime, time
from pathlib import Path
from random import Random
from typing import Any

import pytest
import tomli_w
import tomlkit
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from store.spelling import Speller, draw_edits, draw_rig
from store.toml_places import places

from rigtui.store.align import same
from rigtui.store.splice import dump, rewrite
from rigtui.store.toml_map import TomlMap

# What the specification accepts, a file for each of its sections, and what files easily spoil.
SPECIFICATION = {
    file.stem: file.read_text(encoding="utf-8")
    for file in sorted((Path(__file__).parent / "toml").glob("*.toml"))
} | {
    "nothing": "",
    "only a comment": "# one",
    "no newline at the end": "[t] # c",
    "line ends of two characters": "# one\r\n\r\n\t# two [[x]]\r\na = 1 # x\r\n[b]# y\r\n  c = 2",
}


def _cpython_texts() -> list[Any]:
    package = importlib.util.find_spec("test.test_tomllib")
    folders = (package.submodule_search_locations if package else None) or []
    return [
        pytest.param(file.read_bytes().decode(), id=file.relative_to(folder).as_posix())
        for folder in map(Path, folders)
        for file in sorted(folder.glob("data/valid/**/*.toml"))
    ]


def put_together(text: str) -> dict[str, Any]:
    """The data of a text from the scanner's places, each read on its own."""
    data: dict[str, Any] = {}
    for place in places(text):
        if place.kind == "value":
            value = tomllib.loads(f"x = {text[place.start : place.end]}")["x"]
        else:
            value = {} if place.kind == "table" else []
        here: Any = data
        for step, following in zip(place.path, [*place.path[1:], None], strict=True):
            inside = value if following is None else {} if isinstance(following, str) else []
            if isinstance(here, list):
                assert isinstance(step, int)
                assert step <= len(here)
                here.extend([inside] * (step == len(here)))
            else:
                here.setdefault(step, inside)
            here = here[step]
    return data


def _check_places(text: str) -> None:
    assert same(put_together(text), tomllib.loads(text))


def _check_lines(text: str) -> None:
    """Spoil one value after the other, and hear from tomllib in which line and column it was."""
    map_of_text = TomlMap(text)
    for place in places(text):
        if place.kind != "value":
            continue
        with pytest.raises(tomllib.TOMLDecodeError) as error:
            tomllib.loads(text[: place.start] + "@" + text[place.end :])
        told = re.search(r"\(at line (\d+), column (\d+)\)", str(error.value))
        assert told is not None
        column = place.start - text.rfind("\n", 0, place.start)
        assert (map_of_text.line_of(place.path), column) == tuple(map(int, told.groups()))


@pytest.mark.parametrize("text", SPECIFICATION.values(), ids=SPECIFICATION)
def test_places_in_the_examples_of_the_specification(text: str) -> None:
    """Put together they give tomllib's data, and their lines are those that it names."""
    _check_places(text)
    _check_lines(text)


@pytest.mark.skipif(not _cpython_texts(), reason="this Python came without its own test data")
@pytest.mark.parametrize("text", _cpython_texts() or [""])
def test_places_in_the_test_data_of_cpython(text: str) -> None:
    """Put together they give tomllib's data, and their lines are those that it names."""
    _check_places(text)
    _check_lines(text)


_TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
_SCALARS = (
    _TEXT
    | st.booleans()
    | st.integers(-(2**63), 2**63 - 1)
    | st.floats(allow_nan=False)
    | st.dates(min_value=date(1000, 1, 1))
    | st.datetimes(min_value=datetime(1000, 1, 1))
    | st.times()
)
_VALUES = st.recursive(
    _SCALARS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(_TEXT, inner, max_size=4),
    max_leaves=12,
)
_DATA = st.dictionaries(_TEXT, _VALUES, max_size=5)


@given(_DATA)
@examples(30)
def test_places_in_what_other_libraries_write(data: dict[str, Any]) -> None:
    """Data of any shape, written by tomli_w and by tomlkit, is found again whole."""
    for text in (tomli_w.dumps(data), tomlkit.dumps(data)):
        assert same(put_together(text), data)


@given(_DATA)
@examples(30)
def test_what_we_write_is_read_alike_by_others(data: dict[str, Any]) -> None:
    """Data of any shape, written in the house style, means the same to tomllib and tomlkit."""
    text = dump(data)
    assert same(tomllib.loads(text), data)
    assert same(tomlkit.parse(text).unwrap(), data)
    assert same(put_together(text), data)


@given(_DATA, _DATA)
@examples(30)
def test_any_text_can_be_made_to_mean_anything(old: dict[str, Any], new: dict[str, Any]) -> None:
    """The careful way is found between any two files, even of no rig at all."""
    result = rewrite(tomlkit.dumps(old), new)
    assert result.rewritten == ()
    assert same(tomllib.loads(result.text), new)


@given(st.integers(0, 2**40))
@examples(20)
def test_places_in_rigs_of_all_spellings(seed: int) -> None:
    """Whatever way a rig is spelled, and after edits, all readers agree about it."""
    rng = Random(seed)
    rig = draw_rig(rng)
    text = Speller(rng, rig).text
    _check_places(text)
    new = draw_edits(rng, rig)
    edited = rewrite(text, new).text
    _check_places(edited)
    # tomlkit keeps line ends of two characters inside a text, tomllib does not; both are allowed.
    assert same(tomlkit.parse(edited.replace("\r\n", "\n")).unwrap(), new)


def test_a_time_is_not_a_date() -> None:
    """The comparison that all checks here rest on tells the kinds of TOML's values apart."""
    kinds = [1, True, "1", date(2027, 3, 5), datetime(2027, 3, 5), time(1), [1], {"a": 1}]
    assert [[same(a, b) for b in kinds] for a in kinds] == [
        [row == column for column in range(len(kinds))] for row in range(len(kinds))
    ]
