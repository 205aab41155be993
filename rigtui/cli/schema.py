"""`rigtui schema`: the JSON Schema of the rig file."""

from __future__ import annotations

import json
from argparse import Namespace
from pathlib import Path

from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, put
from rigtui.model.schema import SCHEMA_ID, rig_schema
from rigtui.store.atomic import SaveError
from rigtui.store.outputs import write_output


def run(arguments: Namespace) -> int:
    """Write the schema and return the exit status."""
    text = json.dumps(rig_schema(), indent=2) + "\n"
    if arguments.output in (None, "-"):
        put(text)
        return 0
    try:
        note = write_output(Path(arguments.output), text.encode(), "such a schema", _is_ours)
    except SaveError as error:
        complain(f"rigtui schema: {error}")
        return BAD_USAGE
    if note is not None:
        complain(f"{arguments.output}: written, but {note}")
    return 0


def _is_ours(head: bytes) -> bool:
    return SCHEMA_ID.encode() in head
