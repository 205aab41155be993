"""The plan: what may change, the search, and what comes of it."""
