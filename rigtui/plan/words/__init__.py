"""What planners found, in the player's words: the one place where their sentences are made."""
