"""Presets: the fewest recalls with the loops at hand, and how few presets will do."""
