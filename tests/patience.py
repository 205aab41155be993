"""How long tests wait for what must come; on the busiest machine only what hangs takes longer."""

from __future__ import annotations

PATIENCE_SECONDS = 300.0
