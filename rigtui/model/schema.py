"""The JSON Schema of the rig file, made of the models, for text editors."""

from __future__ import annotations

from typing import Any

from rigtui.model.limits import LIMITS, MAX_SECTIONS
from rigtui.model.rig import FORMAT, Rig

SCHEMA_ID = f"urn:rigtui:rig-file:{FORMAT}"
_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def rig_schema() -> dict[str, Any]:
    """Return the schema of a rig file, as plain data.

    It says all that one value can tell of itself: keys, types, ranges, choices. That an id stands
    once and that a name names something is for `rigtui report`.

    Source: JSON Schema, draft 2020-12.
    """
    made = Rig.model_json_schema(mode="validation")
    schema = {
        "$schema": _DIALECT,
        "$id": SCHEMA_ID,
        "title": "Rig file",
        **{key: value for key, value in made.items() if key != "title"},
    }
    _plain(schema)
    for table, most in LIMITS.items():
        schema["properties"][table]["maxItems"] = most
    schema["$defs"]["Song"]["properties"]["sections"]["maxItems"] = MAX_SECTIONS
    return schema


def _plain(schema: dict[str, Any]) -> None:
    """Take out the titles and defaults that only repeat a key's name or say "empty"."""
    for table in (schema, *schema.get("$defs", {}).values()):
        for field in table.get("properties", {}).values():
            field.pop("title", None)
            default = field.get("default")
            if isinstance(default, dict | list) or default in ("", None):
                field.pop("default", None)
            _without_null(field)


def _without_null(field: dict[str, Any]) -> None:
    """TOML has no null: a key that may be left out is of its one other type."""
    options = [option for option in field.get("anyOf", ()) if option != {"type": "null"}]
    if len(options) == 1:
        del field["anyOf"]
        field.update({key: value for key, value in options[0].items() if key not in field})
