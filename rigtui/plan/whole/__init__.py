"""The planners that change the board: loops alone, and everything together."""
