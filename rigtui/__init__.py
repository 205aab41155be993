"""rigtui: plan a pedalboard built round a loop switcher, and play the set without tap-dancing."""

from __future__ import annotations

__version__ = "0.1.0"
