"""Bringing plain data of an older format up to date, one version at a time."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

Step = Callable[[Mapping[str, Any]], dict[str, Any]]

STEPS: dict[int, Step] = {}
"""From each older format the way to the next one. Format 1 is the first, so there is none yet."""


def is_older(data: Mapping[str, Any]) -> bool:
    """Whether plain data is of a format that there is a way on from."""
    version = data.get("format")
    return isinstance(version, int) and not isinstance(version, bool) and version in STEPS


def up_to_date(data: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return data of the newest format that the steps lead to; the same where none applies.

    Source: docs/rig-file.md, "Versions".
    """
    while is_older(data):
        version = data["format"]
        data = STEPS[version](data) | {"format": version + 1}
    return data
