"""Channels as numbers, those of presets that are kept apart from all others."""

from __future__ import annotations

ANY_CHANNEL = -1
KEPT = 1 << 16
"""Channels from here on are of one preset that is kept, and of the sections that stay on it: so
many times one more than its place among those kept, plus the channel."""


def named(channel: int) -> int:
    """The channel that a sound names, whether or not its preset is kept; or `ANY_CHANNEL`."""
    return channel if channel == ANY_CHANNEL else channel % KEPT
