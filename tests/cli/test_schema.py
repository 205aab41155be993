"""`rigtui schema`: a JSON Schema that accepts what the program accepts, in two validators."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from cli.conftest import Run

from rigtui.model import BadRigError, rig_from_data
from rigtui.model.rig import Rig
from rigtui.model.schema import rig_schema
from rigtui.store.demos import demo_paths
from rigtui.store.starter import starter_text

CASES = sorted((Path(__file__).parents[1] / "checks" / "cases").glob("*.toml"))
TAPLO = shutil.which("taplo", path=str(Path(sys.executable).parent))
"""A TOML language server's command line: it checks files as editors do."""

VALIDATOR = jsonschema.Draft202012Validator(rig_schema())


def plain(text: str) -> Any:
    """TOML as JSON has it: dates are text."""
    return json.loads(json.dumps(tomllib.loads(text), default=date.isoformat))


def test_the_schema_is_one() -> None:
    """By the dialect's own meta-schema (JSON Schema 2020-12)."""
    jsonschema.Draft202012Validator.check_schema(rig_schema())
    assert rig_schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_key_is_explained_and_no_other_allowed() -> None:
    """All tables, all keys: an editor shows what they mean."""
    schema = rig_schema()
    tables = [schema, *schema["$defs"].values()]
    assert len(tables) >= 17
    for table in tables:
        assert table["additionalProperties"] is False
        assert table["description"]
        for key, field in table["properties"].items():
            # A key that leads to one table is explained by that table.
            assert field.get("description") or "$ref" in field, key
    assert list(schema["properties"]) == list(Rig.model_fields)


GOOD = [path.read_text(encoding="utf-8") for path in (*demo_paths(), *CASES)] + [starter_text()]


def test_good_files_are_accepted() -> None:
    """Every demo rig, the starter and every rig of the rules' own tests."""
    assert len(GOOD) > 40
    for text in GOOD:
        VALIDATOR.validate(plain(text))


# What is wrong with the line that is put into a good rig.
NEAR_MISSES = {
    "unknown key": 'colour = "red"',
    "unknown key in a table": "[player]\npress_second = 1",
    "wrong type": "note = 3",
    "number in quotes": '[switcher]\nmemories = "8"\nbank_size = 4',
    "a fraction of a memory": "[switcher]\nmemories = 8.5\nbank_size = 4",
    "yes for true": '[switcher]\nmemories = 8\nbank_size = 4\nloop_switches = "yes"',
    "too many memories": "[switcher]\nmemories = 129\nbank_size = 4",
    "key missing": "[switcher]\nmemories = 8",
    "unknown choice": '[[pedals]]\nid = "x"\nkind = "phasor"\nside = "front"',
    "id with a capital": '[[presets]]\nid = "Lead"',
    "id too long": f'[[presets]]\nid = "{"x" * 33}"',
    "a tempo of nothing": '[[songs]]\nid = "x"\ntempo = 0',
    "a meter of fifths": '[[songs]]\nid = "x"\ntempo = 100\nmeter = "4/5"',
    "a meter of 65": '[[songs]]\nid = "x"\ntempo = 100\nmeter = "65/4"',
    "a meter that is no text": '[[songs]]\nid = "x"\ntempo = 100\nmeter = 4',
    "no bars": '[[songs]]\nid = "x"\ntempo = 1\nsections = [{ name = "A", bars = 0 }]',
    "a list that is none": '[[presets]]\nid = "x"\nloops = 1',
    "a chain of fractions": "[chain]\nfront = [1.5]",
    "channel 17": '[[midi]]\nid = "x"\nchannel = 17',
    "program 129": '[[presets]]\nid = "x"\nmidi = [{ device = "d", program = 129 }]',
    "value 128": '[[presets]]\nid = "x"\nmidi = [{ device = "d", controls = [{ number = 1, '
    "value = 128 }] }]",
    "too many pedals": "\n".join(
        f'[[pedals]]\nid = "p{at}"\nkind = "boost"\nside = "front"' for at in range(201)
    ),
}
HEAD = 'format = 1\nname = "x"\n'


@pytest.mark.parametrize("name", NEAR_MISSES)
def test_near_misses_are_not(name: str) -> None:
    """What the program refuses, the schema refuses."""
    text = HEAD + NEAR_MISSES[name]
    with pytest.raises(BadRigError):
        rig_from_data(tomllib.loads(text))
    assert not VALIDATOR.is_valid(plain(text))


@pytest.mark.skipif(TAPLO is None, reason="taplo is not installed")
def test_a_language_server_agrees(tmp_path: Path, run: Run) -> None:
    """With the comment line that docs/editor.md gives, good rigs pass and near misses do not."""
    assert TAPLO is not None
    assert run("schema", "-o", tmp_path / "rig.schema.json") == (0, "", "")
    line = "#:schema ./rig.schema.json\n"
    for at, text in enumerate(GOOD):
        (tmp_path / f"good-{at}.toml").write_text(line + text, encoding="utf-8")
    done = subprocess.run(
        [TAPLO, "lint", *sorted(str(path) for path in tmp_path.glob("good-*.toml"))],
        capture_output=True, text=True, check=False, cwd=tmp_path,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    for name, text in NEAR_MISSES.items():
        path = tmp_path / "bad.toml"
        path.write_text(line + HEAD + text, encoding="utf-8")
        done = subprocess.run(
            [TAPLO, "lint", str(path)], capture_output=True, text=True, check=False, cwd=tmp_path
        )
        assert done.returncode == 1, name


def test_it_goes_to_standard_output(run: Run) -> None:
    """As one JSON object."""
    done = run("schema")
    assert (done.status, done.err) == (0, "")
    assert json.loads(done.out) == rig_schema()


def test_it_replaces_only_its_own_kind(run: Run, tmp_path: Path) -> None:
    """An older schema is replaced, any other file is not."""
    path = tmp_path / "rig.schema.json"
    assert run("schema", "-o", path) == run("schema", "-o", path) == (0, "", "")
    path.write_text("{}")
    done = run("schema", "-o", path)
    assert done.status == 2
    assert done.err.endswith("already exists and is not such a schema: choose another name\n")
    assert path.read_text() == "{}"
