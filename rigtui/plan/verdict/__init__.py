"""What a plan comes to: what it changes, for whom, and whether it is worth it."""
