"""How many examples a property is tried on: few and always the same, more and others when asked.

What a run comes to depends on the change it tests and not on what it happens to draw. Whoever looks
for faults says how many times as many examples to draw, and each such run draws others, as the
long versions do: EXAMPLES=10 python -m pytest tests/moves.
"""

from __future__ import annotations

import os
from typing import Any

from hypothesis import HealthCheck, settings

TIMES = float(os.environ.get("EXAMPLES", "1"))


def examples(few: int, **more: Any) -> settings:
    """The settings of a property that is tried on so many examples in a common run."""
    return settings(
        max_examples=max(1, round(few * TIMES)),
        deadline=None,
        suppress_health_check=list(HealthCheck),
        **more,
    )
