"""`rigtui schema`: the JSON Schema of the rig file."""

from __future__ import annotations

import json
from argparse import Namespace

from rigtui.cli.outputs import put_or_write
from rigtui.model.schema import SCHEMA_ID, rig_schema


def run(arguments: Namespace) -> int:
    """Write the schema and return the exit status."""
    text = json.dumps(rig_schema(), indent=2) + "\n"
    return put_or_write(text, arguments.output, "such a schema", _is_ours, "rigtui schema")


def _is_ours(head: bytes) -> bool:
    return SCHEMA_ID.encode() in head
