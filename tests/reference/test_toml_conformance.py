"""Loading and saving held against toml-test, the published conformance suite of TOML 1.0.

The suite is not shipped here. It is run where it is found: in the folder that TOML_TEST_SUITE names
(one with `valid` and `invalid` in it), or where Debian's golang-github-burntsushi-toml-dev puts it.
"""

from __future__ import annotations

import copy
import json
import math
import os
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import pytest
from reference.test_toml_scan import put_together

from rigtui.model.errors import BadRigError
from rigtui.store.align import same
from rigtui.store.load import parse, read_plain
from rigtui.store.splice import dump, rewrite

_PLACES = (
    os.environ.get("TOML_TEST_SUITE", ""),
    "/usr/share/gocode/src/github.com/BurntSushi/toml/internal/toml-test/tests",
)
SUITE = next(
    (Path(folder) for folder in _PLACES if folder and Path(folder, "valid").is_dir()), None
)


_LEFT_OUT = {
    "empty-file.toml",  # TOML, but no rig: refused as such
    "string/escape-esc.toml",  # an escape that came with TOML 1.1
}


def _files(kind: str) -> list[Any]:
    if SUITE is None:
        return []
    files = {
        file.relative_to(SUITE / kind).as_posix(): file
        for file in sorted((SUITE / kind).rglob("*.toml"))
    }
    return [pytest.param(file, id=name) for name, file in files.items() if name not in _LEFT_OUT]


pytestmark = pytest.mark.skipif(SUITE is None, reason="the suite is not on this machine")
VALID, INVALID = _files("valid"), _files("invalid")


def untagged(value: Any) -> Any:
    """The data of the suite's JSON, whose values say their types."""
    if isinstance(value, list):
        return [untagged(item) for item in value]
    if set(value) != {"type", "value"} or not isinstance(value["type"], str):
        return {key: untagged(item) for key, item in value.items()}
    kind, text = value["type"], value["value"]
    readers: dict[str, Any] = {
        "string": str,
        "integer": int,
        "float": float,
        "bool": lambda text: text == "true",
        "datetime": datetime.fromisoformat,
        "datetime-local": datetime.fromisoformat,
        "date-local": date.fromisoformat,
        "time-local": time.fromisoformat,
    }
    return readers[kind](text)


def alike(ours: Any, theirs: Any) -> bool:
    """Whether two values are the same, NaN and the moments of other time zones included."""
    if isinstance(ours, dict) and isinstance(theirs, dict):
        return ours.keys() == theirs.keys() and all(alike(ours[key], theirs[key]) for key in ours)
    if isinstance(ours, list) and isinstance(theirs, list):
        return len(ours) == len(theirs) and all(map(alike, ours, theirs))
    if isinstance(ours, float) and isinstance(theirs, float) and math.isnan(ours):
        return math.isnan(theirs)
    return type(ours) is type(theirs) and bool(ours == theirs)


@pytest.mark.parametrize("file", VALID)
def test_what_the_suite_accepts_is_read_as_it_says(file: Path) -> None:
    """Value by value, type by type; and the scanner's places, read alone, give the same."""
    source = read_plain(file)
    wanted = untagged(json.loads(file.with_suffix(".json").read_text(encoding="utf-8")))
    assert alike(source.data, wanted)
    if "nan" not in source.text:  # which is not equal to itself
        assert same(put_together(source.text), source.data)


@pytest.mark.parametrize("file", VALID)
def test_what_the_suite_accepts_can_be_edited_in_place(file: Path) -> None:
    """Each value in turn is changed, and taken out, and one is added; the rest is as before."""
    source = read_plain(file)
    if "nan" in source.text:
        pytest.skip("NaN is not equal to itself, and no rig holds it")
    assert rewrite(source.text, source.data).text == source.text
    assert same(parse(dump(source.data)), source.data)
    edited = [copy.deepcopy(source.data) | {"added": {"a key": [1, "x"]}}]
    for path in _paths(source.data):
        for new in ("changed", None):
            data = copy.deepcopy(source.data)
            holder: Any = data
            for step in path[:-1]:
                holder = holder[step]
            if new is None:
                del holder[path[-1]]
            else:
                holder[path[-1]] = new
            edited.append(data)
    for data in edited:
        result = rewrite(source.text, data)
        assert same(parse(result.text), data)
        assert result.rewritten == ()


def _paths(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    steps = value.items() if isinstance(value, dict) else enumerate(value)
    paths = []
    for step, inner in steps:
        paths.append((*path, step))
        if isinstance(inner, dict | list):
            paths += _paths(inner, (*path, step))
    return paths


@pytest.mark.parametrize("file", INVALID)
def test_what_the_suite_refuses_is_refused(file: Path) -> None:
    """With a message that says that it is no TOML, or no text."""
    with pytest.raises(BadRigError, match=r"is not (TOML|UTF-8)|is empty"):
        read_plain(file)
