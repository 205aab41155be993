"""What holds for every edit of every rig, whatever its spelling."""

from __future__ import annotations

import copy
import re
import tomllib
from random import Random
from typing import Any

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from store.spelling import ROWS, Data, Speller, draw_edits, draw_rig, identity
from store.toml_places import places

from rigtui.store.align import same, staying
from rigtui.store.splice import rewrite

_SEEDS = st.integers(min_value=0, max_value=2**40)
_COMMENT = re.compile(r"# \d+ [a-z][^\r\n]*")


def _rows(rig: Data) -> dict[str, object]:
    """Every table of a rig under the name that the speller gives it as an owner."""
    owners: dict[str, object] = {}
    for key, value in rig.items():
        if key in ROWS:
            owners |= {f"{key}/{identity(row)}": row for row in value}
        else:
            owners[key if isinstance(value, dict) else f"top {key}"] = value
    return owners


def _still(old: Data, new: Data) -> set[str]:
    """Names of the rows that kept their order among those of their table."""
    kept: set[str] = set()
    for kind in ROWS:
        before = [identity(row) for row in old.get(kind, [])]
        after = [name for row in new.get(kind, []) if (name := identity(row)) in before]
        steady = staying([before.index(name) for name in after])
        kept |= {f"{kind}/{after[at]}" for at in steady}
    return kept


def _check(seed: int) -> None:
    rng = Random(seed)
    old = draw_rig(rng)
    spelled = Speller(rng, old)
    assert same(tomllib.loads(spelled.text), old), "the test's own speller"
    new = draw_edits(rng, old)

    result = rewrite(spelled.text, new)

    assert same(tomllib.loads(result.text), new)
    assert result.rewritten == ()
    if same(old, new):
        assert result.text == spelled.text
    before, after = _rows(old), _rows(new)
    untouched = {name for name in before if name in after and same(before[name], after[name])}
    comments = _COMMENT.findall(result.text)
    assert len(comments) == len(set(comments)), "a comment stands twice"
    written = {comment.strip(): owner for comment, owner in spelled.comments}
    assert set(map(str.strip, comments)) <= written.keys()

    nobodys = {"top", "foot", *(owner for _, owner in spelled.comments if owner.startswith("head"))}
    for comment, owner in spelled.comments:
        if owner in untouched | nobodys:
            assert comment in comments, "a comment is gone with a table that did not change"
    fixed = (
        untouched & (_still(old, new) | {name for name in before if "/" not in name})
    ) | nobodys
    assert [c for c in comments if written[c] in fixed] == [
        comment for comment, owner in spelled.comments if owner in fixed
    ]
    for name in untouched & spelled.chunks.keys():
        assert spelled.chunks[name].strip() in result.text, "an unchanged table was touched"
    other = "\n" if spelled.eol == "\r\n" else "\r\n"
    rest = result.text.replace("\r\n", "") if other == "\n" else result.text
    assert other not in rest, "mixed line ends"


@given(_SEEDS)
@settings(max_examples=250)
def test_an_edit_changes_what_it_names_and_nothing_else(seed: int) -> None:
    """The new text means the new data; tables and comments elsewhere stay to the byte."""
    _check(seed)


@given(_SEEDS)
@examples(50)
def test_a_changed_value_changes_its_own_characters_alone(seed: int) -> None:
    """Whatever holds it: a table, a row, an inline table, an array, a dotted key."""
    rng = Random(seed)
    rig = draw_rig(rng)
    text = Speller(rng, rig).text
    choices = [
        place
        for place in places(text)
        if place.kind == "value" and place.path[-1] not in ("id", "number", "rule", "where")
    ]
    place = rng.choice(choices)
    new = copy.deepcopy(rig)
    holder: Any = new
    for step in place.path[:-1]:
        holder = holder[step]
    holder[place.path[-1]] = "unheard of" if isinstance(holder[place.path[-1]], str) else 777

    result = rewrite(text, new).text

    before, after = text[: place.start], text[place.end :]
    assert result.startswith(before)
    assert result.endswith(after)
    value = result[len(before) : len(result) - len(after)]
    assert value.strip("\"' \r\n") in ("unheard of", "777", "777.0")


@pytest.mark.long
@given(_SEEDS)
@settings(max_examples=20_000)
def test_many_edits_change_what_they_name_and_nothing_else(seed: int) -> None:
    """The same, for many more rigs."""
    _check(seed)
