"""The tables of the rig file with all their keys, written out of the models for the docs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from rigtui.model.base import RigTable
from rigtui.model.layout import Bench, Hole, JackSpot, PatchLead, Place, PlugKind, Reel
from rigtui.model.midi import MidiControl, MidiDevice, MidiSend
from rigtui.model.rig import (
    Amp,
    Chain,
    Loop,
    Pedal,
    Player,
    Preset,
    Printed,
    Rig,
    Section,
    Set,
    Setlist,
    Song,
    Switcher,
    Waiver,
    Wanted,
)
from rigtui.model.text import number_text

TABLES: tuple[tuple[str, type[RigTable]], ...] = (
    ("The top of the file", Rig),
    ("`[amp]`", Amp),
    ("`[switcher]`", Switcher),
    ("`[[pedals]]`", Pedal),
    ("`[[loops]]`", Loop),
    ("`[chain]`", Chain),
    ("`[[presets]]`", Preset),
    ("`midi` of a preset", MidiSend),
    ("`controls` of a preset's `midi`", MidiControl),
    ("`[[songs]]`", Song),
    ("`sections` of a song", Section),
    ("`wanted` of a section", Wanted),
    ("`[[setlists]]`", Setlist),
    ("`sets` of a setlist", Set),
    ("`[player]`", Player),
    ("`[[waivers]]`", Waiver),
    ("`[[midi]]`", MidiDevice),
    ("`[[printed]]`", Printed),
    ("`[bench]`", Bench),
    ("`[[places]]`", Place),
    ("`jacks` of a place", JackSpot),
    ("`[[holes]]`", Hole),
    ("`[[plugs]]`", PlugKind),
    ("`[[reels]]`", Reel),
    ("`[[patch_leads]]`", PatchLead),
)


def keys_markdown() -> str:
    """Return a section for each table: its keys, what they take, and what holds if left out."""
    return "\n".join(line for title, table in TABLES for line in _section(title, table))


def _section(title: str, table: type[RigTable]) -> Iterator[str]:
    yield f"### {title}"
    yield ""
    yield "| key | takes | if left out | what it is |"
    yield "| --- | --- | --- | --- |"
    properties = table.model_json_schema()["properties"]
    for key, field in table.model_fields.items():
        takes = _takes(properties[key])
        yield f"| `{key}` | {takes} | {_left_out(field)} | {field.description} |"
    yield ""


def _left_out(field: FieldInfo) -> str:
    if field.is_required():
        return "**needed**"
    default = field.get_default()
    if default is PydanticUndefined or default is None or default in ("", ()):
        return ""
    if isinstance(default, bool):
        return "`true`" if default else "`false`"
    if isinstance(default, int | float):
        return f"`{number_text(default)}`"
    return f'`"{default}"`' if isinstance(default, str) else ""


def _takes(schema: dict[str, Any]) -> str:
    options = [option for option in schema.get("anyOf", [schema]) if option.get("type") != "null"]
    return " or ".join(dict.fromkeys(_words(option) for option in options))


def _words(schema: dict[str, Any]) -> str:
    if "$ref" in schema or "allOf" in schema:
        return "a table"
    if "enum" in schema:
        return ", ".join(
            f'`"{value}"`' if isinstance(value, str) else f"`{value}`" for value in schema["enum"]
        )
    kind = schema.get("type")
    if kind == "array":
        inner = schema.get("items", {})
        return "a list of tables" if "$ref" in inner else f"a list: {_words(inner)} each"
    if kind in ("integer", "number"):
        return ("whole number" if kind == "integer" else "number") + _bounds(schema)
    if kind == "boolean":
        return "`true` or `false`"
    if schema.get("format") == "date":
        return "a date"
    if "pattern" in schema and schema.get("maxLength") == 32:
        return "an id"
    if "anyOf" in schema:
        return " or ".join(_words(option) for option in schema["anyOf"])
    return "text"


def _bounds(schema: dict[str, Any]) -> str:
    low, high = schema.get("minimum"), schema.get("maximum")
    over, under = schema.get("exclusiveMinimum"), schema.get("exclusiveMaximum")
    parts = []
    if low is not None and low == high:
        return f" {number_text(low)}"
    if low is not None and high is not None:
        return f" {number_text(low)} to {number_text(high)}"
    if low is not None:
        parts.append(f"{number_text(low)} or more")
    if over is not None:
        parts.append(f"over {number_text(over)}")
    if under is not None:
        parts.append(f"under {number_text(under)}")
    if high is not None:
        parts.append(f"up to {number_text(high)}")
    return " " + ", ".join(parts) if parts else ""


if __name__ == "__main__":
    print(keys_markdown())
