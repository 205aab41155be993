"""How many examples a property is tried on: few in every run, more when asked for.

The properties of counting and planning are drawn anew in every run, so that few examples a run
are many in a week. EXAMPLES=10 python -m pytest tests/moves tries ten times as many.
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
