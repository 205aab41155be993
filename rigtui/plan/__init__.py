"""Planning: the fewest moves, and what can be proved of them."""
